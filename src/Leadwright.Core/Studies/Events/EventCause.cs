namespace Leadwright.Core.Studies.Events;

/// <summary>What kind of happening a dip looks like.</summary>
public enum EventCauseKind
{
    /// <summary>Nothing that these rules know.</summary>
    Unknown,

    /// <summary>A motor started: all phases alike, sudden fall, slow recovery, several times the current.</summary>
    MotorStart,

    /// <summary>A transformer was energised: phases unlike, second harmonic in the current, slow recovery.</summary>
    TransformerEnergising,

    /// <summary>A fault: sudden fall and sudden recovery.</summary>
    Fault,
}

/// <summary>What a dip looks like, and by what.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Says">The evidence in words.</param>
/// <remarks>Rules of thumb from memory of the literature: motor start = balanced, sudden, then gradual recovery; energising = second harmonic that lasts for cycles, 1 % of the voltage or,
/// with unequal phases, 15 % of the current; fault = rectangular. A likeness, no diagnosis.</remarks>
public sealed record EventCause(EventCauseKind Kind, string Says)
{
    private const double Balanced = 0.02;
    private const double SecondHarmonic = 0.01;
    private const double SomeSecond = 0.005;
    private const double SecondInCurrent = 0.15;
    private const double SlowShare = 0.25;

    /// <summary>Names the kind.</summary>
    /// <param name="run">Phasors around the dip.</param>
    public static EventCause Of(CyclePhasorRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        var culture = System.Globalization.CultureInfo.InvariantCulture;
        var levels = new double[run.Voltages.Count];
        for (var step = 0; step < levels.Length; step++) levels[step] = Enumerable.Range(0, 3).Min(phase => Fraction(run, step, phase));
        var deepest = run.Onset;
        for (var step = run.Onset; step < Math.Min(run.End + 1, levels.Length); step++)
        {
            if (levels[step] < levels[deepest]) deepest = step;
        }

        // The first cycle holds the edge and the offset of the current: what kind it is shows behind it.
        var (first, end) = run.Settled;
        double Settled(Func<int, double> value) => Median([.. Enumerable.Range(first, end - first).Select(value)]);
        var spread = Settled(step => Fractions(run, step).Max() - Fractions(run, step).Min());
        var second = LateSecond(run);
        var inCurrent = run is { HasCurrents: true, Second.Count: > 0 }
            ? Late(run, step => Enumerable.Range(0, 3).Max(phase => run.Second[step][phase].Amperes.Magnitude / Math.Max(run.Currents[step][phase].Magnitude, 1e-6))) : double.NaN;
        var depth = 1 - levels[deepest];
        // How much of the depth comes back in one cycle at most, from the deepest point to the end of what was captured.
        var fastest = 0.0;
        for (var step = deepest; step + 2 < levels.Length; step++) fastest = Math.Max(fastest, levels[step + 2] - levels[step]);
        var recovered = levels[^1] - levels[deepest];
        var isSlow = fastest < 0.6 * depth;
        var rise = run.HasCurrents
            ? Settled(step => Enumerable.Range(0, 3).Max(phase => run.Currents[step][phase].Magnitude / Math.Max(run.Currents[run.Before][phase].Magnitude, 1e-6))) : double.NaN;
        var words = string.Create(
            culture, $"deepest phase at {100 * levels[deepest]:0.0} %, phases apart by {100 * spread:0.0} %, at most {100 * fastest / depth:0} % of the depth back within a cycle{(double.IsNaN(second) ? "" : string.Create(culture, $", second harmonic {100 * second:0.0} % of the voltage"))}{(double.IsNaN(rise) ? "" : string.Create(culture, $", current {rise:0.0} times"))}");
        if (second >= SecondHarmonic || (isSlow && inCurrent >= SecondInCurrent && spread > Balanced))
            return new(isSlow || fastest < 0.9 * depth ? EventCauseKind.TransformerEnergising : EventCauseKind.Unknown, words);
        if (isSlow && spread <= Math.Max(Balanced, 0.15 * depth) && !(second >= SomeSecond)) return new(EventCauseKind.MotorStart, words);
        if (!isSlow && recovered > (1 - SlowShare) * depth) return new(EventCauseKind.Fault, words);
        return new(EventCauseKind.Unknown, words);
    }

    /// <summary>Second harmonic of the voltage that lasts, over the voltage before; NaN when not worked out.</summary>
    internal static double LateSecond(CyclePhasorRun run) => run.Second.Count == 0 ? double.NaN
        : Late(run, step => Enumerable.Range(0, 3).Max(phase => run.Second[step][phase].Volts.Magnitude / Math.Max(run.Voltages[run.Before][phase].Magnitude, 1e-9)));

    private static double Late(CyclePhasorRun run, Func<int, double> value) => Median([.. Enumerable.Range(run.Late.First, run.Late.End - run.Late.First).Select(value)]);

    private static double[] Fractions(CyclePhasorRun run, int step) => [Fraction(run, step, 0), Fraction(run, step, 1), Fraction(run, step, 2)];

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return Percentile.Of(values, 50);
    }

    private static double Fraction(CyclePhasorRun run, int step, int phase) =>
        run.Voltages[step][phase].Magnitude / Math.Max(run.Voltages[run.Before][phase].Magnitude, 1e-9);
}
