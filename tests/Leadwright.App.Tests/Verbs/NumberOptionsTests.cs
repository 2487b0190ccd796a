namespace Leadwright.App.Tests.Verbs;

/// <summary>Numbers on the command line are numbers or are refused with what to write; none is taken for another.</summary>
public sealed class NumberOptionsTests
{
    [Theory]
    [InlineData("--kw: '60,5' has a comma. Write numbers with a point as decimal mark", "plan", "--service", "wye", "--nominal", "230/400", "--kw", "60,5")]
    [InlineData("--kw: '1,000' has a comma.", "plan", "--service", "wye", "--nominal", "230/400", "--kw", "1,000")]
    [InlineData("--kw: '60kW' is no number. Write it without its unit: 60.", "plan", "--service", "wye", "--nominal", "230/400", "--kw", "60kW")]
    [InlineData("--rating: '100A' is no number. Write it without its unit: 100.", "study", "week.csv", "--rating", "100A")]
    [InlineData("--rating: 'NaN' is no number.", "study", "week.csv", "--rating", "NaN")]
    [InlineData("--dip: 'ninety' is no number.", "measure", "week.cfg", "--dip", "ninety")]
    [InlineData("--port: 'abc' is no whole number.", "serve", "--port", "abc")]
    [InlineData("--port: 'abc' is no whole number.", "--port", "abc")]
    [InlineData("--level: '2.5' is no whole number.", "practice", "--level", "2.5")]
    [InlineData("--pf: a power factor is 1 at most.", "study", "week.csv", "--pf", "1.2")]
    public async Task What_is_no_number_is_refused_once_with_what_to_write(string says, params string[] words)
    {
        var run = new CommandRun();
        Assert.Equal(2, await run.RunAsync(words));
        Assert.Equal("", run.Output);
        var lines = run.Error.TrimEnd('\n').Split('\n');
        Assert.Equal(2, lines.Length);
        Assert.StartsWith(says, lines[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_help_that_is_named_is_that_of_the_part_of_the_verb()
    {
        var run = new CommandRun();
        Assert.Equal(2, await run.RunAsync("survey", "words", "board-7", "--set", "custmer=Bakery"));
        Assert.EndsWith("See: leadwright survey words --help\n", run.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("62,5", true)]
    [InlineData("62.5", true)]
    [InlineData("1,000", false)]
    [InlineData("100A", false)]
    public async Task A_rating_that_a_survey_keeps_is_what_was_typed(string typed, bool isTaken)
    {
        using var folder = new TestFolder();
        var week = folder.Write(
            "week.csv",
            string.Join('\n', ["Time,V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),P (W)", .. Enumerable.Range(0, 300).Select(row => $"2026-03-02T{row / 60:00}:{row % 60:00}:00,230,230,230,{20 + (row % 7)},{21 + (row % 5)},{19 + (row % 6)},{13000 + (row % 7)}")]));
        var survey = Path.Combine(Path.GetDirectoryName(week)!, "board-7");
        var run = new CommandRun();
        Assert.Equal(0, await run.RunAsync("survey", "new", survey, "--service", "wye", "--nominal", "230/400"));
        Assert.Equal(0, await run.RunAsync("survey", "add", survey, week));
        Assert.Equal(isTaken ? 0 : 2, await run.RunAsync("survey", "words", survey, "--set", $"study.rating={typed}"));
        await run.RunAsync("study", survey);
        Assert.Equal(isTaken, run.Output.Contains(" of 62.5 A", StringComparison.Ordinal));
        Assert.DoesNotContain(" of 625 A", run.Output, StringComparison.Ordinal);
    }
}
