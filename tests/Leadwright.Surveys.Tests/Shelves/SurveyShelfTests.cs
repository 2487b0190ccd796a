using System.IO.Compression;
using System.Text;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Shelves;

namespace Leadwright.Surveys.Tests.Shelves;

public sealed class SurveyShelfTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-shelf-").FullName;

    private SurveyShelf Shelf => new(Path.Combine(_place, "shelf"));

    private SurveyShelf Stick => new(Path.Combine(_place, "stick"));

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public void A_shelf_lists_what_is_on_it_last_changed_first()
    {
        Assert.Empty(Shelf.List(TestContext.Current.CancellationToken));
        var clock = new Surveys.FixedClock(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        foreach (var title in (string[])["First", "Second"])
        {
            clock.Now = clock.Now.AddHours(1);
            using var made = Shelf.New(new NewSurvey(title) { Site = new() { Name = "Works " + title } }, new SurveyAuthor("T. Ester", clock));
            Import(made, "week.csv", "x");
        }

        Directory.CreateDirectory(Path.Combine(Shelf.Path, "no survey"));
        Directory.CreateDirectory(Path.Combine(Shelf.Path, "broken"));
        File.WriteAllText(Path.Combine(Shelf.Path, "broken", "survey.json"), "{");
        var list = Shelf.List(TestContext.Current.CancellationToken);
        Assert.Equal(["Second", "First", "broken"], list.Select(survey => survey.Title));
        Assert.Equal("Works Second", list[0].Site.Name);
        Assert.Equal(1, list[0].RecordingCount);
        Assert.NotNull(list[2].Problem);
        Shelf.Archive(list[1].Id, true, Surveys.Author);
        Assert.True(Shelf.Find(list[1].Id)!.IsArchived);
    }

    [Fact]
    public void A_copy_is_the_same_survey_and_is_refused_where_it_is_already()
    {
        var path = Make();
        var copy = Stick.CopyFrom(path, cancellation: TestContext.Current.CancellationToken);
        Assert.Empty(copy.Unsound);
        RequireSame(path, copy.Path);
        Assert.False(File.Exists(Path.Combine(copy.Path, "writer.lock")));
        Assert.Equal(SurveyProblem.AlreadyThere, Assert.Throws<SurveyException>(() => Stick.CopyFrom(path, cancellation: TestContext.Current.CancellationToken)).Problem);
    }

    [Fact]
    public void A_survey_that_is_being_written_can_be_copied()
    {
        var path = Make();
        using var writer = SurveyFolder.Open(path, SurveyAccess.Write, Surveys.Author);
        writer.Append(new AnswersTold(["rotation=abc"]));
        using var copy = SurveyFolder.Open(Stick.CopyFrom(path, cancellation: TestContext.Current.CancellationToken).Path);
        Assert.Equal(["rotation=abc"], copy.State.Told);
    }

    [Fact]
    public void A_duplicate_goes_its_own_way()
    {
        var path = Make();
        var copy = Shelf.Duplicate(path, "Same board, next year", Surveys.Author, cancellation: TestContext.Current.CancellationToken);
        using var survey = SurveyFolder.Open(copy.Path, SurveyAccess.Write, Surveys.Author);
        Assert.NotEqual(Surveys.Sample.Id, survey.State.Id);
        Assert.Equal(Surveys.Sample.Id, survey.State.CopiedFrom);
        Assert.Equal("Same board, next year", survey.State.Title);
        survey.Append(new AnswersTold(["rotation=abc"]));
        using var original = SurveyFolder.Open(path);
        Assert.Empty(original.State.Told);
        Assert.Equal(original.State.Recordings[0].Files, survey.State.Recordings[0].Files);
    }

    [Fact]
    public void A_copy_tells_of_an_original_that_was_changed()
    {
        var path = Make();
        using (var survey = SurveyFolder.Open(path))
        {
            var file = survey.PathOf(survey.State.Recordings[0].Files[0]);
            File.SetAttributes(file, FileAttributes.Normal);
            File.WriteAllText(file, "forged");
            Assert.Equal(StoredFileStanding.Changed, Assert.Single(survey.Verify(cancellation: TestContext.Current.CancellationToken).Files, entry => entry.Standing != StoredFileStanding.Sound).Standing);
        }

        Assert.Equal(StoredFileStanding.Changed, Assert.Single(Stick.CopyFrom(path, cancellation: TestContext.Current.CancellationToken).Unsound).Standing);
    }

    [Fact]
    public void Stopping_a_copy_leaves_nothing_behind()
    {
        var path = Make();
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.Throws<OperationCanceledException>(() => Stick.CopyFrom(path, cancellation: stop.Token));
        Assert.Empty(Directory.EnumerateFileSystemEntries(Stick.Path));
        // One that was cut short otherwise is cleared away by the next.
        Directory.CreateDirectory(Path.Combine(Stick.Path, "left.unfinished", "originals"));
        Stick.CopyFrom(path, cancellation: TestContext.Current.CancellationToken);
        Assert.Single(Directory.EnumerateFileSystemEntries(Stick.Path));
    }

    [Fact]
    public void A_survey_goes_through_a_zip_file_unchanged()
    {
        var path = Make();
        using var zip = Packed(path);
        var copy = Stick.CopyFromZip(zip, "survey.zip", cancellation: TestContext.Current.CancellationToken);
        Assert.Empty(copy.Unsound);
        Assert.Empty(copy.LeftOut);
        RequireSame(path, copy.Path);
    }

    [Theory]
    [InlineData("../evil.txt")]
    [InlineData("/etc/evil.txt")]
    [InlineData("a/../../evil.txt")]
    [InlineData("C:\\evil.txt")]
    [InlineData("a\\..\\..\\evil.txt")]
    [InlineData("originals/CON")]
    public void A_zip_file_that_leads_out_of_its_folder_is_refused(string name)
    {
        using var zip = Packed(Make(), archive => Write(archive, name, "evil"));
        RequireRefused(zip, "would not stay inside");
    }

    [Fact]
    public void A_zip_file_with_a_link_is_refused()
    {
        using var zip = Packed(Make(), archive =>
        {
            var entry = archive.CreateEntry("originals/link");
            entry.ExternalAttributes = unchecked((int)0xA1FF0000);
            using var writer = new StreamWriter(entry.Open());
            writer.Write("/etc/passwd");
        });
        RequireRefused(zip, "is a link");
    }

    [Fact]
    public void A_zip_file_with_a_name_twice_is_refused()
    {
        using var zip = Packed(Make(), archive =>
        {
            Write(archive, "notes/a.txt", "1");
            Write(archive, "notes/A.TXT", "2");
        });
        RequireRefused(zip, "is in it twice");
    }

    [Fact]
    public void A_zip_file_that_would_fill_the_disk_is_refused()
    {
        using var zip = Packed(Make(), archive =>
        {
            using var stream = archive.CreateEntry("originals/bomb", CompressionLevel.SmallestSize).Open();
            var zeros = new byte[1 << 20];
            for (var block = 0; block < 100; block++) stream.Write(zeros);
        });
        RequireRefused(zip, "times as large");
        using var other = Packed(Make("other"));
        RequireRefused(other, "would fill more", new ZipLimits { MostBytes = 1000 });
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_is_no_survey_is_refused(bool isZip)
    {
        using var stream = new MemoryStream();
        if (isZip)
        {
            using (var archive = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true)) Write(archive, "readme.txt", "hello");
        }
        else stream.Write("PK but not a zip file"u8);
        stream.Position = 0;
        RequireRefused(stream, isZip ? "holds no survey" : "is no zip file");
    }

    [Fact]
    public void A_journal_that_names_a_file_elsewhere_is_refused()
    {
        var entries = new[]
        {
            new JournalEntry(1, DateTimeOffset.UnixEpoch, "", new SurveyCreated(SurveySchema.Name, "x", "X", new(), new(), new()), ""),
            new JournalEntry(2, DateTimeOffset.UnixEpoch, "", new RecordingImported("r", "log", "log-table", [new("passwd", "../../etc/passwd", new string('0', 64), 1)]), ""),
        };
        var first = JournalLine.Write(entries[0], "");
        using var stream = new MemoryStream();
        using (var archive = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
            Write(archive, "x/journal.jsonl", Encoding.UTF8.GetString([.. first, .. JournalLine.Write(entries[1], JournalLine.Hex(first.AsSpan(..^1)))]));
        stream.Position = 0;
        RequireRefused(stream, "outside the survey");
    }

    private string Make(string id = "20260302-main-board-0a1b2c3d")
    {
        using var survey = Shelf.New(Surveys.Sample with { Id = id }, Surveys.Author);
        Import(survey, "week.csv", new string('7', 5000));
        Import(survey, "week.csv", "other");
        using var staged = survey.Stage([Surveys.Source("board.jpg", "photo")], cancellation: TestContext.Current.CancellationToken);
        survey.Attach(staged, "The board");
        return survey.Path;
    }

    private static void Import(SurveyFolder survey, string name, string content)
    {
        using var staged = survey.Stage([Surveys.Source(name, content)], cancellation: TestContext.Current.CancellationToken);
        survey.Import(staged, Surveys.Facts());
    }

    private static MemoryStream Packed(string path, Action<ZipArchive>? add = null)
    {
        var stream = new MemoryStream();
        using (var survey = SurveyFolder.Open(path)) Assert.Empty(SurveyZip.Pack(survey, stream, cancellation: TestContext.Current.CancellationToken));
        if (add is not null)
        {
            using var archive = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true);
            add(archive);
        }

        stream.Position = 0;
        return stream;
    }

    private void RequireRefused(Stream zip, string says, ZipLimits? limits = null)
    {
        var refusal = Assert.Throws<SurveyException>(() => Stick.CopyFromZip(zip, "sent.zip", limits, cancellation: TestContext.Current.CancellationToken));
        Assert.Equal(SurveyProblem.Refused, refusal.Problem);
        Assert.Contains(says, refusal.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.Exists(Stick.Path) ? Directory.EnumerateFileSystemEntries(Stick.Path) : []);
        Assert.Empty(Directory.EnumerateFiles(_place, "evil*", SearchOption.AllDirectories));
    }

    private static void RequireSame(string first, string second)
    {
        Assert.Equal(File.ReadAllBytes(Path.Combine(first, "journal.jsonl")), File.ReadAllBytes(Path.Combine(second, "journal.jsonl")));
        Assert.Equal(File.ReadAllBytes(Path.Combine(first, "survey.json")), File.ReadAllBytes(Path.Combine(second, "survey.json")));
        using var survey = SurveyFolder.Open(second);
        Assert.Equal(3, survey.State.Files.Count());
        Assert.True(survey.Verify(cancellation: TestContext.Current.CancellationToken).IsSound);
    }

    private static void Write(ZipArchive archive, string name, string text)
    {
        using var writer = new StreamWriter(archive.CreateEntry(name).Open());
        writer.Write(text);
    }
}
