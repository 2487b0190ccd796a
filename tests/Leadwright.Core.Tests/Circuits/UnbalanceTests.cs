using FsCheck.Xunit;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Tests.Circuits;

public sealed class UnbalanceTests
{
    public static TheoryData<int> RowNumbers => [.. Enumerable.Range(0, Rows.Count)];

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Rows =>
        RepositoryFile.Table("vectors/sequence/unbalance_examples.csv");

    [Theory]
    [MemberData(nameof(RowNumbers))]
    public void U2_from_line_voltages_matches_every_example(int index)
    {
        var row = Rows[index];
        var u2 = Unbalance.NegativeRatioFromLineToLine(row.Number("V_AB"), row.Number("V_BC"), row.Number("V_CA"));
        Assert.Equal(row.Number("u2_percent"), 100 * u2, 6e-5);
    }

    [Theory]
    [MemberData(nameof(RowNumbers))]
    public void Maximum_deviation_matches_every_example(int index)
    {
        var row = Rows[index];
        var rate = Unbalance.MaximumDeviation(row.Number("V_AB"), row.Number("V_BC"), row.Number("V_CA"));
        Assert.Equal(row.Number("nema_percent"), 100 * rate, 6e-5);
    }

    [Property]
    public bool U2_from_sizes_equals_u2_from_phasors(byte b, byte c, sbyte bTurn, sbyte cTurn)
    {
        // Voltages within half of each other and 15 degrees of their place: positive sequence always dominates.
        var phasorA = Phasor.FromDegrees(230, 0);
        var phasorB = Phasor.FromDegrees(150 + (b / 2.0), -120 + (bTurn / 9.0));
        var phasorC = Phasor.FromDegrees(150 + (c / 2.0), 120 + (cTurn / 9.0));
        var expected = SequenceComponents.Of(phasorA, phasorB, phasorC).NegativeRatio;
        var actual = Unbalance.NegativeRatioFromLineToLine(
            (phasorA - phasorB).Magnitude, (phasorB - phasorC).Magnitude, (phasorC - phasorA).Magnitude);
        return Math.Abs(expected - actual) < 1e-6;
    }

    [Theory]
    [InlineData(230.94010767585033)]
    [InlineData(0.1)]
    [InlineData(123456.789)]
    public void Balanced_lines_are_balanced_whatever_rounding_does(double volts) =>
        Assert.InRange(Unbalance.NegativeRatioFromLineToLine(volts, volts, volts), 0, 1e-7);

    [Fact]
    public void One_dead_line_to_line_voltage_is_unbalance_one() =>
        Assert.Equal(1, Unbalance.NegativeRatioFromLineToLine(400, 400, 0), 1e-9);

    [Fact]
    public void Voltages_that_close_no_triangle_are_refused_as_unknown() =>
        Assert.True(double.IsNaN(Unbalance.NegativeRatioFromLineToLine(400, 400, 900)));

    [Fact]
    public void A_missing_voltage_makes_the_rate_unknown()
    {
        Assert.True(double.IsNaN(Unbalance.NegativeRatioFromLineToLine(400, double.NaN, 400)));
        Assert.True(double.IsNaN(Unbalance.MaximumDeviation(400, double.NaN, 400)));
    }

    [Fact]
    public void A_negative_voltage_is_an_error()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => Unbalance.MaximumDeviation(400, -1, 400));
        Assert.Equal("second", error.ParamName);
    }
}
