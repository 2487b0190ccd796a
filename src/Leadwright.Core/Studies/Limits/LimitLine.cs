using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Limits;

/// <summary>One limit against the data.</summary>
/// <param name="Rule">The limit.</param>
/// <param name="Place">The channel that is worst among those that could be judged.</param>
/// <param name="Order">The harmonic order that is worst; 0 for everything else.</param>
/// <param name="Verdict">Whether that channel meets it. A pass says nothing of channels that were not judged: see <see cref="NotJudged"/>.</param>
public sealed record LimitLine(LimitRule Rule, LogPlace Place, int Order, LimitVerdict Verdict)
{
    /// <summary>Least allowed value in the measured unit; NaN for none.</summary>
    public double Least { get; init; } = double.NaN;

    /// <summary>Largest allowed value in the measured unit; NaN for none.</summary>
    public double Most { get; init; } = double.NaN;

    /// <summary>The measured statistic that stands against the bound: the value that the rule's share of the values does not go beyond. NaN without data.</summary>
    public double Measured { get; init; } = double.NaN;

    /// <summary>Unit of the bounds and of the measured statistic.</summary>
    public string Unit { get; init; } = "";

    /// <summary>Share of the judged values that lie within, percent; NaN without data.</summary>
    public double WithinPercent { get; init; } = double.NaN;

    /// <summary>Values that were judged.</summary>
    public int Count { get; init; }

    /// <summary>Values that a whole period would hold; 0 when any number will do.</summary>
    public int NeededCount { get; init; }

    /// <summary>Values left out because a dip, swell or interruption fell within them.</summary>
    public int FlaggedCount { get; init; }

    /// <summary>Start of the period it was judged over.</summary>
    public DateTime From { get; init; }

    /// <summary>The weakest standing of the values judged.</summary>
    public Standing Weakest { get; init; }

    /// <summary>Why it can't be judged, or what else to know; empty for nothing.</summary>
    public string Why { get; init; } = "";

    /// <summary>Each channel's own line, in the order of the channels, where there is more than one; its worst harmonic where the rule is about several.</summary>
    public ImmutableArray<LimitLine> Channels { get; init; } = [];

    /// <summary>The channels that could not be judged though another one could.</summary>
    public IEnumerable<LimitLine> NotJudged => Verdict == LimitVerdict.NotEnoughData ? [] : Channels.Where(line => line.Verdict == LimitVerdict.NotEnoughData);

    /// <inheritdoc/>
    public bool Equals(LimitLine? other) => other is not null && Rule == other.Rule && Place == other.Place && Order == other.Order && Verdict == other.Verdict
        && Measured.Equals(other.Measured) && Least.Equals(other.Least) && Most.Equals(other.Most) && Count == other.Count && From == other.From && Why == other.Why
        && Channels.SequenceEqual(other.Channels);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Rule, Place, Order, Verdict, Measured);
}
