using System.Collections.Immutable;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Load;

/// <summary>A ratio of record to bill that a known slip makes.</summary>
/// <param name="Value">Recorded over billed.</param>
/// <param name="Suggests">What it would suggest, in words.</param>
public readonly record struct BillRatio(double Value, string Suggests)
{
    /// <summary>Known ratios.</summary>
    /// <remarks>One clamp of three reversed reads a third, one missing two thirds: closed forms of docs/methods/wrong-connection-effects.md for equal loads on the phases.
    /// Ratios of 2, ½, 5 and 10: a range or transformer ratio set wrong, half of the parallel conductors in the clamp.</remarks>
    public static ImmutableArray<BillRatio> Known =>
    [
        new(1.0 / 3, Say.Of("bill.one-of-three-clamps-facing-the", "one of three clamps facing the wrong way")),
        new(2.0 / 3, Say.Of("bill.one-clamp-or-one-voltage-lead", "one clamp or one voltage lead missing, or one phase not recorded")),
        new(2, Say.Of("bill.a-transformer-or-clamp-ratio-set", "a transformer or clamp ratio set twice too large, or a bill for half of the time or of the loads")),
        new(0.5, Say.Of("bill.a-ratio-set-to-half", "a transformer or clamp ratio set to half, half of the parallel conductors in the clamps, or the middle lead of a two-clamp hook-up off")),
        new(-1.0 / 3, Say.Of("bill.two-of-three-clamps-facing-the", "two of three clamps facing the wrong way")),
        new(-1, Say.Of("bill.all-clamps-facing-the-wrong-way", "all clamps facing the wrong way, or a site that sends power back")),
        new(10, Say.Of("bill.a-clamp-range-set-ten-times", "a clamp range set ten times too large")),
        new(0.1, Say.Of("bill.a-clamp-range-ten-times-small", "a clamp range set ten times too small")),
        new(5, Say.Of("bill.a-transformer-ratio-set-five-times", "a transformer ratio set five times too large")),
        new(0.2, Say.Of("bill.a-transformer-ratio-five-times-small", "a transformer ratio set five times too small")),
        new(0, Say.Of("bill.two-clamps-exchanged-the-phases-then", "two clamps exchanged: the phases then cancel")),
        new(1 / Math.Sqrt(3), Say.Of("bill.line-to-line-and-line-to", "line-to-line and line-to-neutral voltage taken for each other")),
        new(Math.Sqrt(3), Say.Of("bill.line-to-line-and-line-to", "line-to-line and line-to-neutral voltage taken for each other")),
    ];
}
