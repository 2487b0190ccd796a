using System.Collections.Immutable;
using Leadwright.Core.Measuring;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats.Limits;

namespace Leadwright.App.Verbs.Studying;

/// <summary>What the command line asks of <c>study</c>.</summary>
public sealed record StudyRequest : RecordingRequest
{
    /// <summary>Nothing said.</summary>
    public StudyRequest()
    {
    }

    /// <summary>What is said of the recording.</summary>
    /// <param name="recording">It.</param>
    public StudyRequest(RecordingRequest recording)
        : base(recording)
    {
    }

    /// <summary>Tables of limits.</summary>
    public ImmutableArray<LimitTable> Limits { get; init; } = [];

    /// <summary>Voltage-tolerance curves.</summary>
    public ImmutableArray<ToleranceCurve> Curves { get; init; } = ToleranceCurveReader.ReadShipped();

    /// <summary>What is known of the place where limits are judged, besides nominal values.</summary>
    public LimitSite Site { get; init; } = new();

    /// <summary>What the load study is to work out.</summary>
    public LoadStudyOptions Load { get; init; } = new();

    /// <summary>Length of a row that a sampled recording is measured into.</summary>
    public MeasuringInterval Interval { get; init; } = new(0, 60);

    /// <summary>A record of before, to compare with; null for none.</summary>
    public string? Before { get; init; }

    /// <summary>The time that parts the record into before and after; null for none.</summary>
    public DateTime? Split { get; init; }

    /// <summary>Standard uncertainty of the instrument between two spans, percent of reading.</summary>
    public double InstrumentPercent { get; init; } = 0.5;

    /// <summary>Folder for tables and plots; null for none.</summary>
    public string? Output { get; init; }

    /// <summary>Whether a survey's recording is studied as the recorder wrote it, its corrections left aside.</summary>
    public bool IsUnmended { get; init; }
}
