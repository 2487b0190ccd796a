using System.Globalization;
using System.Text.RegularExpressions;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>The tables of docs/methods/hook-up-evidence.md say what the code does.</summary>
public class EvidencePageTests
{
    private static readonly string[] s_lines =
        File.ReadAllLines(RepositoryFile.Path("../docs/methods/hook-up-evidence.md"));

    [Fact]
    public void Every_rate_stands_in_the_table_with_its_value()
    {
        var slips = new SlipRates();
        var rates = typeof(SlipRates).GetProperties().Where(property => property.PropertyType == typeof(double))
            .Select(property => $"{property.Name} {Number((double)property.GetValue(slips)!)}");
        Assert.Equal(rates.Order(), RowsUnder("rate").Select(cells => $"{cells[0].Trim('`')} {cells[1]}").Order());
    }

    [Fact]
    public void Load_mixtures_are_those_of_the_code()
    {
        var rows = Enum.GetValues<LoadKind>().SelectMany(kind =>
        {
            var prior = LoadPrior.For(kind, mayExport: false);
            return prior.Components
                .Select(part => string.Join(' ', kind, Number(part.Weight), Number(part.MeanDegrees), Number(part.DeviationDegrees),
                    Number(part.Alike), Number(part.Uneven)))
                .Append($"{kind} {Number(prior.Anything)} any")
                .Append($"{kind} {Number(prior.Independent)} each phase its own");
        });
        Assert.Equal(rows.Order(), RowsUnder("load").Select(cells => string.Join(' ', cells).Trim()).Order());
    }

    [Fact]
    public void Levels_are_those_of_the_code()
    {
        var rows = RowsUnder("level");
        for (var level = 0; level < DisplacementGrid.Independent; level++)
            Assert.Equal(DisplacementGrid.AngleSpread[level] * 180 / Math.PI, double.Parse(rows[level][1].TrimEnd('°'), CultureInfo.InvariantCulture), 1e-9);
        for (var level = 0; level < DisplacementGrid.Levels; level++)
            Assert.Equal(DisplacementGrid.SizeSpread[level], double.Parse(rows[level][2], CultureInfo.InvariantCulture), 1e-9);
    }

    [Theory]
    [InlineData(nameof(HookupCheck.CorrectFrom), HookupCheck.CorrectFrom)]
    [InlineData(nameof(HookupCheck.FaultyUpTo), HookupCheck.FaultyUpTo)]
    [InlineData(nameof(HookupCheck.NamedFrom), HookupCheck.NamedFrom)]
    [InlineData(nameof(HookupCheck.FaultyForSureUpTo), HookupCheck.FaultyForSureUpTo)]
    public void Thresholds_are_those_of_the_code(string name, double value)
    {
        var stated = Regex.Match(string.Join('\n', s_lines), $@"`{name}` = ([0-9.]*[0-9])");
        Assert.Equal(value, double.Parse(stated.Groups[1].Value, CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("Neutral lead")]
    [InlineData("Currents")]
    [InlineData("What can't be told apart")]
    public void Sections_that_the_code_refers_to_are_there(string heading) => Assert.Contains($"## {heading}", s_lines);

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>Cells of the table whose first heading this is.</summary>
    private static List<string[]> RowsUnder(string heading)
    {
        var start = Array.FindIndex(s_lines, line => line.StartsWith($"| {heading} |", StringComparison.Ordinal));
        Assert.True(start >= 0, $"No table begins with '{heading}'.");
        return [.. s_lines.Skip(start + 2).TakeWhile(line => line.StartsWith('|'))
            .Select(line => line.Trim('|').Split('|').Select(cell => cell.Trim()).ToArray())];
    }
}
