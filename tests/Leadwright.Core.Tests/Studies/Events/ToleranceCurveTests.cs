using System.Globalization;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Core.Tests.Studies.Events;

public sealed class ToleranceCurveTests
{
    [Fact]
    public void The_steps_are_those_of_the_table()
    {
        var rows = RepositoryFile.Table("data/limits/tolerance_curves.csv");
        Assert.Equal(Steps(rows, "ITI 2000", "upper"), ToleranceCurve.Iti.Upper);
        Assert.Equal(Steps(rows, "ITI 2000", "lower"), ToleranceCurve.Iti.Lower);
        Assert.Equal(Steps(rows, "SEMI F47-0706", "lower required"), ToleranceCurve.SemiF47.Lower);
    }

    [Theory]
    [InlineData(0.01, 0, ToleranceRegion.Within)]
    [InlineData(0.02, 0, ToleranceRegion.Within)]
    [InlineData(0.021, 69, ToleranceRegion.Below)]
    [InlineData(0.3, 71, ToleranceRegion.Within)]
    [InlineData(5, 79, ToleranceRegion.Below)]
    [InlineData(30, 89, ToleranceRegion.Below)]
    [InlineData(0.1, 121, ToleranceRegion.Above)]
    [InlineData(1, 111, ToleranceRegion.Above)]
    [InlineData(0.0005, 250, ToleranceRegion.Within)]
    [InlineData(0.0005, 350, ToleranceRegion.Above)]
    public void Iti_regions_follow_the_steps(double seconds, double percent, ToleranceRegion region) =>
        Assert.Equal(region, ToleranceCurve.Iti.Of(seconds, percent));

    [Theory]
    [InlineData(0.2, 50, ToleranceRegion.Within)]
    [InlineData(0.2, 49, ToleranceRegion.Below)]
    [InlineData(0.5, 69, ToleranceRegion.Below)]
    [InlineData(1, 80, ToleranceRegion.Within)]
    [InlineData(2, 10, ToleranceRegion.NotCovered)]
    [InlineData(0.04, 0, ToleranceRegion.NotCovered)]
    public void Semi_f47_asks_only_where_it_covers(double seconds, double percent, ToleranceRegion region) =>
        Assert.Equal(region, ToleranceCurve.SemiF47.Of(seconds, percent));

    private static IEnumerable<ToleranceStep> Steps(IEnumerable<IReadOnlyDictionary<string, string>> rows, string curve, string side) => rows
        .Where(row => row["curve"] == curve && row["side"] == side)
        .Select(row => new ToleranceStep(
            row.Number("from_s"), row["to_s"].Length > 0 ? double.Parse(row["to_s"], CultureInfo.InvariantCulture) : double.PositiveInfinity,
            row.Number("limit_percent_of_nominal_start"), row.Number("limit_percent_of_nominal_end")));
}
