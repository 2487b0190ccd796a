using System.Text.Json;
using Leadwright.App.Hosting.Surveys;
using Leadwright.App.Tests.Verbs;
using Leadwright.Surveys;

namespace Leadwright.App.Tests.Hosting;

public sealed class DemoSurveyTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("leadwright-demo-test-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task The_invented_survey_holds_the_flicker_that_its_welder_makes_and_its_study_says_so()
    {
        var surveys = new ServedSurveys(_folder.FullName, SurveyAuthor.OfAccount());
        await DemoSurvey.MakeAsync(surveys, TestContext.Current.CancellationToken);
        var sheet = surveys.SheetOf(DemoSurvey.Id);
        Assert.Equal(["workshop-voltage", "workshop-week"], sheet.Recordings.Select(recording => recording.Name));
        var run = new CommandRun();
        Assert.Equal(10, await run.RunAsync("study", sheet.Folder, "--recording", "workshop-voltage", "--limits", "en-50160", "--format", "json"));
        // The welder hangs on line A: its lead has the worst long-term flicker, above 1 in more than 5 % of the two-hour windows of the week (EN 50160).
        var line = JsonDocument.Parse(run.Output).RootElement.GetProperty("limits").EnumerateArray().Single(line => line.GetProperty("quantity").GetString() == "flicker Plt");
        Assert.Equal(("V1", "fail"), (line.GetProperty("channel").GetString(), line.GetProperty("verdict").GetString()));
    }
}
