using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Power;

namespace Leadwright.Core.Tests.Power;

/// <summary>IEEE Std 1459-2010: the example of annex B and four three-phase sets, tests/vectors/power (sources in the README there).</summary>
public sealed class PowerExamplesTests
{
    private static readonly List<IReadOnlyDictionary<string, string>> s_rows = [.. RepositoryFile.Table("vectors/power/ieee1459_examples.csv")];

    [Fact]
    public void Single_phase_example_of_annex_b_comes_out()
    {
        var v = Harmonics("annexB", "V", "1");
        var i = Harmonics("annexB", "I", "1");
        var power = SinglePhasePower.Of(v[1], i[1], Rms(v), Rms(i), Active(v, i));
        var found = new Dictionary<string, double>
        {
            ["V"] = power.VoltageRms, ["I"] = power.CurrentRms, ["VH"] = power.HarmonicVoltage, ["IH"] = power.HarmonicCurrent,
            ["P1"] = power.FundamentalActive, ["P"] = power.Active, ["PH"] = power.HarmonicActive, ["Q1"] = power.FundamentalReactive,
            ["S"] = power.Apparent, ["S1"] = power.FundamentalApparent, ["SN"] = power.NonfundamentalApparent,
            ["DI"] = power.CurrentDistortionPower, ["DV"] = power.VoltageDistortionPower, ["SH"] = power.HarmonicApparent,
            ["DH"] = power.HarmonicDistortionPower, ["N"] = power.Nonactive, ["PF"] = power.PowerFactor, ["PF1"] = power.DisplacementPowerFactor,
            ["THDV"] = 100 * power.VoltageDistortion, ["THDI"] = 100 * power.CurrentDistortion,
        };
        // P3, P5, P7 and Budeanu's sum are inputs of the check, not quantities of the standard that we report.
        Hold("annexB", found, ["P3", "P5", "P7", "sumQh"]);
        Assert.Equal(Result("annexB", "P3"), (v[3] * i[3].Conjugate).Real, 1e-5);
    }

    [Theory]
    [InlineData("S1", true)]
    [InlineData("S2", true)]
    [InlineData("S3", false)]
    [InlineData("S4", true)]
    public void Three_phase_sets_come_out(string example, bool hasNeutral)
    {
        string[] phases = ["A", "B", "C"];
        var v = phases.Select(phase => Harmonics(example, "V", phase)).ToArray();
        var i = phases.Select(phase => Harmonics(example, "I", phase)).ToArray();
        var orders = v[0].Keys.Union(i[0].Keys).ToList();
        var power = ThreePhasePower.Of(new LineQuantities
        {
            Voltages = new ThreePhasors(v[0][1], v[1][1], v[2][1]),
            Currents = new ThreePhasors(i[0][1], i[1][1], i[2][1]),
            VoltageSquares = v.Sum(line => Math.Pow(Rms(line), 2)),
            LineToLineSquares = orders.Sum(order => (At(v[0], order) - At(v[1], order)).SquaredMagnitude
                + (At(v[1], order) - At(v[2], order)).SquaredMagnitude + (At(v[2], order) - At(v[0], order)).SquaredMagnitude),
            CurrentSquares = i.Sum(line => Math.Pow(Rms(line), 2)),
            NeutralSquare = hasNeutral ? orders.Sum(order => (At(i[0], order) + At(i[1], order) + At(i[2], order)).SquaredMagnitude) : 0,
            Neutral = hasNeutral ? i[0][1] + i[1][1] + i[2][1] : Phasor.Zero,
            Active = v.Zip(i).Sum(line => Active(line.First, line.Second)),
            ArithmeticApparent = v.Zip(i).Sum(line => Rms(line.First) * Rms(line.Second)),
            HasNeutral = hasNeutral,
        });
        var found = new Dictionary<string, double>
        {
            ["Ve"] = power.EffectiveVoltage, ["Ie"] = power.EffectiveCurrent, ["Ve1"] = power.FundamentalEffectiveVoltage,
            ["Ie1"] = power.FundamentalEffectiveCurrent, ["VeH"] = power.HarmonicVoltage, ["IeH"] = power.HarmonicCurrent, ["P"] = power.Active,
            ["P1"] = power.FundamentalActive, ["PH"] = power.HarmonicActive, ["Se"] = power.Apparent, ["Se1"] = power.FundamentalApparent,
            ["SeN"] = power.NonfundamentalApparent, ["DeI"] = power.CurrentDistortionPower, ["DeV"] = power.VoltageDistortionPower,
            ["SeH"] = power.HarmonicApparent, ["DeH"] = power.HarmonicDistortionPower, ["N"] = power.Nonactive, ["S1plus"] = power.PositiveApparent,
            ["P1plus"] = power.PositiveActive, ["Q1plus"] = power.PositiveReactive, ["PF1plus"] = power.DisplacementPowerFactor,
            ["SU1"] = power.UnbalancedPower, ["PFe"] = power.PowerFactor, ["THDeV"] = power.VoltageDistortion, ["THDeI"] = power.CurrentDistortion,
            ["SA"] = power.ArithmeticApparent, ["SV1"] = power.FundamentalVectorApparent, ["Q1sum"] = power.FundamentalReactive,
        };
        // Per phase and neutral values are those of the single-phase quantities and of the inputs.
        Hold(example, found, ["SA1", "In", "Pa", "Pb", "Pc", "Q1a", "Q1b", "Q1c"]);
    }

