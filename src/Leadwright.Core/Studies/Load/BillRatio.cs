using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>A ratio of record to bill that a known slip makes.</summary>
/// <param name="Value">Recorded over billed.</param>
/// <param name="Suggests">What it would suggest, in words.</param>
public readonly record struct BillRatio(double Value, string Suggests)
{
    /// <summary>Known ratios.</summary>
    /// <remarks>One clamp of three reversed reads a third, one missing two thirds: closed forms of docs/methods/wrong-connection-effects.md for equal loads on the phases.
    /// Ratios of 2, ½, 5 and 10: a range or transformer ratio set wrong, half of the parallel conductors in the clamp.</remarks>
    public static ImmutableArray<BillRatio> Known { get; } =
    [
        new(1.0 / 3, "one of three clamps facing the wrong way"),
        new(2.0 / 3, "one clamp or one voltage lead missing, or one phase not recorded"),
        new(2, "a transformer or clamp ratio set twice too large, or a bill for half of the time or of the loads"),
        new(0.5, "a transformer or clamp ratio set to half, half of the parallel conductors in the clamps, or the middle lead of a two-clamp hook-up off"),
        new(-1.0 / 3, "two of three clamps facing the wrong way"),
        new(-1, "all clamps facing the wrong way, or a site that sends power back"),
        new(10, "a clamp range set ten times too large"),
        new(0.1, "a clamp range set ten times too small"),
        new(5, "a transformer ratio set five times too large"),
        new(0.2, "a transformer ratio set five times too small"),
        new(0, "two clamps exchanged: the phases then cancel"),
        new(1 / Math.Sqrt(3), "line-to-line and line-to-neutral voltage taken for each other"),
        new(Math.Sqrt(3), "line-to-line and line-to-neutral voltage taken for each other"),
    ];
}
