using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Asks of a current that was written alike for a while whether it could have been: a load that stands still reads so as well.</summary>
/// <remarks>
/// A current written as v in steps of s may be anything from v − s/2 to v + s/2. What it was besides its own column follows from its watts and vars over its voltage, |P + jQ| / V; where no
/// vars were written they are taken to keep still; what is read beyond that, harmonics, is taken to stay within a tenth; where no watts were, the voltage alone moves a load, one per cent by about one per cent either way; and the neutral's is the sum of the lines' (<see cref="NeutralSum"/>; where the clamp does
/// not follow that, of their amperes with a third of a turn between them). What then stays within the step says nothing of the clamp.
/// </remarks>
internal static class StandingLoad
{
    /// <summary>Watts, vars, volts and amperes of one recorder agree to this share beside what is lost in writing them.</summary>
    private const double Agree = 0.004;

    /// <summary>Rows that must be beyond what the step hides: one or two may be another moment's.</summary>
    private const int LeastRows = 3;

    /// <summary>So many written steps a load must have moved by with its voltage: a mix of heaters and electronics moves less than by the share its voltage does.</summary>
    private const double MostHidden = 4;

    /// <summary>A voltage that stands still while all others move by so many of its written steps did not stand still.</summary>
    private const double MostApart = 3;

    /// <summary>Harmonics change by a tenth as loads of one kind go (our choice): so much of their square over the current.</summary>
    private const double OfHarmonics = 0.1;

    private const double MostOfVolts = 0.2;
    private const double Near = 1.25;
    private const int LeastValues = 5;

    /// <summary>True where a clamp's current moved by more than the step it is written in, by the other columns, while its own stood still.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="from">First of the rows that read alike.</param>
    /// <param name="to">Last of them.</param>
    public static bool Moved(GuardFrame frame, int clamp, int from, int to)
    {
        if (frame.Amperes[clamp] is not { } amperes) return false;
        double value = amperes[from], step = StepNear(amperes, value);
        if (clamp == 3) return NeutralMoved(frame, value, step, from, to);
        var volts = Volts(frame, clamp, out var voltStep);
        if (volts is null) return false;
        if (frame.Watts[clamp] is not { } watts) return value * Range(volts, from, to) / Robust.Median(volts.AsSpan(from, to - from + 1)) > MostHidden * step;
        return PowersMoved(frame, watts, frame.Vars[clamp], volts, voltStep, value, step, from, to);
    }

    /// <summary>True where every other voltage moved by more than a few of the steps in which this one is written.</summary>
    public static bool OthersMoved(double[] column, double[][] others, int from, int to)
    {
        var step = StepNear(column, column[from]);
        return Array.TrueForAll(others, other => Range(other, from, to) > MostApart * step);
    }

    private static bool PowersMoved(GuardFrame frame, double[] watts, double[]? vars, double[] volts, double voltStep, double value, double step, int from, int to)
    {
        var count = to - from + 1;
        var unit = frame.UnitVolts / (frame.IsPairs ? Math.Sqrt(3) : 1);
        double wattStep = StepNear(watts, Robust.Median(watts.AsSpan(from, count))), varStep = vars is null ? 0 : StepNear(vars, Robust.Median(vars.AsSpan(from, count)));
        double[] inPhase = [.. Enumerable.Range(from, count).Select(row => watts[row] / volts[row] / unit)];
        var middle = Robust.Median(inPhase);
        var still = Math.Sqrt(Math.Max(0, (value * value) - (middle * middle)));
        double[] across = [.. Enumerable.Range(from, count).Select(row => vars is null ? still : vars[row] / volts[row] / unit)];
        double[] sizes = [.. inPhase.Zip(across, (real, imaginary) => Math.Sqrt((real * real) + (imaginary * imaginary)))];
        var usual = Robust.Median(sizes);
        if (!(usual > 0)) return false;
        var volt = Robust.Median(volts);
        var beyond = 0;
        for (var at = 0; at < count; at++)
        {
            // With its lead off a line's powers tell nothing of its current.
            if (!(Math.Abs((volts[from + at] / volt) - 1) < MostOfVolts)) continue;
            double real = Math.Abs(inPhase[at]) / sizes[at], imaginary = vars is null ? 0 : Math.Abs(across[at]) / sizes[at];
            var lost = (((real * wattStep) + (imaginary * varStep)) / volts[from + at] / unit) + (usual * voltStep / volts[from + at]);
            // The middle of the step is not known either: a whole step from the usual size.
            var hidden = (usual * ((step / value) + Agree)) + lost;
            if (!(Math.Abs(sizes[at] - usual) > (vars is null ? 2 * hidden : hidden))) continue;
            // What of the reading is no power, its harmonics, hides what the rest does: √(h² + s²).
            var harmonics = Math.Max(0, (value * value) - (usual * usual));
            var shown = Math.Sqrt(harmonics + (sizes[at] * sizes[at]));
            if (value <= usual || Math.Abs(shown - value) > step + (Agree * value) + (lost * sizes[at] / value) + (OfHarmonics * harmonics / value)) beyond++;
        }

        return beyond >= LeastRows;
    }

    private static bool NeutralMoved(GuardFrame frame, double value, double step, int from, int to)
    {
        if (frame.NeutralSum is not { } sum) return false;
        double[] sums = [.. Enumerable.Range(from, to - from + 1).Select(sum.At)];
        var written = frame.Amperes.Take(frame.Lines).Max(line => StepNear(line!, line![from]));
        return Range(sums, 0, sums.Length - 1) > (MostHidden * (step + written)) + (0.02 * value);
    }

    /// <summary>The voltage of a clamp's line; where they are lead to lead, what they have in common.</summary>
    private static double[]? Volts(GuardFrame frame, int clamp, out double step)
    {
        step = 0;
        if (!frame.IsPairs)
        {
            if (frame.Volts[clamp] is { } own) step = Robust.Step(own);
            return frame.Volts[clamp];
        }

        var all = frame.Volts.OfType<double[]>().ToArray();
        if (all.Length == 0) return null;
        step = Robust.Step(all[0]);
        return [.. Enumerable.Range(0, frame.Count).Select(row => all.Average(column => column[row]))];
    }

    /// <summary>The step in which values of about one size are written: recorders give fewer decimals to large ones.</summary>
    private static double StepNear(double[] column, double value)
    {
        var size = Math.Abs(value);
        var near = Array.FindAll(column, other => Math.Abs(other) >= size / Near && Math.Abs(other) <= size * Near);
        var step = Robust.Step(near);
        return near.Distinct().Take(LeastValues).Count() == LeastValues && step > 0 ? step : Robust.Step(column);
    }

    /// <summary>How far values go within some rows, the outermost fiftieth on both sides left out.</summary>
    private static double Range(double[] column, int from, int to)
    {
        var values = column.AsSpan(from, to - from + 1);
        return Robust.Quantile(values, 0.98) - Robust.Quantile(values, 0.02);
    }
}
