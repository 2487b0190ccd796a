using System.Collections.Immutable;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Findings;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>What a study of one file gave.</summary>
public sealed record StudyDocument
{
    /// <summary>The file as it was named.</summary>
    public required string File { get; init; }

    /// <summary>The service, as in the contract of the command line.</summary>
    public required string Service { get; init; }

    /// <summary>False when nobody stated the service and the record can't tell it; <see cref="Service"/> is then the one by which it was read.</summary>
    public bool IsServiceKnown { get; init; } = true;

    /// <summary>What was studied.</summary>
    public required StudyData Data { get; init; }

    /// <summary>The load study; null without power.</summary>
    public LoadStudy? Load { get; init; }

    /// <summary>The voltages.</summary>
    public ImmutableArray<VoltageLevel> Voltages { get; init; } = [];

    /// <summary>95th percentile of the negative-sequence unbalance of the voltages, percent; NaN without.</summary>
    public double UnbalancePercent { get; init; } = double.NaN;

    /// <summary>Voltage events; null when the file holds none and none could be looked for.</summary>
    public ImmutableArray<StudyEvent>? Events { get; init; }

    /// <summary>The voltage-tolerance curves that events are held against.</summary>
    public ImmutableArray<ToleranceCurve> Curves { get; init; } = [ToleranceCurve.Iti, ToleranceCurve.SemiF47];

    /// <summary>The days by each statistic, worst first.</summary>
    public ImmutableArray<WorstDays> WorstDays { get; init; } = [];

    /// <summary>What events came together with; null with too few.</summary>
    public EventPatterns? Patterns { get; init; }

    /// <summary>The limits that were asked for.</summary>
    public ImmutableArray<LimitReport> Limits { get; init; } = [];

    /// <summary>What was found, most consequential first.</summary>
    public ImmutableArray<Finding> Findings { get; init; } = [];

    /// <summary>What this record can't show.</summary>
    public ImmutableArray<string> CannotShow { get; init; } = [];

    /// <summary>The record against another one or its two parts against each other; null when not asked for.</summary>
    public StudyComparison? Comparison { get; init; }

    /// <summary>The files that were written.</summary>
    public ImmutableArray<string> Written { get; init; } = [];

    /// <summary>What a person must know about how the file was read.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>How many corrections the values were mended by before they were studied; 0 for values as they were read.</summary>
    public int Corrections { get; init; }
}

/// <summary>A table of limits and how it was met.</summary>
/// <param name="Table">The table.</param>
/// <param name="Lines">One line for each limit that applies.</param>
public sealed record LimitReport(LimitTable Table, ImmutableArray<LimitLine> Lines);
