using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>The highest demand of one kind and length.</summary>
/// <param name="Kind">Block or sliding.</param>
/// <param name="Minutes">Length of the window, minutes.</param>
/// <param name="Watts">The mean power of the highest window, W; NaN when no window could be judged.</param>
/// <param name="From">Its start.</param>
/// <param name="Weakest">The weakest standing within it.</param>
public sealed record DemandPeak(DemandKind Kind, double Minutes, double Watts, DateTime From, Standing Weakest)
{
    /// <summary>Its end.</summary>
    public DateTime To => From.AddMinutes(Minutes);

    /// <summary>Mean power of each phase in the same window, W, where the log has phases; else empty.</summary>
    public ImmutableArray<double> PhaseWatts { get; init; } = [];

    /// <summary>Windows that were judged.</summary>
    public int WindowCount { get; init; }

    /// <summary>Windows left out because a part of them is missing or only estimated: an estimate is never a peak.</summary>
    public int LeftOutCount { get; init; }

    /// <summary>The highest window that was left out because a part of it is estimated, W; NaN when there was none.</summary>
    public double HighestModelledWatts { get; init; } = double.NaN;

    /// <summary>Mean of all judged windows, W.</summary>
    public double MeanWatts { get; init; } = double.NaN;

    /// <summary>Load factor: mean over highest demand; NaN where power flows back in one of them, for it says nothing then.</summary>
    public double LoadFactor => Watts > 0 && MeanWatts >= 0 ? MeanWatts / Watts : double.NaN;
}
