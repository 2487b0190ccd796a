using System.Runtime.CompilerServices;

namespace Leadwright.Surveys.Tests;

/// <summary>Folders of every layout there ever was, kept in the repository, still open, and still can be worked on.</summary>
public sealed class KeptSampleTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-kept-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public void The_first_layout_opens_and_goes_on()
    {
        var folder = Copied("schema-1");
        using (var reader = SurveyFolder.Open(folder))
        {
            var state = reader.State;
            Assert.Equal("Main board, hall 2", state.Title);
            Assert.Equal("Key at the gate", state.Site.Notes);
            Assert.Equal("wye", state.Panel.KnownService()?.Name);
            Assert.Equal(400, state.Panel.KnownNominal()?.LineToLineVolts);
            Assert.Equal(["en-50160"], state.Plan.Limits);
            Assert.Equal(["week"], state.WorkRecordings.Select(recording => recording.Name));
            Assert.Equal(48, state.Recordings[0].Facts.Count);
            Assert.True(state.Recordings[1].IsRemoved);
            Assert.Equal("The board", Assert.Single(state.Photos).Caption);
            Assert.Empty(state.NotUnderstood);
            Assert.True(reader.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
        }

        var before = File.ReadAllBytes(Path.Combine(folder, "journal.jsonl"));
        using (var survey = SurveyFolder.Open(folder, SurveyAccess.Write, Surveys.Author)) survey.Append(new Journal.AnswersTold(["rotation=abc"]));
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(folder, "journal.jsonl"))[..before.Length]);
    }

    [Fact]
    public void The_document_of_the_first_layout_is_still_written_the_same()
    {
        var folder = Copied("schema-1");
        var document = Path.Combine(folder, "survey.json");
        var kept = File.ReadAllText(document);
        File.Delete(document);
        using (SurveyFolder.Open(folder, SurveyAccess.Write, Surveys.Author)) { }
        Assert.Equal(kept, File.ReadAllText(document));
    }

    private string Copied(string name, [CallerFilePath] string caller = "")
    {
        var source = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(caller)!, "../data/surveys", name));
        foreach (var file in Directory.EnumerateFiles(source, "*", SearchOption.AllDirectories))
        {
            var target = Path.Combine(_place, Path.GetRelativePath(source, file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(file, target);
        }

        return _place;
    }
}
