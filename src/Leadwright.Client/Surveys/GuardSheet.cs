using System.Collections.Immutable;
using System.Text.Json;

namespace Leadwright.Client.Surveys;

/// <summary>The answer of a guard as the host sends it, schema <c>leadwright.guard/1</c>.</summary>
public sealed record GuardSheet
{
    /// <summary>Start of the recording, by the recorder's clock.</summary>
    public DateTime From { get; init; }

    /// <summary>End of the recording.</summary>
    public DateTime To { get; init; }

    /// <summary>Everything that did not tell the truth, and every outage, in the order of their starts.</summary>
    public ImmutableArray<GuardSpanSheet> Spans { get => field.IsDefault ? [] : field; init; }

    /// <summary>By channel the share of the time over which it told the truth or can be set right exactly.</summary>
    public ImmutableSortedDictionary<string, double> Usable { get => field ?? ImmutableSortedDictionary<string, double>.Empty; init; }

    /// <summary>The history of the hook-up.</summary>
    public ImmutableArray<GuardPieceSheet> Hookups { get => field.IsDefault ? [] : field; init; }

    /// <summary>What could not be judged.</summary>
    public ImmutableArray<string> Notes { get => field.IsDefault ? [] : field; init; }

    /// <summary>How the file was read: columns, units, stamps.</summary>
    public ImmutableArray<string> Reading { get => field.IsDefault ? [] : field; init; }
}

/// <summary>A stretch of time over which something did not tell the truth.</summary>
public sealed record GuardSpanSheet
{
    /// <summary>What it is, as <c>lead-open</c>.</summary>
    public string Kind { get => field ?? ""; init; }

    /// <summary>The leads and clamps concerned.</summary>
    public ImmutableArray<string> Channels { get => field.IsDefault ? [] : field; init; }

    /// <summary>Start, by the recorder's clock.</summary>
    public DateTime From { get; init; }

    /// <summary>End.</summary>
    public DateTime To { get; init; }

    /// <summary>Probability that kind and channels are right.</summary>
    public double Confidence { get; init; }

    /// <summary>True when the evidence leaves the kind open.</summary>
    public bool Doubtful { get; init; }

    /// <summary>What was wrong and how it shows.</summary>
    public string Says { get => field ?? ""; init; }

    /// <summary>What to do about it; empty for nothing.</summary>
    public string Todo { get => field ?? ""; init; }
}

/// <summary>A stretch of time with one hook-up.</summary>
public sealed record GuardPieceSheet
{
    /// <summary>Start.</summary>
    public DateTime From { get; init; }

    /// <summary>End.</summary>
    public DateTime To { get; init; }

    /// <summary>Probability of this hook-up.</summary>
    public double Confidence { get; init; }

    /// <summary>Where every lead and clamp was, by its name.</summary>
    public ImmutableSortedDictionary<string, JsonElement> Hookup { get => field ?? ImmutableSortedDictionary<string, JsonElement>.Empty; init; }
}
