using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Text;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs;

/// <summary>What the command line says about a panel and about how to read a recording of it; the verbs' requests build on it.</summary>
public record RecordingRequest
{
    /// <summary>The service; null to go by the file.</summary>
    public Service? Service { get; init; }

    /// <summary>Nominal voltage as on the nameplate; null when not given.</summary>
    public string? Nominal { get; init; }

    /// <summary>Nominal frequency in hertz; null when not given.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>Which channel of a recording is which, as typed; null to go by names and units.</summary>
    public string? Channels { get; init; }

    /// <summary>What a person must know when the file holds logged values: what was said of samples is not used.</summary>
    internal ImmutableArray<string> NotesOfLog => Channels is null ? [] : ["--channels is not used: it names the channels of samples, and these are logged values, whose columns are named with --match."];

    /// <summary>Which side of the instrument transformers the values are wanted for.</summary>
    public Scaling Scaling { get; init; }

    /// <summary>Samples per second of a table without a time column; null when not given.</summary>
    public double? RateHertz { get; init; }

    /// <summary>Decimal mark of a table; null to find it out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Headings of a table that has none, as typed: <c>V1 (V),I1 (A)</c>; null when not given.</summary>
    public string? Columns { get; init; }

    /// <summary>Name of the recording that is wanted of a survey; null for all.</summary>
    public string? Recording { get; init; }

    /// <summary>In which order the parts of a date stand in a log; null to find it out.</summary>
    public DateOrder? Dates { get; init; }

    /// <summary>Which end of its interval a row of a log is stamped with; null to find it out.</summary>
    public StampPlace? Stamps { get; init; }

    /// <summary>Worksheet of a workbook; null for the first that holds a log.</summary>
    public string? Sheet { get; init; }

    /// <summary>Time of second 0 of a log whose times are counted from its own start; null when not given.</summary>
    public DateTime? LogStart { get; init; }

    /// <summary>What the recorder's clock is ahead of UTC, for formats whose times are UTC. Default nothing.</summary>
    public TimeSpan UtcOffset { get; init; }

    /// <summary>How the letters of a text are written, by a name of <see cref="TextEncodings.Names"/>; null to find it out.</summary>
    public string? Encoding { get; init; }

    /// <summary>What a person says of single columns of a log; wins over everything else.</summary>
    public ImmutableArray<ColumnStatement> Statements { get; init; } = [];

    /// <summary>How the table at hand is to be read, as named with it; null when not given.</summary>
    public ColumnProfile? Match { get; init; }

    /// <summary>How a person confirmed that tables are to be read. Default none.</summary>
    public ImmutableArray<ColumnProfile> Profiles { get; init; } = [];

    /// <summary>Length of files, bytes, from which on they are read part by part. Default 64 MB.</summary>
    public long StreamedFromBytes { get; init; } = 64L << 20;

    /// <summary>Is told how far the work on a long file is.</summary>
    public WorkProgress Progress { get; init; } = WorkProgress.None;

    /// <summary>How to read COMTRADE.</summary>
    public ComtradeReadOptions ToComtradeOptions() => new()
    {
        Scaling = Scaling switch
        {
            Scaling.Primary => ComtradeScaling.Primary,
            Scaling.Secondary => ComtradeScaling.Secondary,
            _ => ComtradeScaling.AsRecorded,
        },
        Encoding = TextEncodings.Find(Encoding),
    };

    /// <summary>How to read PQDIF.</summary>
    public PqdifReadOptions ToPqdifOptions() => new() { UtcOffset = UtcOffset, AreTimesEnds = Stamps == StampPlace.End };

    /// <summary>How to read a log of intervals: as said here, else as a person confirmed tables with the same headings before.</summary>
    public LogReadOptions ToLogOptions() => new()
    {
        DecimalMark = DecimalMark,
        Encoding = TextEncodings.Find(Encoding),
        DateOrder = Dates,
        Stamps = Stamps,
        Sheet = Sheet,
        Start = LogStart,
        UtcOffset = UtcOffset,
        Service = Service?.Kind,
        Columns = Statements,
        Profile = Match,
        Profiles = [.. Profiles, .. KnownColumns.Profiles()],
    };

    /// <summary>How to read whatever it is.</summary>
    public InputReadOptions ToReadOptions() => new() { Comtrade = ToComtradeOptions(), Csv = ToCsvOptions(), Log = ToLogOptions(), Pqdif = ToPqdifOptions() };

    /// <summary>This with what was said when the recording was brought into its survey, where nothing is said now.</summary>
    /// <param name="reading">What was said; null for nothing.</param>
    public RecordingRequest With(RecordingReading? reading) => reading is null ? this : this with
    {
        Scaling = Scaling != Scaling.AsRecorded ? Scaling : reading.Scaling switch { "primary" => Scaling.Primary, "secondary" => Scaling.Secondary, _ => Scaling.AsRecorded },
        RateHertz = RateHertz ?? reading.RateHertz,
        Columns = Columns ?? (reading.Headings is { } headings ? string.Join(',', headings) : null),
        DecimalMark = DecimalMark ?? reading.Mark,
        Channels = Channels ?? reading.Channels,
        Sheet = Sheet ?? reading.Sheet,
        Encoding = Encoding ?? reading.Encoding,
        LogStart = LogStart ?? reading.Start,
        UtcOffset = UtcOffset == TimeSpan.Zero ? reading.UtcOffset : UtcOffset,
        Stamps = Stamps ?? (reading.AreTimesEnds ? StampPlace.End : null),
    };

    /// <summary>How to read a table of samples.</summary>
    public CsvSampleOptions ToCsvOptions() => new()
    {
        RateHertz = RateHertz,
        DecimalMark = DecimalMark,
        Encoding = TextEncodings.Find(Encoding),
        Columns = [.. (Columns ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)],
    };
}
