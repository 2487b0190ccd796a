using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Events;

/// <summary>Where an event lies against a tolerance curve.</summary>
public enum ToleranceRegion
{
    /// <summary>Between the curves: equipment is to ride through.</summary>
    Within,

    /// <summary>Below the lower curve: equipment may stop.</summary>
    Below,

    /// <summary>Above the upper curve: equipment may be damaged.</summary>
    Above,

    /// <summary>The curve says nothing of so short or so long an event.</summary>
    NotCovered,
}

/// <summary>A step of a tolerance curve.</summary>
/// <param name="FromSeconds">From this duration on, s.</param>
/// <param name="ToSeconds">Up to this duration, s; infinity for no end.</param>
/// <param name="StartPercent">Limit at its start, percent of nominal.</param>
/// <param name="EndPercent">Limit at its end; a straight line on the logarithm of time between.</param>
public readonly record struct ToleranceStep(double FromSeconds, double ToSeconds, double StartPercent, double EndPercent)
{
    internal double At(double seconds) => StartPercent == EndPercent
        ? StartPercent : StartPercent + (Math.Log(seconds / FromSeconds) / Math.Log(ToSeconds / FromSeconds) * (EndPercent - StartPercent));
}

/// <summary>Which voltage for how long equipment is to endure.</summary>
/// <param name="Name">Its name with edition.</param>
/// <param name="Lower">The lower curve.</param>
/// <param name="Upper">The upper curve; empty for none.</param>
public sealed record ToleranceCurve(string Name, ImmutableArray<ToleranceStep> Lower, ImmutableArray<ToleranceStep> Upper)
{
    /// <summary>The word it is chosen by.</summary>
    public string Word { get; init; } = Name;

    /// <summary>Edition of the source.</summary>
    public string Edition { get; init; } = "";

    /// <summary>The ITI (CBEMA) curve, revised 2000, for 120 V 60 Hz information-technology equipment.</summary>
    /// <remarks>The same as the data file of that name, for what takes no file. From memory, the upper steps beyond 3 ms seen as well; between 1 and 3 ms reproductions differ. Held by tests/data/limits/tolerance_curves.csv.</remarks>
    public static ToleranceCurve Iti { get; } = new(
        "ITI 2000",
        [new(0, 0.02, 0, 0), new(0.02, 0.5, 70, 70), new(0.5, 10, 80, 80), new(10, double.PositiveInfinity, 90, 90)],
        [new(0.00016667, 0.001, 500, 200), new(0.001, 0.003, 140, 140), new(0.003, 0.5, 120, 120), new(0.5, double.PositiveInfinity, 110, 110)]);

    /// <summary>SEMI F47-0706, what is required: 50 % to 0.2 s, 70 % to 0.5 s, 80 % to 1 s; nothing below 0.05 s.</summary>
    public static ToleranceCurve SemiF47 { get; } = new(
        "SEMI F47-0706", [new(0.05, 0.2, 50, 50), new(0.2, 0.5, 70, 70), new(0.5, 1, 80, 80)], []);

    /// <summary>Where an event lies.</summary>
    /// <param name="seconds">Its duration, s.</param>
    /// <param name="percent">Its residual or highest voltage, percent of nominal.</param>
    /// <remarks>A duration on the border of two steps belongs to the shorter one: what is required up to 0.2 s is required at 0.2 s.</remarks>
    public ToleranceRegion Of(double seconds, double percent)
    {
        var isCovered = false;
        foreach (var step in Lower)
        {
            if (!(seconds > step.FromSeconds || (seconds == step.FromSeconds && step.FromSeconds == Lower[0].FromSeconds)) || seconds > step.ToSeconds) continue;
            isCovered = true;
            if (percent < step.At(seconds)) return ToleranceRegion.Below;
        }

        foreach (var step in Upper)
        {
            if (seconds <= step.FromSeconds || seconds > step.ToSeconds) continue;
            isCovered = true;
            if (percent > step.At(seconds)) return ToleranceRegion.Above;
        }

        return isCovered ? ToleranceRegion.Within : ToleranceRegion.NotCovered;
    }
}
