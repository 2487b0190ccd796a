using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Tests.Surveys;

/// <summary>A program that holds one survey in memory.</summary>
internal sealed class SurveyFake : ISurveyApi
{
    public SurveyApiException? Failure { get; set; }

    public ImmutableArray<SurveyCard> Cards { get; set; } = [];

    public SurveySheet Sheet { get; set; } = new("one", "Board 1") { Sequence = 5, Recordings = [new RecordingCard("week", "week.csv")] };

    public GuardSheet Guard { get; set; } = new();

    public MendAnswer Mend { get; set; } = new();

    public ReportSheet Report { get; set; } = new()
    {
        Sequence = 5,
        Parts = [new("summary", "Summary", true, new("note.summary", "Note in: Summary")), new("load", "Load study", true, new("note.load", "Note in: Load study"))],
        Fields =
        [
            new("customer", "Customer") { LineCount = 3, Text = "Invented Bakery", Who = "T. Ester", At = new DateTimeOffset(2026, 3, 9, 8, 0, 0, TimeSpan.Zero) },
            new("site", "Site") { Usual = "Board 1" },
        ],
        Study = [new("study.rating", "Rating, A"), new("study.demand-kind", "Which demand counts") { Usual = "Fixed by the clock", Choices = ["block", "sliding"] }],
    };

    public DepartingSheet Departing { get; set; } = new()
    {
        Sequence = 5, Items = [new("clock", "The clock was compared", "By how much"), new("covers", "Covers are closed", "What stays open")],
    };

    public HookupsSheet Hookups { get; set; } = new() { Sequence = 5, MostPhotoBytes = 1 << 20 };

    /// <summary>What only the next change meets.</summary>
    public SurveyApiException? Refusal { get; set; }

    public List<WordsChange> Written { get; } = [];

    public List<DepartingSign> Signatures { get; } = [];

    public List<HookupKeep> KeptChecks { get; } = [];

    /// <summary>The work that the report waits for; null where it is there at once.</summary>
    public TaskCompletionSource? Making { get; set; }

    public List<LayerSwitch> Switched { get; } = [];

    public List<NewSurvey> Made { get; } = [];

    public List<(ImmutableArray<string> Names, double? From, double? To)> Frames { get; } = [];

    /// <summary>A guard's answer with a clamp turned throughout, a lead off from the third day, an outage and a time without rows.</summary>
    public static GuardSheet SampleGuard { get; } = new()
    {
        From = new DateTime(2026, 3, 2),
        To = new DateTime(2026, 3, 9),
        Spans =
        [
            new GuardSpanSheet { Kind = "clamp-reversed", Channels = ["I2"], From = new DateTime(2026, 3, 2), To = new DateTime(2026, 3, 9), Confidence = 0.99, Says = "Clamp I2 faced the source." },
            new GuardSpanSheet { Kind = "lead-open", Channels = ["V3"], From = new DateTime(2026, 3, 4, 13, 10, 0), To = new DateTime(2026, 3, 9), Confidence = 0.97, Says = "Lead V3 was off." },
            new GuardSpanSheet { Kind = "no-data", From = new DateTime(2026, 3, 5), To = new DateTime(2026, 3, 5, 6, 0, 0), Confidence = 1, Says = "The recorder was off." },
            new GuardSpanSheet { Kind = "outage", Channels = ["V1", "V2", "V3"], From = new DateTime(2026, 3, 6, 2, 14, 0), To = new DateTime(2026, 3, 6, 3, 41, 0), Confidence = 0.6, Doubtful = true, Says = "Doubtful: the supply was gone." },
        ],
        Hookups = [new GuardPieceSheet { Hookup = ImmutableSortedDictionary.CreateRange(new[] { "V1", "V2", "V3", "VN", "I1", "I2", "I3" }.Select(name => KeyValuePair.Create(name, default(JsonElement)))) }],
        Usable = ImmutableSortedDictionary.CreateRange(new[] { "V1", "V2", "V3", "I1", "I2", "I3" }.Select(name => KeyValuePair.Create(name, name == "V3" ? 0.36 : 1.0))),
    };

