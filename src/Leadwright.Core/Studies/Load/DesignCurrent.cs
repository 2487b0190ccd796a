using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>A capacity check in the manner of IEC 60364-4-43 clause 433.1: design current against rated current, Ib ≤ In ≤ Iz.</summary>
/// <param name="MeasuredAmperes">Highest rms current over fifteen minutes on the highest-loaded phase, A.</param>
/// <param name="DesignAmperes">The same and the new load, Ib, A.</param>
/// <param name="RatedAmperes">Rated current of the protective device, In, A.</param>
/// <param name="CableAmperes">Current-carrying capacity of the cable as laid, Iz, A; NaN when not stated.</param>
/// <remarks>
/// <para>From memory of the standard. Fifteen minutes are our choice: the heating of low-voltage cables follows the current with time constants of some five to
/// sixty minutes (common practice, no source). A record of some days shows these days' load, not the year's.</para>
/// </remarks>
public sealed record DesignCurrent(double MeasuredAmperes, double DesignAmperes, double RatedAmperes, double CableAmperes)
{
    /// <summary>Share of the rated current in use, percent.</summary>
    public double UsedPercent => 100 * DesignAmperes / RatedAmperes;

    /// <summary>What is left, A.</summary>
    public double SpareAmperes => (double.IsNaN(CableAmperes) ? RatedAmperes : Math.Min(RatedAmperes, CableAmperes)) - DesignAmperes;

    /// <summary>True when Ib ≤ In, and In ≤ Iz where Iz is stated.</summary>
    public bool Fits => DesignAmperes <= RatedAmperes && !(RatedAmperes > CableAmperes);

    /// <summary>Works it out.</summary>
    /// <param name="data">The log.</param>
    /// <param name="rating">Rated current and new load.</param>
    /// <param name="cableAmperes">Iz; NaN when not stated.</param>
    /// <returns>Null when neither currents nor power with a voltage are known.</returns>
    public static DesignCurrent? Of(StudyData data, FeederRating rating, double cableAmperes = double.NaN)
    {
        ArgumentNullException.ThrowIfNull(rating);
        var currents = PhaseLoading.Of(data).Where(phase => phase.Place != LogPlace.Neutral && double.IsFinite(phase.DemandAmperes)).ToList();
        var measured = currents.Count > 0
            ? currents.Max(phase => phase.DemandAmperes)
            : data.ActivePower(LogPlace.Whole) is { } power ? rating.AmperesOf(Demand.Highest(power, DemandKind.Block, 15)?.Watts ?? double.NaN) : double.NaN;
        if (!double.IsFinite(measured)) return null;
        return new DesignCurrent(measured, measured + (rating.NewWatts > 0 ? rating.AmperesOf(rating.NewWatts) : 0), rating.RatedAmperes, cableAmperes);
    }
}
