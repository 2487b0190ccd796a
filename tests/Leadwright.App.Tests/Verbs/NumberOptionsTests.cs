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
}