    public Task<SessionCard> SessionAsync(CancellationToken cancellation = default) => Give(new SessionCard("token", "1") { Folder = "/surveys", MostBytes = 1 << 20 });

    public Task<ImmutableArray<SurveyCard>> ListAsync(CancellationToken cancellation = default) => Give(Cards);

    public Task<SurveySheet> MakeAsync(NewSurvey survey, CancellationToken cancellation = default)
    {
        Made.Add(survey);
        return Give(Sheet);
    }

    public Task<SurveySheet> OpenAsync(string id, CancellationToken cancellation = default) => Give(Sheet);

    public Task<SurveySheet> DuplicateAsync(string id, CancellationToken cancellation = default) => Give(Sheet);

    public Task ArchiveAsync(string id, bool isArchived, CancellationToken cancellation = default) => Give(0);

    public List<SaidReading> Said { get; } = [];

    public Task<string> ImportAsync(string id, ImmutableArray<UploadFile> files, SaidReading said, IProgress<WorkState> progress, CancellationToken cancellation = default)
    {
        Said.Add(said);
        return Give("week");
    }

    public ColumnMatchSheet Match { get; set; } = new();

    public List<ColumnMatchKeep> Confirmed { get; } = [];

    public Task<ColumnMatchSheet> MatchAsync(string id, string recording, SaidReading? said = null, CancellationToken cancellation = default)
    {
        if (said is not null) Match = Match with { Said = said };
        return Give(Match);
    }

    public Task<string> ConfirmAsync(string id, string recording, ColumnMatchKeep columns, IProgress<WorkState> progress, CancellationToken cancellation = default) => Change(() =>
    {
        Confirmed.Add(columns);
        return "Confirmed. Every table with these headings is read so from now on.";
    });

    public Task<GuardSheet> GuardAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(Guard);

    public Task<MendAnswer> MendAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(Mend);

    public Task SwitchAsync(string id, string recording, LayerSwitch layer, CancellationToken cancellation = default)
    {
        if (Failure is { } failure) return Task.FromException(failure);
        Switched.Add(layer);
        return Task.CompletedTask;
    }

    public Task<StudyAnswer> StudyAsync(string id, string recording, string limits, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(new StudyAnswer());

    public Task<ImmutableArray<ColumnCard>> ColumnsAsync(string id, string recording, bool isMended, CancellationToken cancellation = default) => Give(Columns);

    public Task<byte[]> FrameAsync(
        string id, string recording, bool isMended, ImmutableArray<string> names, double? start, double? finish, int width, CancellationToken cancellation = default)
    {
        Frames.Add((names, start, finish));
        return Give(new ColumnFrame
        {
            From = 0, To = 2000, WholeFrom = 0, WholeTo = 2000, Step = 1000, Times = [500, 1500],
            Columns = [.. names.Select(name => new FrameColumn(name, "V") { Mean = [230, float.NaN], Low = [229, float.NaN], High = [231, float.NaN], Standing = [0, 3] })],
        }.ToBytes());
    }

    public Task<VectorSheet?> VectorsAsync(string id, string recording, bool isMended, DateTime at, CancellationToken cancellation = default) => Give<VectorSheet?>(null);

    public ImmutableArray<ColumnCard> Columns { get; set; } =
    [
        new("V1_rms_V", "Voltage V1", "V", "Voltage", "Phase1"), new("V3_rms_V", "Voltage V3", "V", "Voltage", "Phase3"), new("I2_rms_A", "Current I2", "A", "Current", "Phase2"),
        new("P2_W", "Power P2", "W", "ActivePower", "Phase2"), new("P_W", "Power P, total", "W", "ActivePower", "Whole"),
    ];

    public List<DateTime> Moments { get; } = [];

    public Task<MomentSheet> MomentAsync(string id, string recording, DateTime at, CancellationToken cancellation = default)
    {
        Moments.Add(at);
        return Give(new MomentSheet(at)
        {
            WaveSvg = "<svg class=\"moment\"></svg>", SpectrumSvg = "<svg class=\"moment\"></svg>", FrequencyHertz = 50.01, Vectors = new VectorSheet(at, "<svg></svg>", "The voltages come in the order 1, 2, 3.", ""),
            Spectra = [new SpectrumRow("V1", "V", "Phase1") { Rms = 230.4, DistortionPercent = 2.5, Percent = [100, 0.1, 2.2, 0.1, 1.1] }],
        });
    }

    public FollowSheet Follow { get; set; } = new();

    public Task<FollowSheet> FollowAsync(string id, CancellationToken cancellation = default) => Give(Follow);

    public Task<FollowSheet> StartFollowAsync(string id, string path, CancellationToken cancellation = default) => Change(() => Follow = new FollowSheet { Path = path, IsRunning = true });

    public Task<FollowSheet> StopFollowAsync(string id, CancellationToken cancellation = default) => Change(() => Follow = Follow with { IsRunning = false });

    public Task<ReportSheet> ReportAsync(string id, CancellationToken cancellation = default) => Give(Report);

    public Task<ReportSheet> WriteAsync(string id, WordsChange words, CancellationToken cancellation = default) => Change(() =>
    {
        Written.Add(words);
        return Report = Report with { Sequence = Report.Sequence + 1 };
    });

    public async Task<ReportMade> MakeReportAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default)
    {
        progress.Report(new WorkState("w", "Studying", 0.5));
        if (Making is { } making) await making.Task;
        return await Give(new ReportMade(Report.Sequence));
    }

