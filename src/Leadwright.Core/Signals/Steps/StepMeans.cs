using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals.Steps;

/// <summary>Means of phasors before and after a time, in one frame of angles.</summary>
internal sealed class StepMeans
{
    private const int SlopeReach = 25;
    private readonly CyclePhasors _phasors;
    private readonly ImmutableArray<SignalKind> _kinds;
    private readonly SignalKind _referenceKind;
    private readonly double[] _turn;

    public StepMeans(CyclePhasors phasors, ImmutableArray<SignalKind> kinds)
    {
        (_phasors, _kinds) = (phasors, kinds);
        _referenceKind = kinds.Contains(SignalKind.Voltage) ? SignalKind.Voltage : SignalKind.Current;
        _turn = CommonTurn();
        Sizes = new double[kinds.Length];
        Directions = new Phasor[kinds.Length];
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            double sum = 0;
            var total = Phasor.Zero;
            var count = 0;
            for (var cycle = 0; cycle < phasors.Count; cycle++)
            {
                var phasor = phasors[cycle][channel];
                if (!double.IsFinite(phasor.Real)) continue;
                sum += phasor.Magnitude;
                total += phasor * Phasor.FromRadians(1, -_turn[cycle]);
                count++;
            }

            Sizes[channel] = count > 0 ? sum / count : 0;
            Directions[channel] = total.Magnitude > 0 ? total / total.Magnitude : new Phasor(1, 0);
        }
    }

    /// <summary>Mean size of each channel.</summary>
    public double[] Sizes { get; }

    /// <summary>Mean direction of each channel, the common turn taken off; of size one.</summary>
    public Phasor[] Directions { get; }

    /// <summary>The change of every channel between the means before a cycle and from the gap after it.</summary>
    /// <param name="at">First cycle that the change reaches.</param>
    /// <param name="beforeCount">Cycles in the mean before.</param>
    /// <param name="afterCount">Cycles in the mean after.</param>
    /// <param name="change">Receives after minus before.</param>
    /// <param name="before">Receives the means before; null when they are not wanted.</param>
    /// <returns>False where a voltage or the whole window is missing.</returns>
    /// <remarks>The common turn's slope (frequency) is taken off, its step at the change is left in: it belongs to the load.</remarks>
    public bool Change(int at, int beforeCount, int afterCount, Phasor[] change, Phasor[]? before)
    {
        const int Gap = 2;
        var middle = at - 1;
        var slope = Slope(middle);
        var any = false;
        for (var channel = 0; channel < _kinds.Length; channel++)
        {
            var first = Mean(channel, at - beforeCount, beforeCount, slope, middle);
            change[channel] = Mean(channel, at + Gap, afterCount, slope, middle) - first;
            if (before is not null) before[channel] = first;
            any |= double.IsFinite(change[channel].Real);
        }

        return any;
    }

    /// <summary>The larger of a channel's sizes just before and after.</summary>
    public double SizeAround(int at, int channel)
    {
        var before = _phasors[at - 1][channel].Magnitude;
        var after = _phasors[Math.Min(_phasors.Count - 1, at + 2)][channel].Magnitude;
        return Math.Max(double.IsFinite(before) ? before : 0, double.IsFinite(after) ? after : 0);
    }

    private Phasor Mean(int channel, int first, int count, double slope, int middle)
    {
        var sum = Phasor.Zero;
        for (var cycle = first; cycle < first + count; cycle++)
            sum += _phasors[cycle][channel] * Phasor.FromRadians(1, -(slope * (cycle - middle)) - _turn[middle]);
        return sum / count;
    }

    /// <summary>Turn from cycle to cycle around a time, steps left out.</summary>
    private double Slope(int middle)
    {
        var first = Math.Max(0, middle - SlopeReach);
        var last = Math.Min(_turn.Length - 1, middle + SlopeReach);
        if (last - first < 2) return 0;
        Span<double> increments = stackalloc double[last - first];
        for (var cycle = first; cycle < last; cycle++) increments[cycle - first] = _turn[cycle + 1] - _turn[cycle];
        increments.Sort();
        var median = increments[increments.Length / 2];
        // The middle half spans 1.35 standard deviations.
        var limit = 3 * ((increments[3 * increments.Length / 4] - increments[increments.Length / 4]) / 1.35) + 1e-12;
        double sum = 0;
        var count = 0;
        foreach (var increment in increments)
        {
            if (Math.Abs(increment - median) > limit) continue;
            sum += increment;
            count++;
        }

        return count > 0 ? sum / count : median;
    }

    /// <summary>The angle by which all voltages (currents where there are none) have turned together, unwrapped.</summary>
    private double[] CommonTurn()
    {
        var turn = new double[_phasors.Count];
        var anchor = new Phasor[_kinds.Length];
        double total = 0;
        for (var cycle = 0; cycle < turn.Length; cycle++)
        {
            var product = Phasor.Zero;
            var row = _phasors[cycle];
            for (var channel = 0; channel < _kinds.Length; channel++)
            {
                if (_kinds[channel] != _referenceKind || !double.IsFinite(row[channel].Real)) continue;
                product += row[channel] * anchor[channel].Conjugate;
                anchor[channel] = row[channel];
            }

            if (product != Phasor.Zero) total += product.AngleRadians;
            turn[cycle] = total;
        }

        return turn;
    }
}
