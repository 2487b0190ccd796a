using System.Text;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Tests;

public sealed class JournalTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-journal-").FullName;

    private string Folder => Path.Combine(_place, "board");

    private string Journal => Path.Combine(Folder, "journal.jsonl");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public void A_torn_last_line_is_dropped_at_every_length()
    {
        Make();
        var whole = File.ReadAllBytes(Journal);
        var lastStart = whole.AsSpan(..^1).LastIndexOf((byte)'\n') + 1;
        for (var length = lastStart; length < whole.Length; length += 7)
        {
            File.WriteAllBytes(Journal, whole[..length]);
            File.Delete(Path.Combine(Folder, "survey.json"));
            using (var reader = SurveyFolder.Open(Folder)) Assert.Equal(2, reader.Entries.Length);
            using (var survey = SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author)) Assert.Equal(2, survey.Entries.Length);
            Assert.Equal(whole[..lastStart], File.ReadAllBytes(Journal));
        }
    }

    [Fact]
    public void Every_changed_byte_of_a_line_is_noticed()
    {
        Make();
        var whole = File.ReadAllBytes(Journal);
        for (var at = 0; at < whole.Length; at += 3)
        {
            if (whole[at] == '\n') continue;
            var changed = (byte[])whole.Clone();
            changed[at] ^= 1;
            File.WriteAllBytes(Journal, changed);
            try
            {
                using var reader = SurveyFolder.Open(Folder);
                // A last line that is no JSON any more reads as a torn one: then the document tells that it is missing.
                Assert.NotEmpty(reader.Faults);
                Assert.Equal(SurveyProblem.Damaged, Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author)).Problem);
            }
            catch (SurveyException refusal)
            {
                Assert.NotEqual(SurveyProblem.InUse, refusal.Problem);
            }
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void A_line_that_was_taken_out_is_noticed(int line)
    {
        Make();
        var lines = File.ReadAllLines(Journal).ToList();
        lines.RemoveAt(line);
        File.WriteAllText(Journal, string.Join('\n', lines) + "\n");
        if (line == 0)
        {
            Assert.Equal(SurveyProblem.Damaged, Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder)).Problem);
            return;
        }

        using var reader = SurveyFolder.Open(Folder);
        Assert.NotEmpty(reader.Faults);
        Assert.False(reader.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
    }

    [Fact]
    public void The_journal_wins_over_the_document()
    {
        Make();
        var document = Path.Combine(Folder, "survey.json");
        var right = File.ReadAllText(document);
        File.WriteAllText(document, right.Replace("Main board", "Other board", StringComparison.Ordinal));
        using (SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author)) { }
        Assert.Equal(right, File.ReadAllText(document));
        File.WriteAllText(document, "no JSON at all");
        using (SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author)) { }
        Assert.Equal(right, File.ReadAllText(document));
    }

    [Fact]
    public void An_entry_of_a_kind_of_the_future_is_kept_and_passed_over()
    {
        Make();
        var before = File.ReadAllLines(Journal);
        var unknown = new JournalEntry(4, DateTimeOffset.UnixEpoch, "T. Omorrow", new UnknownPayload("thermal-image-weighed", Surveys.Json("""{"deep":{"er":[1,2]}}""")), "");
        File.AppendAllText(Journal, Encoding.UTF8.GetString(JournalLine.Write(unknown, JournalLine.Hex(Encoding.UTF8.GetBytes(before[^1])))));
        using var survey = SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author);
        Assert.Contains("thermal-image-weighed", Assert.Single(survey.State.NotUnderstood), StringComparison.Ordinal);
        survey.Append(new AnswersTold(["rotation=acb"]));
        Assert.Contains("""{"deep":{"er":[1,2]}}""", File.ReadAllText(Journal), StringComparison.Ordinal);
        Assert.Equal(5, survey.Entries.Length);
        Assert.Equal(["rotation=acb"], survey.State.Told);
    }

    [Theory]
    [InlineData("""{"name":"w","kind":"log","format":"x","files":[null]}""")]
    [InlineData("""{"name":"w","kind":"log","format":"x","files":[],"interval_seconds":1e999}""")]
    [InlineData("""{"name":"w","kind":"log","format":"x","files":[],"clock":[{"kind":"gap","before":"2026-01-01T00:00:00","at":"2026-01-01T00:00:00","row_count":1,"seconds":-1e999}]}""")]
    [InlineData("""{"name":"w","kind":"log","format":"x","files":[],"integrity":[{"kind":"a","channels":[null],"from":"2026-01-01T00:00:00","to":"2026-01-01T00:00:00","confidence":1}]}""")]
    [InlineData("""{"name":"w","kind":"log","format":"x","files":[{"name":"a","path":"originals/a","sha256":"","bytes":-1}]}""")]
    public void An_entry_whose_parts_are_none_is_kept_and_passed_over(string data)
    {
        Make();
        var before = JournalRead.Of(File.ReadAllBytes(Journal)).LastSum;
        using (var parsed = System.Text.Json.JsonDocument.Parse(data))
        {
            var line = JournalLine.Write(new JournalEntry(4, DateTimeOffset.UnixEpoch, "W", new UnknownPayload("recording-imported", parsed.RootElement.Clone()), ""), before);
            using var journal = new FileStream(Journal, FileMode.Append);
            journal.Write(line);
        }

        using var survey = SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author);
        Assert.Single(survey.State.NotUnderstood);
        Assert.Empty(survey.State.Recordings);
        Assert.True(survey.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
        survey.Append(new AnswersTold(["rotation=acb"]));
    }

    [Fact]
    public void A_survey_of_a_newer_version_is_left_alone()
    {
        Directory.CreateDirectory(Folder);
        var made = new SurveyCreated("leadwright.survey/2", "x", "X", new(), new(), new());
        File.WriteAllBytes(Journal, JournalLine.Write(new JournalEntry(1, DateTimeOffset.UnixEpoch, "", made, ""), ""));
        var refusal = Assert.Throws<SurveyException>(() => SurveyFolder.Open(Folder, SurveyAccess.Write, Surveys.Author));
        Assert.Equal(SurveyProblem.NewerVersion, refusal.Problem);
        Assert.Contains("leadwright.survey/2", refusal.Message, StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(Folder));
    }

    [Fact]
    public void Every_kind_of_entry_reads_back_as_it_was_written()
    {
        var json = Surveys.Json("""{"schema":"x","list":[1,2.5,null]}""");
        var file = new StoredFile("week.csv", "originals/week/week.csv", new string('a', 64), 12) { Modified = DateTimeOffset.UnixEpoch };
        JournalPayload[] all =
        [
            new SurveyCreated(SurveySchema.Name, "id", "T", new() { Name = "N" }, new() { Service = "wye", MayExport = true }, new() { Learn = ["a"] }),
            new SiteChanged("T", new(), new()), new PlanChanged(new() { Limits = ["b"] }),
            new RecordingImported("week", "log", "workbook", [file])
            {
                Columns = json, IsConfirmed = true, Count = 5, From = new DateTime(2026, 1, 1), To = new DateTime(2026, 1, 2), IntervalSeconds = 600,
                Remarks = [new("question", "Which?")], Clock = [new("gap", new DateTime(2026, 1, 1), new DateTime(2026, 1, 2), 3, 1800)],
                Integrity = [new("lead-open", ["V1"], new DateTime(2026, 1, 1), new DateTime(2026, 1, 2), 0.9)],
            },
            new ColumnsConfirmed("week", json), new RecordingRemoved("week", true), new GuardKept("week", json), new HookupProved(json, json, null),
            new HookupProved(json), new AnswersTold(["rotation=abc"]), new DepartureSigned([new("Door closed", true)], "ok"),
            new CorrectionAccepted("c", "week", json), new CorrectionSwitched("c", false), new ReportWordsChanged("summary", "Words\nin lines"),
            new PhotoAttached(file, "Board", 3), new ArchivedChanged(true), new SurveyDuplicated("b", "a", "T"), new SurveyUpgraded("leadwright.survey/0", SurveySchema.Name),
        ];
        Assert.Equal(JournalKinds.Words.Order(StringComparer.Ordinal), all.Select(JournalKinds.WordOf).Distinct().Order(StringComparer.Ordinal));
        Assert.All(all, payload =>
        {
            var bytes = JournalLine.Write(new JournalEntry(7, DateTimeOffset.UnixEpoch, "W \"ho\"", payload, "be\ncause"), "before");
            Assert.Equal(1, bytes.Count(letter => letter == '\n'));
            var line = JournalLine.Read(bytes.AsMemory(..^1));
            Assert.True(line is { IsWhole: true, Before: "before" });
            Assert.IsType(payload.GetType(), line.Entry.Payload);
            Assert.Equal(bytes, JournalLine.Write(line.Entry, "before"));
        });
    }

    private void Make()
    {
        using var survey = SurveyFolder.Create(Folder, Surveys.Sample, Surveys.Author);
        survey.Append(new SiteChanged("Main board", new() { Name = "Invented works" }, new() { Service = "wye" }), "typed wrong");
        survey.Append(new AnswersTold(["rotation=abc"]));
    }
}
