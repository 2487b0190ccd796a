using System.Collections.Immutable;

namespace Leadwright.Core.Signals;

/// <summary>The phasors of a recording's steady part.</summary>
public sealed record Snapshot
{
    /// <summary>The channels, in the order in which they were asked for.</summary>
    public required ImmutableArray<ChannelSnapshot> Channels { get; init; }

    /// <summary>Index among the recording's channels of the one that stands at 0 degrees: the first voltage asked for that
    /// is not dead, else the first current. Null when all are dead.</summary>
    public required int? ReferenceIndex { get; init; }

    /// <summary>The fundamental frequency that the phasors belong to, hertz.</summary>
    public required double FrequencyHertz { get; init; }

    /// <summary>Standard error of <see cref="FrequencyHertz"/>; null when it was not measured.</summary>
    public required double? FrequencyErrorHertz { get; init; }

    /// <summary>Where <see cref="FrequencyHertz"/> comes from.</summary>
    public required FrequencyOrigin FrequencyOrigin { get; init; }

    /// <summary>The part of the recording that was measured.</summary>
    public required Stretch Span { get; init; }

    /// <summary>Windows that <see cref="Span"/> was split into.</summary>
    public required int WindowCount { get; init; }

    /// <summary>Cycles in a window.</summary>
    public required int WindowCycles { get; init; }

    /// <summary>Cycles of waveform in the whole recording.</summary>
    public required int WaveformCycles { get; init; }

    /// <summary>Cycles in the steady stretch that <see cref="Span"/> was taken from, before any limit on its length.</summary>
    public required int SteadyCycles { get; init; }

    /// <summary>True when the whole recording is one state; false when something happens in it and only a part was measured.</summary>
    public bool IsSteady => SteadyCycles >= WaveformCycles;
}
