namespace Leadwright.Core.Signals.Events;

/// <summary>What kind of voltage event it was.</summary>
public enum VoltageEventKind
{
    /// <summary>Dip (sag): a channel fell below the dip threshold.</summary>
    Dip,

    /// <summary>Swell: a channel rose above the swell threshold.</summary>
    Swell,

    /// <summary>Interruption: all channels fell below the interruption threshold.</summary>
    Interruption,

    /// <summary>Rapid voltage change: from one steady level to another without becoming a dip or swell.</summary>
    RapidChange,

    /// <summary>Transient: a deviation from the cycle before, too short to move the rms value.</summary>
    Transient,
}

/// <summary>A voltage event on one channel or several.</summary>
/// <param name="Kind">What it was.</param>
/// <param name="Lanes">Bits of the lanes that took part, lane 0 in the lowest.</param>
/// <param name="StartPlace">Its start in frames from the start of the segment.</param>
/// <param name="EndPlace">Its end; the end of the segment when it had not ended by then.</param>
/// <param name="ExtremeFraction">Residual voltage (dip, interruption) or highest voltage (swell) over the declared voltage; rapid
/// change: the largest difference from the level before; transient: the largest deviation over the nominal peak.</param>
/// <param name="SteadyFraction">Rapid change: difference of the steady levels; else 0.</param>
/// <param name="IsCutShort">True when the segment began or ended within it.</param>
public readonly record struct VoltageEvent(
    VoltageEventKind Kind, int Lanes, double StartPlace, double EndPlace, double ExtremeFraction, double SteadyFraction, bool IsCutShort)
{
    /// <summary>Its length in frames.</summary>
    public double Length => EndPlace - StartPlace;
}