    public Task<DepartingSheet> DepartingAsync(string id, CancellationToken cancellation = default) => Give(Departing);

    public Task<DepartingSheet> SignAsync(string id, DepartingSign signature, CancellationToken cancellation = default) => Change(() =>
    {
        Signatures.Add(signature);
        return Departing = Departing with { Sequence = 6, Signed = [new DepartingSigned(new DateTimeOffset(2026, 3, 9, 9, 0, 0, TimeSpan.Zero), signature.Who, signature.Note) { Answers = signature.Answers }] };
    });

    public Task<HookupsSheet> HookupsAsync(string id, CancellationToken cancellation = default) => Give(Hookups);

    public Task<HookupsSheet> KeepAsync(string id, HookupKeep check, CancellationToken cancellation = default) => Change(() =>
    {
        KeptChecks.Add(check);
        return Hookups;
    });

    public List<PlanKeep> KeptPlans { get; } = [];

    public Task<SurveySheet> PlanAsync(string id, PlanKeep plan, CancellationToken cancellation = default) => Change(() =>
    {
        KeptPlans.Add(plan);
        return Sheet;
    });

    public Task<HookupsSheet> AttachAsync(string id, UploadFile photo, string caption, CancellationToken cancellation = default) => Change(() =>
        Hookups = Hookups with { Photos = [new PhotoCard(6, new DateTimeOffset(2026, 3, 9, 9, 0, 0, TimeSpan.Zero), photo.Name, caption) { Sha256 = new string('a', 64), Bytes = photo.Length, IsPicture = true }] });

    public Task<ImmutableArray<JournalRow>> JournalAsync(string id, CancellationToken cancellation = default) =>
        Give<ImmutableArray<JournalRow>>([new(5, new DateTimeOffset(2026, 3, 9, 8, 0, 0, TimeSpan.Zero), "somebody", "Recording 'week' was imported.")]);

    private Task<T> Change<T>(Func<T> change)
    {
        if (Refusal is not { } refusal) return Failure is { } failure ? Task.FromException<T>(failure) : Task.FromResult(change());
        Refusal = null;
        return Task.FromException<T>(refusal);
    }

    private Task<T> Give<T>(T value) => Failure is { } failure ? Task.FromException<T>(failure) : Task.FromResult(value);
}
