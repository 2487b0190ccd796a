using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Steps;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>All that the steps of a recording say, as sums over the steps.</summary>
/// <remarks>Voltages are in units of the reference voltage, currents in amperes.</remarks>
internal sealed class StepTable
{
    /// <summary>More steps than this say nothing new: the largest are taken.</summary>
    public const int MostSteps = 60;

    private readonly Dictionary<ulong, StepSums> _sums = [];

    private StepTable(Channel[] voltages, Clamp[] clamps)
    {
        Voltages = voltages;
        Clamps = clamps;
        MeanVoltages = new Phasor[voltages.Length];
        CurrentNoise = new double[clamps.Length];
        LargestAmperes = new double[clamps.Length];
    }

    /// <summary>The voltage channels.</summary>
    public Channel[] Voltages { get; }

    /// <summary>The clamps.</summary>
    public Clamp[] Clamps { get; }

    /// <summary>Number of steps; at most <see cref="MostSteps"/>.</summary>
    public int Count => Currents.Length;

    /// <summary>The voltages themselves, mean over the steps (over the unclaimed changes where there is no step), in one frame.</summary>
    public Phasor[] MeanVoltages { get; }

    /// <summary>Noise of a change of each clamp, real and imaginary part together, amperes.</summary>
    public double[] CurrentNoise { get; }

    /// <summary>Wandering of each voltage for itself, as a share of the reference.</summary>
    public double OwnWandering { get; private set; }

    /// <summary>How far the voltages' changes are off for want of exact clamps and inputs, as a share of the reference.</summary>
    public double ModelWandering { get; private set; }

    /// <summary>Wandering that all voltages share.</summary>
    public double CommonWandering { get; private set; }

    /// <summary>Root mean square over the steps of the largest change of a clamp, amperes.</summary>
    public double TypicalAmperes { get; private set; }

    /// <summary>The largest current of each clamp before or after a step, amperes as read.</summary>
    public double[] LargestAmperes { get; }

    /// <summary>The changes of the clamps, step by step, amperes.</summary>
    public Phasor[][] Currents { get; private set; } = [];

    /// <summary>The changes of the voltages, step by step, in units of the reference.</summary>
    public Phasor[][] Changes { get; private set; } = [];

    /// <summary>Changes of the voltages at which no clamp changed.</summary>
    public List<Phasor[]> Unclaimed { get; } = [];

    /// <summary>The sums over all steps but those in a set of bits.</summary>
    public StepSums Without(ulong leftOut)
    {
        if (_sums.TryGetValue(leftOut, out var known)) return known;
        var sums = new StepSums(Voltages.Length, Clamps.Length);
        for (var step = 0; step < Count; step++)
        {
            if ((leftOut & (1UL << step)) == 0) sums.Add(Changes[step], Currents[step]);
        }

        return _sums[leftOut] = sums;
    }

    /// <summary>The sums for the channels of an observation.</summary>
    /// <param name="steps">The steps.</param>
    /// <param name="voltages">The voltage channels to use.</param>
    /// <param name="clamps">The clamps to use.</param>
    /// <param name="referenceVolts">Unit of voltage.</param>
    /// <returns>The sums, which may be over no step where only voltages moved; null when no change was read in all channels.</returns>
    public static StepTable? Of(PanelSteps? steps, IEnumerable<Channel> voltages, IEnumerable<Clamp> clamps, double referenceVolts)
    {
        if (steps is null || (steps.Steps.Steps.IsEmpty && steps.Steps.Unclaimed.IsEmpty)) return null;
        var table = new StepTable(
            [.. voltages.Where(channel => steps.Channels.Contains(channel) && IsAlive(steps, channel, referenceVolts))],
            [.. clamps.Where(clamp => steps.Channels.Contains(Channel.I1 + (int)clamp))]);
        if (table.Voltages.Length == 0 || table.Clamps.Length == 0) return null;
        int[] voltageAt = [.. table.Voltages.Select(channel => steps.Channels.IndexOf(channel))];
        int[] clampAt = [.. table.Clamps.Select(clamp => steps.Channels.IndexOf(Channel.I1 + (int)clamp))];
        table.OwnWandering = steps.Steps.OwnWandering;
        table.CommonWandering = steps.Steps.CommonWandering;
        for (var clamp = 0; clamp < clampAt.Length; clamp++) table.CurrentNoise[clamp] = steps.Steps.Noise[clampAt[clamp]];
        var used = new List<(Phasor[] Volts, Phasor[] Amperes)>();
        var largest = steps.Steps.Steps
            .OrderByDescending(step => clampAt.Max(index => step.Changes[index].Magnitude / steps.Steps.Noise[index]))
            .Take(MostSteps).OrderBy(step => step.Seconds);
        foreach (var step in largest) table.Add(step, voltageAt, clampAt, referenceVolts, used);
        foreach (var step in steps.Steps.Unclaimed.Take(MostSteps))
        {
            if (Turned(step, voltageAt, clampAt, referenceVolts) is not { } turned) continue;
            table.Unclaimed.Add(turned.Volts);
            if (used.Count == 0) table.AddMean(step, voltageAt, turned.Turn, referenceVolts);
        }

        if (used.Count + table.Unclaimed.Count == 0) return null;
        for (var index = 0; index < table.MeanVoltages.Length; index++) table.MeanVoltages[index] /= used.Count > 0 ? used.Count : table.Unclaimed.Count;
        if (used.Count == 0) return table;
        table.Currents = [.. used.Select(step => step.Amperes)];
        table.Changes = [.. used.Select(step => step.Volts)];
        table.TypicalAmperes = Math.Sqrt(table.TypicalAmperes / used.Count);
        table.ModelWandering = SourceModel.ModelError * TypicalChange(table.Changes);
        return table;
    }

