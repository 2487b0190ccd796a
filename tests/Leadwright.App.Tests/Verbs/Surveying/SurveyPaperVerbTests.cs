using System.Text.Json;

namespace Leadwright.App.Tests.Verbs.Surveying;

public sealed class SurveyPaperVerbTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-paper-").FullName;

    private string Board => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task Words_are_kept_shown_with_who_and_when_and_taken_back()
    {
        await MakeAsync("wye");
        var kept = await RunAsync("survey", "words", Board, "--set", "customer=Invented Bakery", "--set", "customer=1 Example Street", "--set", "note.load=Ovens were off.", "--why", "first draft", "--who", "T. Ester");
        Assert.Equal((0, ""), (kept.Code, kept.Error));
        Assert.Contains("customer: Invented Bakery\n  1 Example Street  [T. Ester, ", kept.Output, StringComparison.Ordinal);
        Assert.Contains("note.load: Ovens were off.", kept.Output, StringComparison.Ordinal);
        await RunAsync("survey", "words", Board, "--set", "note.load=");
        var shown = await RunAsync("survey", "words", Board);
        Assert.DoesNotContain("note.load", shown.Output, StringComparison.Ordinal);
        Assert.Contains("report-words-changed (first draft)", (await RunAsync("survey", "show", Board, "--journal")).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("custmer=x", "no place 'custmer'")]
    [InlineData("date=9.3.2026", "no date")]
    [InlineData("paper=a5", "not one of a4, letter")]
    public async Task A_place_or_words_that_are_none_are_refused(string set, string says)
    {
        await MakeAsync("wye");
        var run = await RunAsync("survey", "words", Board, "--set", set);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_check_before_leaving_is_listed_signed_and_kept()
    {
        await MakeAsync("single");
        var listed = await RunAsync("survey", "departing", Board);
        Assert.Contains("load-1: One known load was switched", listed.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("load-2", listed.Output, StringComparison.Ordinal);
        var half = await RunAsync("survey", "departing", Board, "clock=yes");
        Assert.Equal(2, half.Code);
        Assert.Contains("'range' has no answer yet", half.Error, StringComparison.Ordinal);
        var bare = await RunAsync("survey", "departing", Board, "clock=yes", "range=yes", "memory=yes", "supply=yes", "load-1=no", "covers=yes");
        Assert.Contains("'load-1' is not in order: say why", bare.Error, StringComparison.Ordinal);
        var signed = await RunAsync("survey", "departing", Board, "clock=yes:3 s slow", "range=yes", "memory=yes", "supply=yes", "load-1=not-possible:locked", "covers=yes", "--who", "A. Fitter", "--note", "Key with the porter");
        Assert.Equal((0, ""), (signed.Code, signed.Error));
        Assert.Contains("Signed by A. Fitter", signed.Output, StringComparison.Ordinal);
        var json = JsonDocument.Parse((await RunAsync("survey", "show", Board, "--format", "json")).Output).RootElement.GetProperty("departure");
        Assert.Equal(("A. Fitter", "Key with the porter"), (json.GetProperty("who").GetString(), json.GetProperty("note").GetString()));
        var load = json.GetProperty("items").EnumerateArray().Single(item => item.GetProperty("key").GetString() == "load-1");
        Assert.Equal(("not-possible", "locked", false), (load.GetProperty("answer").GetString(), load.GetProperty("remark").GetString(), load.GetProperty("is_done").GetBoolean()));
    }

    private async Task MakeAsync(string service) => Assert.Equal(0, (await RunAsync("survey", "new", Board, "--title", "Main board", "--service", service)).Code);

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        var run = new CommandRun();
        var code = await run.RunAsync(args);
        return (code, run.Output.ReplaceLineEndings("\n"), run.Error);
    }
}
