namespace Leadwright.Core.Integrity;

/// <summary>The relation that decided what a span is.</summary>
public enum SpanRelation
{
    /// <summary>The voltage of a lead went and the current beside it did not notice.</summary>
    VoltageWentCurrentStayed,

    /// <summary>Voltage and current went together.</summary>
    VoltageAndCurrentWent,

    /// <summary>The voltages stand in the proportions of a supply that lost one phase on its high-voltage side.</summary>
    UpstreamPhaseLost,

    /// <summary>Line to neutral voltages went apart in opposite ways while line to line ones stayed.</summary>
    NeutralOfSupplyLost,

    /// <summary>The voltages stand in the proportions that a lead on another conductor makes.</summary>
    VoltageProportions,

    /// <summary>Two channels read the same in every interval.</summary>
    TwoChannelsAlike,

    /// <summary>The angle of the power turned all at once.</summary>
    PowerAngleTurned,

    /// <summary>The total power is not what the voltages and currents come to with every clamp at its own line's voltage.</summary>
    TotalAway,

    /// <summary>Current went and the voltage of its phase did not rise as it does when load goes.</summary>
    CurrentWentVoltageUnmoved,

    /// <summary>Current went by far more than the other phases and the hour explain.</summary>
    CurrentWentAlone,

    /// <summary>A current changed by one of the usual ratios, and the voltage's answer to it did not.</summary>
    CurrentScaled,

    /// <summary>The current lost ground slowly against the other phases and against its voltage's answer.</summary>
    CurrentDrifted,

    /// <summary>The currents do not add up as Kirchhoff's law wants.</summary>
    CurrentsDoNotAddUp,

    /// <summary>The readings as a whole, weighed by the hook-up check.</summary>
    ReadingsWeighed,

    /// <summary>The largest values pile up at one value and go no higher.</summary>
    ValuesPileUp,

    /// <summary>Above one value the voltage goes on falling while the current hardly rises.</summary>
    VoltageFallsOn,

    /// <summary>The tops of the sampled waves stand on one value and are cut off flat.</summary>
    WavesCutFlat,

    /// <summary>One value was repeated.</summary>
    ValueRepeated,

    /// <summary>There are no rows, or rows without values.</summary>
    RowsMissing,

    /// <summary>A counter of energy started again.</summary>
    CounterRestarted,

    /// <summary>The times moved while the values went on.</summary>
    TimesMoved,
}

/// <summary>Why a span was reported, as numbers; the words for people belong to the reports.</summary>
/// <param name="Relation">The relation that decided.</param>
/// <param name="LogOdds">Natural logarithm of how many times likelier the reported kind made the values than the strongest other
/// explanation; above zero speaks for the report.</param>
public sealed record SpanFinding(SpanRelation Relation, double LogOdds)
{
    /// <summary>The strongest other explanation; null when there is none to name.</summary>
    public SpanKind? Rival { get; init; }

    /// <summary>What the channel read before (after, where the span is the first), in its base unit; NaN when not told.</summary>
    public double Before { get; init; } = double.NaN;

    /// <summary>What it read within the span, in its base unit; NaN when not told.</summary>
    public double Within { get; init; } = double.NaN;

    /// <summary>The other channels of the kind, within the span over before; NaN when not told.</summary>
    public double OthersRatio { get; init; } = double.NaN;

    /// <summary>Current of the phase, within the span over before; NaN when not told.</summary>
    public double CurrentRatio { get; init; } = double.NaN;

    /// <summary>By how much the angle of the power turned, degrees, −180 to 180; NaN when not told.</summary>
    public double TurnDegrees { get; init; } = double.NaN;

    /// <summary>The number of intervals that speak.</summary>
    public int Intervals { get; init; }

    /// <summary>By how much the clock was set, seconds; NaN when not told.</summary>
    public double Seconds { get; init; } = double.NaN;
}
