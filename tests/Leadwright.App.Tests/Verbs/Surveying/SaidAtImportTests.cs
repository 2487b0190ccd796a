using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.App.Tests.Verbs.Measuring;
using Leadwright.App.Verbs;
using Leadwright.Surveys;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Tests.Verbs.Surveying;

/// <summary>What was said of a recording when it was brought in holds for whoever reads it later; what the verbs work out can be kept as tables.</summary>
public sealed class SaidAtImportTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-said-").FullName;

    private string Board => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task A_rate_that_was_stated_is_not_asked_for_again()
    {
        var path = Path.Combine(_place, "waves.csv");
        var text = new StringBuilder("V1 (V),I1 (A)\n");
        for (var index = 0; index < 6400; index++)
            text.Append(CultureInfo.InvariantCulture, $"{325 * Math.Cos(2 * Math.PI * 50 * index / 3200):0.00},{20 * Math.Cos((2 * Math.PI * 50 * index / 3200) - 0.4):0.000}\n");
        File.WriteAllText(path, text.ToString());
        await RunAsync("survey", "new", Board, "--service", "single", "--nominal", "230");
        Assert.Equal((0, ""), await CodeAsync("survey", "add", Board, path, "--rate", "3200"));

        Assert.Contains("It is read at 3200 samples a second, as was said.", (await RunAsync("survey", "show", Board)).Output, StringComparison.Ordinal);
        Assert.Equal(0, (await CodeAsync("measure", Board, "--interval", "cycles")).Code);
        Assert.NotEqual(1, (await CodeAsync("check", Board)).Code);
    }

    [Fact]
    public async Task The_side_of_the_transformers_that_was_stated_holds()
    {
        WrittenRecording.Write(_place, "bay", 3);
        var cfg = Path.Combine(_place, "bay.cfg");
        File.WriteAllText(cfg, File.ReadAllText(cfg).Replace("-32767,32767,1,1,P", "-32767,32767,10,1,S", StringComparison.Ordinal));
        await RunAsync("survey", "new", Board, "--service", "wye");
        Assert.Equal((0, ""), await CodeAsync("survey", "add", Board, cfg, "--scaling", "primary"));

        var asSaid = JsonDocument.Parse((await RunAsync("measure", Board, "--format", "json")).Output).RootElement;
        var stated = JsonDocument.Parse((await RunAsync("measure", cfg, "--service", "wye", "--scaling", "primary", "--format", "json")).Output).RootElement;
        var plain = JsonDocument.Parse((await RunAsync("measure", cfg, "--service", "wye", "--format", "json")).Output).RootElement;
        Assert.Equal(VoltsOf(stated), VoltsOf(asSaid));
        Assert.Equal(10 * VoltsOf(plain), VoltsOf(asSaid), 1);
    }

    [Fact]
    public async Task Tables_of_guard_mend_and_measure_are_kept_for_queries()
    {
        var week = TestFolder.Data("../../data/surveys/schema-1/originals/week/week.csv");
        WrittenRecording.Write(_place, "bay", 3);
        await RunAsync("survey", "new", Board, "--service", "wye", "--nominal", "230/400");
        await RunAsync("survey", "add", Board, week);
        await RunAsync("survey", "add", Board, Path.Combine(_place, "bay.cfg"));
        Assert.Equal("", (await CodeAsync("guard", Board, "--recording", "week", "--keep")).Error);
        Assert.Equal("", (await CodeAsync("mend", Board, "--recording", "week", "--keep")).Error);
        Assert.DoesNotContain("Cannot", (await CodeAsync("measure", Board, "--recording", "bay", "--interval", "cycles", "--keep")).Error, StringComparison.Ordinal);

        using var survey = SurveyFolder.Open(Board);
        using (var tables = SurveyTables.Open(Board, survey.State.Id))
            Assert.Superset(new HashSet<TableName> { new(TableName.Log), new(TableName.Mended), new(TableName.Spans), new(TableName.Samples, 1), new(TableName.Measured, 1), new(TableName.Events, 1) }, tables.Names.ToHashSet());
        Assert.True(survey.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
        Assert.Equal(2, (await CodeAsync("mend", week, "--keep")).Code);
        Assert.Equal(2, (await CodeAsync("measure", Path.Combine(_place, "bay.cfg"), "--keep")).Code);
    }

    private static double VoltsOf(JsonElement measured) => measured.GetProperty("channels").GetProperty("V1").GetProperty("rms").GetDouble();

    private static async Task<(int Code, string Error)> CodeAsync(params string[] words)
    {
        var run = await RunAsync(words);
        return (run.Code, run.Error);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] words)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(words, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
