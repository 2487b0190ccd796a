using System.Collections.Immutable;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Comtrade;

/// <summary>A COMTRADE record as read.</summary>
public sealed record ComtradeRecording
{
    /// <summary>What the configuration states.</summary>
    public required ComtradeConfiguration Configuration { get; init; }

    /// <summary>The analog channels in base units.</summary>
    public required SampledRecording Recording { get; init; }

    /// <summary>The status channels.</summary>
    public required ComtradeStatusSamples Statuses { get; init; }

    /// <summary>The time stamps of the data as written, before the time multiplier; NaN where missing.</summary>
    public required ReadOnlyMemory<double> Stamps { get; init; }

    /// <summary>The free text beside the record (.hdr); empty when there is none.</summary>
    public string HeaderText { get; init; } = "";

    /// <summary>The information file beside the record (.inf); empty when there is none.</summary>
    public string InformationText { get; init; } = "";

    /// <summary>What was met and put up with.</summary>
    public ImmutableArray<ReadWarning> Warnings { get; init; } = [];
}
