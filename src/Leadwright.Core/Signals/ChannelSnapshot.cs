using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>What one channel reads in a snapshot.</summary>
public sealed record ChannelSnapshot
{
    /// <summary>Its index among the recording's channels.</summary>
    public required int Index { get; init; }

    /// <summary>What it measures.</summary>
    public required SignalKind Kind { get; init; }

    /// <summary>The fundamental, rms, mean of the windows; angle from the snapshot's reference. Zero when the channel is missing.</summary>
    public required Phasor Phasor { get; init; }

    /// <summary>One standard deviation, over the windows, of the real and imaginary parts of <see cref="Phasor"/> (pooled);
    /// null when only one window was measured.</summary>
    public required double? Spread { get; init; }

    /// <summary>Rms of the samples with everything in them, the direct component too; NaN when the channel is missing.</summary>
    public required double TrueRms { get; init; }

    /// <summary>The direct component (mean); NaN when the channel is missing.</summary>
    public required double Direct { get; init; }

    /// <summary>Rms phasors of orders 1, 2, 3 …, element 0 being the fundamental; order h is referenced h times as far as the
    /// fundamental, so that a shift in time leaves all of them as they are. Mean of the windows.</summary>
    public required ImmutableArray<Phasor> Harmonics { get; init; }

    /// <summary>One standard deviation, over the windows, of the real and imaginary parts of each of <see cref="Harmonics"/>
    /// (pooled); of one window alone, what its residue leaves.</summary>
    public required ImmutableArray<double> HarmonicSpread { get; init; }

    /// <summary>Windows that went into it.</summary>
    public required int WindowCount { get; init; }

    /// <summary>Windows left out because a sample in them is missing.</summary>
    public required int SkippedWindowCount { get; init; }

    /// <summary>True when the tops are cut flat at the extreme value in half the cycles or more: the input was driven
    /// beyond its range, and sizes read too small.</summary>
    public required bool IsClipped { get; init; }

    /// <summary>True when nothing periodic arrives: constant, noise, or a flicker of one converter step.</summary>
    public required bool IsDead { get; init; }

    /// <summary>True when every window holds a missing sample.</summary>
    public bool IsMissing => WindowCount == 0;

    /// <summary>Fundamental over <see cref="TrueRms"/>, 0 to 1; NaN when the channel is missing or reads nothing at all.</summary>
    public double FundamentalFraction => Phasor.Magnitude / TrueRms;

    /// <summary>Total harmonic distortion over the orders measured, as a fraction of the fundamental; NaN without one.</summary>
    public double HarmonicDistortion
    {
        get
        {
            double sum = 0;
            for (var index = 1; index < Harmonics.Length; index++) sum += Harmonics[index].SquaredMagnitude;
            return Math.Sqrt(sum) / Phasor.Magnitude;
        }
    }
}
