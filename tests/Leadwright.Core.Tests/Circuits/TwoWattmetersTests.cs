using FsCheck.Xunit;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Tests.Circuits;

public sealed class TwoWattmetersTests
{
    public static TheoryData<int> RowNumbers => [.. Enumerable.Range(0, Rows.Count)];

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Rows =>
        RepositoryFile.Table("vectors/sequence/two_wattmeter_examples.csv");

    [Theory]
    [MemberData(nameof(RowNumbers))]
    public void Power_from_two_readings_matches_every_example(int index)
    {
        var row = Rows[index];
        var result = TwoWattmeters.FromReadings(row.Number("W_higher"), row.Number("W_lower"));
        // Readings are printed to a milliwatt; √3 times that in Q.
        Assert.Equal(row.Number("P_W"), result.Watts, 2e-3);
        Assert.Equal(row.Number("Q_var"), result.Vars, 2e-3);
        Assert.Equal(row.Number("pf_lagging"), result.PowerFactor, 1e-6);
    }

    [Theory]
    [MemberData(nameof(RowNumbers))]
    public void Readings_of_a_balanced_load_match_every_example_that_states_one(int index)
    {
        var row = Rows[index];
        if (row["V_line"].Length == 0) return;
        var lag = Math.Acos(row.Number("pf_lagging")) * (180 / Math.PI);
        var pair = TwoWattmeters.ReadingsOf(row.Number("V_line"), row.Number("I_line_A"), lag);
        // Power factor is printed to nine digits: 24 kVA times 1e-9 over the sine of its angle.
        Assert.Equal(row.Number("W_higher"), pair.HigherOnLag, 1e-3);
        Assert.Equal(row.Number("W_lower"), pair.LowerOnLag, 1e-3);
    }

    [Theory]
    [InlineData(250e3, -50e3, 68.948)]
    [InlineData(12.5e3, -4.8e3, 75.589)]
    [InlineData(1000, 1000, 0)]
    [InlineData(1000, -1000, 90)]
    [InlineData(500, 0, 60)]
    [InlineData(0, 500, -60)]
    public void Angle_from_two_readings_matches_the_textbook(double higher, double lower, double lag) =>
        Assert.Equal(lag, TwoWattmeters.FromReadings(higher, lower).LagDegrees, 6e-4);

    [Property]
    public bool The_two_directions_agree(byte volts, byte amperes, sbyte lag)
    {
        var pair = TwoWattmeters.ReadingsOf(1 + volts, 1 + amperes, lag);
        var result = TwoWattmeters.FromReadings(pair.HigherOnLag, pair.LowerOnLag);
        return Math.Abs(result.LagDegrees - lag) < 1e-9
            && Math.Abs(result.VoltAmperes / (Math.Sqrt(3) * (1 + volts) * (1 + amperes)) - 1) < 1e-12;
    }

    [Fact]
    public void The_sum_is_the_power_of_an_unbalanced_load_but_the_difference_is_not_its_reactive_power()
    {
        // Balanced 480 V lines, IA = 30 A at −20°, IB = 45 A at −160°, IC = −(IA + IB): worked from the phasors, not from a book.
        var volts = 480 / Math.Sqrt(3);
        Phasor[] voltage = [.. new[] { 0.0, -120, 120 }.Select(angle => Phasor.FromDegrees(volts, angle))];
        var (currentA, currentB) = (Phasor.FromDegrees(30, -20), Phasor.FromDegrees(45, -160));
        Phasor[] current = [currentA, currentB, -(currentA + currentB)];
        var meterA = ((voltage[0] - voltage[1]) * current[0].Conjugate).Real;
        var meterC = ((voltage[2] - voltage[1]) * current[2].Conjugate).Real;
        var truth = voltage.Zip(current, (v, i) => v * i.Conjugate).Aggregate((sum, next) => sum + next);

        var result = TwoWattmeters.FromReadings(meterC, meterA);

        Assert.Equal(21568.867, result.Watts, 1e-3);
        Assert.Equal(truth.Real, result.Watts, 1e-9);
        Assert.Equal(17796.827, truth.Imaginary, 1e-3);
        Assert.Equal(5294.158, result.Vars, 2e-3);
    }
}
