using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>The record against a bill.</summary>
/// <param name="Quantity">What is compared: <c>energy</c> or <c>peak demand</c>.</param>
/// <param name="Recorded">Recorded value, brought to the days of the bill for an energy; Wh or W.</param>
/// <param name="Billed">Billed value, Wh or W.</param>
/// <remarks>
/// <para>MIL-HDBK-1133 calls an agreement within a fifth reasonable. A ratio within a twentieth of a known one names it. It suggests a slip and proves none: the bill may
/// cover other days and other loads.</para>
/// </remarks>
public sealed record BillComparison(string Quantity, double Recorded, double Billed)
{
    private const double Agreement = 0.2;
    private const double Likeness = 0.05;

    /// <summary>Recorded over billed.</summary>
    public double Ratio => Recorded / Billed;

    /// <summary>True within a fifth.</summary>
    public bool Agrees => Math.Abs(Ratio - 1) <= Agreement;

    /// <summary>Known ratios near by, nearest first; none where the two agree.</summary>
    public ImmutableArray<BillRatio> Suggestions => Agrees ? [] :
    [
        .. BillRatio.Known.Where(known => Math.Abs(Ratio - known.Value) <= Likeness * Math.Max(Math.Abs(known.Value), 1.0 / 3))
            .OrderBy(known => Math.Abs(Ratio - known.Value)),
    ];
}
