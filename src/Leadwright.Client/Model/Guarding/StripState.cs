using System.Collections.Immutable;

namespace Leadwright.Client.Model.Guarding;

/// <summary>What a lead, a clamp or the recorder was doing, as the watch strip shows it: a pattern, a letter and a word.</summary>
/// <param name="Word">The word, which also names the pattern.</param>
/// <param name="Letter">The letter on it.</param>
/// <param name="Says">What it means, for the legend.</param>
public sealed record StripState(string Word, string Letter, string Says)
{
    /// <summary>It told the truth.</summary>
    public static StripState Sound { get; } = new("sound", "S", "told the truth");

    /// <summary>The evidence leaves it open.</summary>
    public static StripState Doubtful { get; } = new("doubtful", "D", "in doubt");

    /// <summary>A lead in the air, a clamp open or off.</summary>
    public static StripState Open { get; } = new("open", "O", "open or off");

    /// <summary>A clamp that faced the source.</summary>
    public static StripState Reversed { get; } = new("reversed", "R", "faced the source");

    /// <summary>On another conductor than its own.</summary>
    public static StripState Wrong { get; } = new("wrong", "W", "on the wrong conductor");

    /// <summary>A ratio or range set wrong.</summary>
    public static StripState Ratio { get; } = new("ratio", "F", "wrong factor: ratio or range");

    /// <summary>At the end of its range.</summary>
    public static StripState Limit { get; } = new("limit", "L", "at the limit of its range");

    /// <summary>Repeated one value.</summary>
    public static StripState Stuck { get; } = new("stuck", "T", "stuck at one value");

    /// <summary>No rows.</summary>
    public static StripState NoData { get; } = new("nodata", "N", "no data");

    /// <summary>The supply was gone.</summary>
    public static StripState Outage { get; } = new("outage", "P", "power really out");

    /// <summary>The clock was set.</summary>
    public static StripState Clock { get; } = new("clock", "C", "clock set");

    /// <summary>All of them, as the legend lists them.</summary>
    public static ImmutableArray<StripState> All { get; } = [Sound, Doubtful, Open, Reversed, Wrong, Ratio, Limit, Stuck, NoData, Outage, Clock];

    /// <summary>The state that a kind of span stands for.</summary>
    /// <param name="kind">As <c>lead-open</c>.</param>
    /// <param name="isDoubtful">True when the evidence leaves the kind open.</param>
    public static StripState Of(string kind, bool isDoubtful) => isDoubtful ? Doubtful : kind switch
    {
        "lead-open" or "clamp-open" or "neutral-open" => Open,
        "clamp-reversed" => Reversed,
        "ratio-wrong" => Ratio,
        "over-range" => Limit,
        "stuck" => Stuck,
        "no-data" => NoData,
        "outage" => Outage,
        "clock-jump" => Clock,
        _ => Wrong,
    };
}