    [Fact]
    public void Loss_factors_are_those_of_the_examples()
    {
        var rows = RepositoryFile.Table("vectors/power/k_factor_examples.csv");
        foreach (var (example, eddy, stray) in new[] { ("E1", "result K = F_HL", ""), ("E2", "result F_HL", "result F_HL_STR") })
        {
            var squares = new double[25];
            foreach (var row in rows.Where(row => row["example"] == example && char.IsAsciiDigit(row["order"][0])))
                squares[int.Parse(row["order"], CultureInfo.InvariantCulture) - 1] = Math.Pow(row.Number("current_pu"), 2);
            // Printed to six decimals.
            Assert.Equal(rows.Single(row => row["example"] == example && row["order"] == eddy).Number("current_pu"), HarmonicLoss.EddyFactor(squares), 2e-6);
            if (stray.Length > 0)
                Assert.Equal(rows.Single(row => row["example"] == example && row["order"] == stray).Number("current_pu"), HarmonicLoss.StrayFactor(squares), 2e-6);
        }
    }

    // To the last printed digit, six decimals at most: a millionth relative, or a hundred-thousandth absolute near zero.
    private static void Hold(string example, Dictionary<string, double> found, string[] notReported)
    {
        var rows = s_rows.Where(row => row["example"] == example && row["kind"] == "result").ToList();
        Assert.NotEmpty(rows);
        foreach (var row in rows.Where(row => !notReported.Contains(row["quantity"], StringComparer.Ordinal)))
        {
            var expected = row.Number("value");
            // A difference of equal sizes is the root of a rounding error.
            var tolerance = expected == 0 ? 1e-2 : Math.Max(1e-6 * Math.Abs(expected), 1e-6);
            Assert.True(Math.Abs(found[row["quantity"]] - expected) <= tolerance, $"{example} {row["quantity"]}: {found[row["quantity"]]}, expected {expected}");
        }
    }

    private static double Result(string example, string quantity) =>
        s_rows.Single(row => row["example"] == example && row["kind"] == "result" && row["quantity"] == quantity).Number("value");

    private static Dictionary<int, Phasor> Harmonics(string example, string quantity, string phase) => s_rows
        .Where(row => row["example"] == example && row["kind"] == "input" && row["quantity"] == quantity && row["phase"] == phase)
        .ToDictionary(row => int.Parse(row["order"], CultureInfo.InvariantCulture), row => Phasor.FromDegrees(row.Number("value"), row.Number("angle_deg")));

    private static Phasor At(Dictionary<int, Phasor> harmonics, int order) => harmonics.GetValueOrDefault(order);

    private static double Rms(Dictionary<int, Phasor> harmonics) => Math.Sqrt(harmonics.Values.Sum(value => value.SquaredMagnitude));

    private static double Active(Dictionary<int, Phasor> v, Dictionary<int, Phasor> i) =>
        v.Keys.Intersect(i.Keys).Sum(order => (v[order] * i[order].Conjugate).Real);
}
