using System.Globalization;
using System.Text;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests;

public sealed class RecordingImportTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-import-").FullName;

    private string Folder => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task A_log_is_recognised_matched_and_made_into_a_table()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var steps = new List<ImportStep>();
        var recording = await new RecordingImport(survey).ImportAsync([Surveys.Source("week.csv", Log())], new ImportOptions { Why = "the first week" }, new Steps(steps), TestContext.Current.CancellationToken);
        Assert.Equal(("log", "log-table", 300L), (recording.Facts.Kind, recording.Facts.Format, recording.Facts.Count));
        Assert.Equal(60, recording.Facts.IntervalSeconds);
        Assert.Equal(new DateTime(2026, 3, 2), recording.Facts.From);
        Assert.Equal("the first week", survey.Entries[^1].Why);
        Assert.Equal([ImportStep.Copying, ImportStep.Reading, ImportStep.Scanning, ImportStep.Saving, ImportStep.Tabling], steps.Distinct());
        using var tables = SurveyTables.Open(Folder);
        Assert.Equal([RecordingImport.TableOf(survey.State, recording)], tables.Names);
    }

    [Fact]
    public async Task What_is_not_understood_stays_with_the_recording()
    {
        // A heading nobody knows, a cell that is no number, a gap of ten minutes.
        var text = Log(row => row is >= 100 and < 110 ? null : "7", extra: "Zorb (qq)").Replace("2026-03-02 00:05:00;230", "2026-03-02 00:05:00;??", StringComparison.Ordinal);
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var recording = await new RecordingImport(survey).ImportAsync([Surveys.Source("week.csv", text)], cancellation: TestContext.Current.CancellationToken);
        Assert.Contains(recording.Facts.Remarks, remark => remark.Kind == "column-unread" && remark.Says.Contains("Zorb", StringComparison.Ordinal));
        Assert.Contains(recording.Facts.Remarks, remark => remark.Kind == "question");
        var gap = Assert.Single(recording.Facts.Clock, finding => finding.Kind == "gap");
        Assert.Equal(10, gap.RowCount);
        Assert.Contains("Zorb", File.ReadAllText(Path.Combine(Folder, "survey.json")), StringComparison.Ordinal);
        using var read = SurveyFolder.Open(Folder);
        Assert.Equal(recording.Facts.Remarks, read.State.Recordings[0].Facts.Remarks);
    }

    [Fact]
    public async Task Of_samples_it_is_told_which_channel_is_which_and_which_is_nothing_that_is_known()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var known = await new RecordingImport(survey).ImportAsync(
            [Surveys.Source("wave.csv", Samples("V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),Oil (deg)"))], cancellation: TestContext.Current.CancellationToken);
        Assert.Equal("samples", known.Facts.Kind);
        Assert.Contains(known.Facts.Remarks, remark => remark.Kind == "note" && remark.Says.StartsWith("Of its channels ", StringComparison.Ordinal) && remark.Says.Contains("V1 is 'V1'", StringComparison.Ordinal));
        Assert.Contains(known.Facts.Remarks, remark => remark.Kind == "column-unread" && remark.Says.StartsWith("Channel 'Oil", StringComparison.Ordinal));

        var unknown = await new RecordingImport(survey).ImportAsync([Surveys.Source("other.csv", Samples("a,b,c,d,e,f,g"))], cancellation: TestContext.Current.CancellationToken);
        Assert.Contains(unknown.Facts.Remarks, remark => remark.Kind == "question" && remark.Says.StartsWith("Which channel is which?", StringComparison.Ordinal));
        using var read = SurveyFolder.Open(Folder);
        Assert.Equal(unknown.Facts.Remarks, read.State.Recordings[1].Facts.Remarks);
    }

    [Fact]
    public async Task A_match_that_is_not_sure_asks_for_a_person_until_one_confirmed_it()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var import = new RecordingImport(survey);
        var sure = await import.ImportAsync([Surveys.Source("week.csv", "Start,End,V1 (V)\n" + string.Concat(Enumerable.Range(0, 30).Select(row =>
            $"2026-03-13 00:{row:00}:00,2026-03-13 00:{row + 1:00}:00,{230 + (row % 3)}\n")))], cancellation: TestContext.Current.CancellationToken);
        Assert.False(sure.AsksColumns);
        // When a log began is no question of its columns.
        var undated = await import.ImportAsync([Surveys.Source("undated.csv", "start (s),V1 (V)\n" + string.Concat(Enumerable.Range(0, 30).Select(row => $"{row * 60},{230 + (row % 3)}\n")))], cancellation: TestContext.Current.CancellationToken);
        Assert.Contains(undated.Facts.Remarks, remark => remark.Kind == "question");
        Assert.False(undated.AsksColumns);
        var open = await import.ImportAsync([Surveys.Source("open.csv", Log().Replace("V1 (V)", "Reading", StringComparison.Ordinal))], cancellation: TestContext.Current.CancellationToken);
        Assert.True(open.AsksColumns);
        Assert.Contains(open.Facts.Remarks, remark => remark.Kind is "column-unsure" or "question" or "column-unread" && remark.Says.Contains("Reading", StringComparison.Ordinal));
        survey.Append(new Leadwright.Surveys.Journal.ColumnsConfirmed(open.Name, open.Facts.Columns!.Value));
        Assert.False(survey.State.Recording(open.Name)!.AsksColumns);
    }

    [Fact]
    public async Task A_draft_can_be_read_another_way_before_it_is_taken_in()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        var import = new RecordingImport(survey);
        using var draft = import.Prepare([Surveys.Source("week.csv", Log())], cancellation: TestContext.Current.CancellationToken);
        Assert.Single(survey.Entries);
        var profile = ColumnProfile.Of(draft.Log!);
        var corrected = profile with { Columns = [.. profile.Columns.Select(column => column.Column == "V1 (V)" ? column with { Place = Leadwright.Core.Logs.LogPlace.Phase2 } : column)] };
        using var again = import.Again(
            draft, new ImportOptions { IsConfirmed = true, Read = new InputReadOptions { Log = new LogReadOptions { Profiles = [corrected] } } }, cancellation: TestContext.Current.CancellationToken);
        var recording = await import.TakeInAsync(again, cancellation: TestContext.Current.CancellationToken);
        Assert.NotNull(recording.Columns);
        var kept = ColumnProfileReader.Read(new InputFile("kept", Encoding.UTF8.GetBytes(recording.Columns.Value.GetRawText())));
        Assert.Equal(Leadwright.Core.Logs.LogPlace.Phase2, kept.Columns.Single(column => column.Column == "V1 (V)").Place);
    }

    [Fact]
    public void A_draft_that_is_thrown_away_leaves_nothing()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        new RecordingImport(survey).Prepare([Surveys.Source("week.csv", Log())], cancellation: TestContext.Current.CancellationToken).Dispose();
        Assert.False(Directory.Exists(Path.Combine(Folder, "incoming")));
        Assert.False(Directory.Exists(Path.Combine(Folder, "originals")));
        Assert.Single(survey.Entries);
    }

    [Fact]
    public async Task A_file_that_is_none_is_refused_and_leaves_nothing()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        await Assert.ThrowsAsync<FormatReadException>(() => new RecordingImport(survey).ImportAsync([Surveys.Source("week.bin", "\u0001\u0002")], cancellation: TestContext.Current.CancellationToken));
        Assert.False(Directory.Exists(Path.Combine(Folder, "incoming")));
        Assert.Single(survey.Entries);
    }

    // Ten cycles of 50 Hz at 6400 samples a second; the last channel stands still.
    private static string Samples(string heads) => $"# rate_hz: 6400\n{heads}\n" + string.Concat(Enumerable.Range(0, 1280).Select(sample =>
        string.Join(',', Enumerable.Range(0, 7).Select(lane => (lane == 6 ? 60 : (lane < 3 ? 325 : 28) * Math.Cos(2 * Math.PI * ((sample / 128.0) - (lane % 3 / 3.0)))).ToString("0.000", CultureInfo.InvariantCulture))) + "\n"));

    private static string Log(Func<int, string?>? cell = null, string? extra = null)
    {
        var text = new StringBuilder("Time;V1 (V);I1 (A)").Append(extra is null ? "" : ";" + extra).Append('\n');
        for (var row = 0; row < 300; row++)
        {
            var more = cell is null ? "" : cell(row);
            if (more is null) continue;
            text.Append(CultureInfo.InvariantCulture, $"{new DateTime(2026, 3, 2).AddMinutes(row):yyyy-MM-dd HH:mm:ss};{230 + (row % 7 * 0.1):0.0};{40 + (row % 11 * 0.5):0.0}{(more.Length > 0 ? ";" + more : "")}\n");
        }

        return text.ToString();
    }

    private sealed class Steps(List<ImportStep> steps) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value)
        {
            Assert.InRange(value.Share, 0, 1);
            steps.Add(value.Step);
        }
    }
}