    /// <summary>Root mean square over the steps of the largest change of a voltage.</summary>
    private static double TypicalChange(Phasor[][] changes) => Math.Sqrt(changes.Average(step => step.Max(change => change.SquaredMagnitude)));

    // A channel that reads next to nothing, on the neutral or in the air, tells of no line.
    private static bool IsAlive(PanelSteps steps, Channel channel, double referenceVolts)
    {
        var index = steps.Channels.IndexOf(channel);
        var seen = steps.Steps.Steps.IsEmpty ? steps.Steps.Unclaimed : steps.Steps.Steps;
        return seen.Average(step => step.Before[index].Magnitude) > 0.1 * referenceVolts;
    }

    /// <summary>A step's changes in one frame for all steps, voltages in units of the reference; null where a channel is missing.</summary>
    private static (Phasor[] Volts, Phasor[] Amperes, Phasor Turn)? Turned(SwitchingStep step, int[] voltageAt, int[] clampAt, double unit)
    {
        // Each step has its own frame; the first voltage that is alive turns them into one.
        var frame = voltageAt.Select(index => step.Before[index]).MaxBy(phasor => phasor.Magnitude);
        foreach (var index in voltageAt)
        {
            if (step.Before[index].Magnitude < 0.3 * frame.Magnitude) continue;
            frame = step.Before[index];
            break;
        }

        if (!(frame.Magnitude > 0)) return null;
        var turn = frame.Conjugate / frame.Magnitude;
        Phasor[] volts = [.. voltageAt.Select(index => turn * step.Changes[index] / unit)];
        Phasor[] amperes = [.. clampAt.Select(index => turn * step.Changes[index])];
        return volts.Concat(amperes).All(phasor => double.IsFinite(phasor.Real)) ? (volts, amperes, turn) : null;
    }

    private void Add(SwitchingStep step, int[] voltageAt, int[] clampAt, double unit, List<(Phasor[] Volts, Phasor[] Amperes)> used)
    {
        if (Turned(step, voltageAt, clampAt, unit) is not { } turned) return;
        double largest = 0;
        for (var clamp = 0; clamp < clampAt.Length; clamp++)
        {
            var index = clampAt[clamp];
            largest = Math.Max(largest, step.Changes[index].SquaredMagnitude);
            LargestAmperes[clamp] = Math.Max(LargestAmperes[clamp], Math.Max(
                step.Before[index].Magnitude, (step.Before[index] + step.Changes[index]).Magnitude));
        }

        TypicalAmperes += largest;
        AddMean(step, voltageAt, turned.Turn, unit);
        used.Add((turned.Volts, turned.Amperes));
    }

    private void AddMean(SwitchingStep step, int[] voltageAt, Phasor turn, double unit)
    {
        for (var one = 0; one < voltageAt.Length; one++) MeanVoltages[one] += turn * step.Before[voltageAt[one]] / unit;
    }
}
