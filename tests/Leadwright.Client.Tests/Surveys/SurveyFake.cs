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
        Usable = ImmutableSortedDictionary.CreateRange([KeyValuePair.Create("V1", 1.0), KeyValuePair.Create("V3", 0.36)]),
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

    public Task<string> ImportAsync(string id, ImmutableArray<UploadFile> files, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give("week");

    public Task<GuardSheet> GuardAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(Guard);

    public Task<MendAnswer> MendAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(Mend);

    public Task SwitchAsync(string id, string recording, LayerSwitch layer, CancellationToken cancellation = default)
    {
        if (Failure is { } failure) return Task.FromException(failure);
        Switched.Add(layer);
        return Task.CompletedTask;
    }

    public Task<StudyAnswer> StudyAsync(string id, string recording, string limits, IProgress<WorkState> progress, CancellationToken cancellation = default) => Give(new StudyAnswer());

    public Task<ImmutableArray<ColumnCard>> ColumnsAsync(string id, string recording, bool isMended, CancellationToken cancellation = default) => Give<ImmutableArray<ColumnCard>>(
    [
        new("V1_rms_V", "Voltage V1", "V", "Voltage", "Phase1"), new("V3_rms_V", "Voltage V3", "V", "Voltage", "Phase3"), new("I2_rms_A", "Current I2", "A", "Current", "Phase2"),
        new("P2_W", "Power P2", "W", "ActivePower", "Phase2"), new("P_W", "Power P, total", "W", "ActivePower", "Whole"),
    ]);

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

    public Task<ImmutableArray<JournalRow>> JournalAsync(string id, CancellationToken cancellation = default) =>
        Give<ImmutableArray<JournalRow>>([new(5, new DateTimeOffset(2026, 3, 9, 8, 0, 0, TimeSpan.Zero), "somebody", "Recording 'week' was imported.")]);

    private Task<T> Give<T>(T value) => Failure is { } failure ? Task.FromException<T>(failure) : Task.FromResult(value);
}
