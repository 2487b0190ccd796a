using FsCheck.Xunit;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Tests.Circuits;

public sealed class SequenceComponentsTests
{
    // The printed digits: four decimals of size, three of angle.
    private const double SizeTolerance = 6e-5;
    private const double AngleTolerance = 1e-3;

    public static TheoryData<string> Sets => [.. Rows.Select(row => row["set"])];

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Rows =>
        RepositoryFile.Table("vectors/sequence/sequence_examples.csv");

    [Theory]
    [MemberData(nameof(Sets))]
    public void Components_match_the_textbook_sets(string set)
    {
        var row = Rows.Single(candidate => candidate["set"] == set);

        var components = SequenceComponents.Of(Input(row, "A"), Input(row, "B"), Input(row, "C"));

        AssertPhasor(row, "zero", components.Zero);
        AssertPhasor(row, "positive", components.Positive);
        AssertPhasor(row, "negative", components.Negative);
    }

    [Theory]
    [InlineData("T1", 31.437, 63.546)]
    [InlineData("T2", 7.788, 29.493)]
    [InlineData("T3", 6.7888, 9.9302)]
    [InlineData("P", 0.5528, 1.7152)]
    [InlineData("T4", 100, 0)]
    [InlineData("T5", 100, 100)]
    public void Ratios_match_the_derived_percentages(string set, double negativePercent, double zeroPercent)
    {
        var row = Rows.Single(candidate => candidate["set"] == set);
        var components = SequenceComponents.Of(Input(row, "A"), Input(row, "B"), Input(row, "C"));
        Assert.Equal(negativePercent, 100 * components.NegativeRatio, 6e-4);
        Assert.Equal(zeroPercent, 100 * components.ZeroRatio, 6e-4);
    }

    [Property]
    public bool Components_give_back_the_phasors(short ar, short ai, short br, short bi, short cr, short ci)
    {
        var (a, b, c) = (new Phasor(ar, ai), new Phasor(br, bi), new Phasor(cr, ci));
        var back = SequenceComponents.Of(a, b, c).ToPhasors();
        var error = Math.Max((back.A - a).Magnitude, Math.Max((back.B - b).Magnitude, (back.C - c).Magnitude));
        return error < 1e-10;
    }

    [Property]
    public bool The_other_rotation_exchanges_positive_and_negative(short ar, short ai, short br, short bi, short cr, short ci)
    {
        var (a, b, c) = (new Phasor(ar, ai), new Phasor(br, bi), new Phasor(cr, ci));
        var one = SequenceComponents.Of(a, b, c);
        var other = SequenceComponents.Of(a, c, b);
        return (one.Positive - other.Negative).Magnitude < 1e-10 && (one.Negative - other.Positive).Magnitude < 1e-10;
    }

    [Fact]
    public void A_missing_phasor_makes_every_component_unknown()
    {
        var components = SequenceComponents.Of(new Phasor(1, 0), new Phasor(double.NaN, 0), new Phasor(0, 1));
        Assert.True(double.IsNaN(components.Zero.Magnitude));
        Assert.True(double.IsNaN(components.Positive.Magnitude));
        Assert.True(double.IsNaN(components.Negative.Magnitude));
    }

    [Fact]
    public void Ratios_of_nothing_are_unknown() =>
        Assert.True(double.IsNaN(SequenceComponents.Of(default, default, default).NegativeRatio));

    private static Phasor Input(IReadOnlyDictionary<string, string> row, string phase) =>
        Phasor.FromDegrees(row.Number(phase + "_mag"), row.Number(phase + "_deg"));

    private static void AssertPhasor(IReadOnlyDictionary<string, string> row, string name, Phasor actual)
    {
        Assert.Equal(row.Number(name + "_mag"), actual.Magnitude, SizeTolerance);
        // A zero phasor has no angle.
        if (row.Number(name + "_mag") > 0)
            Assert.Equal(0, Angle.WrapDegrees(actual.AngleDegrees - row.Number(name + "_deg")), AngleTolerance);
    }
}
