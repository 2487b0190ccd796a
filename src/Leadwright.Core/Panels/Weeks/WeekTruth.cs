using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>A stretch of a virtual week with one hook-up.</summary>
/// <param name="From">Start, by the recorder's clock.</param>
/// <param name="To">End.</param>
/// <param name="Hookup">The hook-up.</param>
public sealed record TruePiece(DateTime From, DateTime To, Hookup Hookup);

/// <summary>A mishap as it stands in the log.</summary>
/// <param name="Mishap">What happened.</param>
/// <param name="Leads">The leads concerned.</param>
/// <param name="Clamps">The clamps concerned.</param>
/// <param name="From">Onset, exact, by the recorder's clock.</param>
/// <param name="To">End.</param>
public sealed record TrueSpan(Mishap Mishap, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, DateTime From, DateTime To);

/// <summary>What really happened in a virtual week.</summary>
/// <param name="Spans">The mishaps, in the order of their onsets.</param>
/// <param name="Hookups">The history of the hook-up.</param>
/// <param name="EnergyWattHours">Energy to the load over the whole week, gaps included.</param>
/// <param name="LineEnergyWattHours">The same by line A, B, C: what a right hook-up would have read in each phase (each element).</param>
public sealed record WeekTruth(
    ImmutableArray<TrueSpan> Spans,
    ImmutableArray<TruePiece> Hookups,
    double EnergyWattHours,
    ImmutableArray<double> LineEnergyWattHours);
