using System.Text;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Tests;

public sealed class SurveyFolderTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-surveys-").FullName;

    private string Folder => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public void A_survey_reads_back_as_it_was_made()
    {
        using (SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author)) { }
        using var survey = SurveyFolder.Open(Folder);
        var state = survey.State;
        Assert.Equal(Surveys.Sample.Id, state.Id);
        Assert.Equal(Surveys.Sample.Title, state.Title);
        Assert.Equal(Surveys.Sample.Site, state.Site);
        Assert.Equal(Surveys.Sample.Panel, state.Panel);
        Assert.Equal(Surveys.Sample.Plan, state.Plan);
        Assert.Equal(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero), state.Made);
        Assert.Equal("T. Ester", survey.Entries[0].Who);
        Assert.Empty(survey.Faults);
    }

    [Fact]
    public void The_document_is_for_people()
    {
        using (SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author)) { }
        var text = File.ReadAllText(Path.Combine(Folder, "survey.json"));
        Assert.Contains("\"schema\": \"leadwright.survey/1\"", text, StringComparison.Ordinal);
        Assert.Contains("Zählerschrank „Süd“", text, StringComparison.Ordinal);
        Assert.Contains("\"nominal\": \"230/400\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Originals_are_kept_byte_for_byte_under_their_name()
    {
        var bytes = Encoding.UTF8.GetBytes("time;V1\r\n\0\xFF");
        var file = Path.Combine(_place, "week 12.csv");
        File.WriteAllBytes(file, bytes);
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        SurveyRecording recording;
        using (var staged = survey.Stage([IncomingSource.OfFile(file)], cancellation: TestContext.Current.CancellationToken)) recording = survey.Import(staged, Surveys.Facts());
        Assert.Equal("week 12", recording.Name);
        var stored = Assert.Single(recording.Files);
        Assert.Equal("originals/week 12/week 12.csv", stored.Path);
        Assert.Equal(bytes, File.ReadAllBytes(survey.PathOf(stored)));
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)), stored.Sha256);
        Assert.Equal(bytes.Length, stored.Bytes);
        Assert.True(File.GetAttributes(survey.PathOf(stored)).HasFlag(FileAttributes.ReadOnly));
        Assert.False(Directory.Exists(Path.Combine(Folder, "incoming")));
        Assert.True(survey.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
    }

    [Fact]
    public void A_recording_of_a_name_that_is_taken_gets_a_number()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        foreach (var name in (string[])["week.csv", "Week.csv", "week.xlsx"])
        {
            using var staged = survey.Stage([Surveys.Source(name, name)], cancellation: TestContext.Current.CancellationToken);
            survey.Import(staged, Surveys.Facts());
        }

        Assert.Equal(["week", "Week-2", "week-3"], survey.State.Recordings.Select(recording => recording.Name));
    }

    [Theory]
    [InlineData("../../etc/passwd", "passwd")]
    [InlineData("C:\\surveys\\CON.csv", "_CON.csv")]
    [InlineData("a:b*c?.csv", "a_b_c_.csv")]
    [InlineData("..", "file")]
    [InlineData("name. ", "name")]
    [InlineData("line\nfeed.csv", "line_feed.csv")]
    [InlineData(".hidden", "_hidden")]
    [InlineData("", "file")]
    public void Names_are_made_safe(string name, string safe)
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        using var staged = survey.Stage([Surveys.Source(name, "x")], cancellation: TestContext.Current.CancellationToken);
        var recording = survey.Import(staged, Surveys.Facts("r"));
        Assert.Equal("originals/r/" + safe, recording.Files[0].Path);
        Assert.True(File.Exists(Path.Combine(Folder, "originals", "r", safe)));
    }

    [Fact]
    public void A_file_that_changes_while_it_is_copied_is_refused_and_leaves_nothing()
    {
        var file = Path.Combine(_place, "growing.csv");
        File.WriteAllText(file, "a\n");
        var source = IncomingSource.OfFile(file);
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var growing = source with
        {
            Open = () =>
            {
                var stream = source.Open();
                File.AppendAllText(file, "b\n");
                return stream;
            },
        };
        var refusal = Assert.Throws<SurveyException>(() => survey.Stage([growing], cancellation: TestContext.Current.CancellationToken));
        Assert.Equal(SurveyProblem.FileChanged, refusal.Problem);
        Assert.Contains("something still writes to it", refusal.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(Folder, "incoming")));
        Assert.Single(survey.Entries);
    }

    [Fact]
    public void Stopping_a_copy_leaves_nothing()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.Throws<OperationCanceledException>(() => survey.Stage([Surveys.Source("a.csv", "x")], cancellation: stop.Token));
        Assert.False(Directory.Exists(Path.Combine(Folder, "incoming")));
    }

    [Fact]
    public void Only_one_may_write_and_readers_never_wait()
    {
        using var writer = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var refusal = Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author));
        Assert.Equal(SurveyProblem.InUse, refusal.Problem);
        Assert.Contains("T. Ester on ", refusal.Message, StringComparison.Ordinal);
        using var reader = SurveyFolder.Open(Folder);
        writer.Append(new AnswersTold(["rotation=acb"]));
        Assert.Empty(reader.State.Told);
        Assert.True(reader.Refresh());
        Assert.Equal(["rotation=acb"], reader.State.Told);
        Assert.False(reader.Refresh());
        writer.Dispose();
        using var next = SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author);
        Assert.True(next.IsWritable);
    }

    [Fact]
    public void A_clock_that_is_set_back_does_not_disturb_the_order()
    {
        var clock = new Surveys.FixedClock(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        var author = new SurveyAuthor("T. Ester", clock);
        using (var survey = SurveyFolder.Create(Folder, Surveys.Sample, author))
        {
            survey.Append(new AnswersTold(["rotation=abc"]));
            clock.Now = clock.Now.AddYears(-7);
            survey.Append(new AnswersTold(["rotation=acb"]));
        }

        using var read = SurveyFolder.Open(Folder);
        Assert.Equal([1L, 2L, 3L], read.Entries.Select(entry => entry.Number));
        Assert.True(read.Entries[2].At < read.Entries[1].At);
        Assert.Equal(["rotation=acb"], read.State.Told);
        Assert.Empty(read.Faults);
    }

    [Fact]
    public void What_speaks_of_something_that_is_not_there_is_refused()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        Assert.Equal(SurveyProblem.Refused, Assert.Throws<SurveyException>(() => survey.Append(new RecordingRemoved("none", true))).Problem);
        Assert.Equal(SurveyProblem.Refused, Assert.Throws<SurveyException>(() => survey.Append(new CorrectionSwitched("none", false))).Problem);
        Assert.Single(survey.Entries);
    }

    [Fact]
    public void A_folder_that_is_none_or_no_survey_or_taken_is_told_apart()
    {
        Assert.Equal(SurveyProblem.NotFound, Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder)).Problem);
        Directory.CreateDirectory(Folder);
        Assert.Equal(SurveyProblem.NotASurvey, Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder)).Problem);
        Assert.Equal(SurveyProblem.NotASurvey, Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author)).Problem);
        File.WriteAllText(Path.Combine(Folder, "notes.txt"), "mine");
        Assert.Equal(SurveyProblem.AlreadyThere, Assert.Throws<SurveyException>(() => SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author)).Problem);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(Folder, "notes.txt")));
    }
}
