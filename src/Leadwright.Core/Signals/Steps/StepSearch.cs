using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals.Steps;

/// <summary>Finds the load-switching steps in phasors cycle by cycle.</summary>
/// <remarks>
/// <para>A step is where the mean of a current after a time differs from its mean before by far more than such means differ
/// elsewhere. The common turn of all voltages (frequency) is taken off first. Derivation and limits:
/// docs/methods/switching-steps.md.</para>
/// <para>A change of the supply moves all load with it: its voltages change by as large a share as its currents. A switched load
/// changes the voltage by far less, the drop of a source that carries its load: so the two are told apart without knowing
/// which lead belongs to which clamp.</para>
/// </remarks>
public static class StepSearch
{
    /// <summary>Cycles that a mean takes where nothing else happens.</summary>
    private const int LongMean = 12;
    private const int ShortMean = 4;

    /// <summary>Windows around a change that hold a part of it.</summary>
    private const int Gap = 2;

    /// <summary>Squared change over its usual value: e to the minus this by chance.</summary>
    private const double Significant = 30;

    /// <summary>Smallest change worth a regression, as a share of the current.</summary>
    private const double LeastShare = 0.004;

    /// <summary>Smallest change of a voltage that a mean must not reach over.</summary>
    private const double LeastVoltageShare = 0.0006;

    /// <summary>Voltage change over current change, each as a share: a switched load stays below, a supply change is near 1.</summary>
    private const double SupplyRatio = 0.25;

    private const double CountedVoltageShare = 0.001;

    /// <summary>A voltage's own change counts as a load's when it is this many times its wandering.</summary>
    private const double UnclaimedFactor = 8;

    private const double UsualOwnWandering = 2e-4;
    private const double UsualCommonWandering = 6e-4;
    private const double LeastWandering = 3e-5;
    private const double UsualWeight = 3;

    /// <summary>Searches a table of phasors.</summary>
    /// <param name="phasors">The phasors, cycle by cycle.</param>
    /// <param name="kinds">What each channel measures.</param>
    public static SwitchingSteps Find(CyclePhasors phasors, ImmutableArray<SignalKind> kinds)
    {
        ArgumentNullException.ThrowIfNull(phasors);
        var means = new StepMeans(phasors, kinds);
        var changes = new Phasor[Math.Max(0, phasors.Count), kinds.Length];
        var isKnown = new bool[phasors.Count];
        var change = new Phasor[kinds.Length];
        for (var at = ShortMean; at + Gap + ShortMean <= phasors.Count; at++)
        {
            isKnown[at] = means.Change(at, ShortMean, ShortMean, change, null);
            for (var channel = 0; channel < kinds.Length; channel++) changes[at, channel] = change[channel];
        }

        var noise = Noise(changes, isKnown, kinds, means.Sizes);
        var peaks = Peaks(changes, isKnown, kinds, noise, means);
        var quiet = Quiet(isKnown, peaks);
        var (own, common) = Wandering(changes, quiet, kinds, means);
        var steps = ImmutableArray.CreateBuilder<SwitchingStep>();
        var unclaimed = ImmutableArray.CreateBuilder<SwitchingStep>();
        var (supply, voltageChanges) = (0, 0);
        for (var number = 0; number < peaks.Count; number++)
        {
            var (at, isCurrent) = peaks[number];
            var before = Math.Min(LongMean, at - (number > 0 ? peaks[number - 1].At + Gap : 0));
            var after = Math.Min(LongMean, (number + 1 < peaks.Count ? peaks[number + 1].At : phasors.Count) - at - Gap);
            var frame = new Phasor[kinds.Length];
            if (before < 1 || after < 1 || !means.Change(at, before, after, change, frame)) continue;
            if (!isCurrent)
            {
                if (LargestVoltageShare(change, frame, kinds) > CountedVoltageShare) voltageChanges++;
                if (IsBeyondWandering(change, frame, kinds, own, common))
                    unclaimed.Add(new SwitchingStep(phasors.StartSeconds + ((at + 1) / phasors.Hertz), [.. change], [.. frame]));
                continue;
            }

            if (IsOfTheSupply(change, frame, kinds)) supply++;
            else steps.Add(new SwitchingStep(phasors.StartSeconds + ((at + 1) / phasors.Hertz), [.. change], [.. frame]));
        }

        return new SwitchingSteps
        {
            Kinds = kinds,
            Steps = steps.ToImmutable(),
            Unclaimed = unclaimed.ToImmutable(),
            SupplyChanges = supply,
            VoltageChanges = voltageChanges,
            OwnWandering = own,
            CommonWandering = common,
            Noise = [.. noise],
            Seconds = phasors.Count / phasors.Hertz,
        };
    }

    /// <summary>Usual size of a difference of short means, from its lower third: the upper may hold the steps.</summary>
    private static double[] Noise(Phasor[,] changes, bool[] isKnown, ImmutableArray<SignalKind> kinds, double[] sizes)
    {
        var noise = new double[kinds.Length];
        var squares = new List<double>(isKnown.Length);
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            squares.Clear();
            for (var at = 0; at < isKnown.Length; at++)
            {
                if (isKnown[at] && double.IsFinite(changes[at, channel].Real)) squares.Add(changes[at, channel].SquaredMagnitude);
            }

            squares.Sort();
            // A third of the squares of a normal phasor lie below −ln(2/3) of their mean.
            var mean = squares.Count > 0 ? squares[squares.Count / 3] / -Math.Log(2.0 / 3) : 0;
            noise[channel] = Math.Sqrt(mean) + (LeastWandering * sizes[channel]) + 1e-9;
        }

        return noise;
    }

    /// <summary>Where currents change, and where voltages do: a mean must not reach over either.</summary>
    private static List<(int At, bool IsCurrent)> Peaks(
        Phasor[,] changes, bool[] isKnown, ImmutableArray<SignalKind> kinds, double[] noise, StepMeans means)
    {
        var scores = new double[isKnown.Length];
        var currents = new double[isKnown.Length];
        for (var at = 0; at < isKnown.Length; at++)
        {
            if (!isKnown[at]) continue;
            for (var channel = 0; channel < kinds.Length; channel++)
            {
                if (!double.IsFinite(changes[at, channel].Real)) continue;
                var size = changes[at, channel].Magnitude;
                var isCurrent = kinds[channel] == SignalKind.Current;
                if (size < (isCurrent ? LeastShare : LeastVoltageShare) * means.SizeAround(at, channel)) continue;
                var score = size / noise[channel] * (size / noise[channel]);
                scores[at] = Math.Max(scores[at], score);
                if (isCurrent) currents[at] = Math.Max(currents[at], score);
            }
        }

        // The largest first; what lies within its reach belongs to it.
        var order = Enumerable.Range(0, scores.Length).Where(at => scores[at] > Significant).OrderByDescending(at => scores[at]);
        var isTaken = new bool[scores.Length];
        var peaks = new List<(int At, bool IsCurrent)>();
        foreach (var at in order)
        {
            if (isTaken[at]) continue;
            peaks.Add((at, currents[at] > Significant));
            const int Reach = ShortMean + Gap;
            for (var near = Math.Max(0, at - Reach); near <= Math.Min(scores.Length - 1, at + Reach); near++) isTaken[near] = true;
        }

        peaks.Sort();
        return peaks;
    }

    private static bool[] Quiet(bool[] isKnown, List<(int At, bool IsCurrent)> peaks)
    {
        const int Reach = (2 * ShortMean) + Gap;
        var quiet = (bool[])isKnown.Clone();
        foreach (var (peak, _) in peaks)
        {
            for (var near = Math.Max(0, peak - Reach); near <= Math.Min(quiet.Length - 1, peak + Reach); near++) quiet[near] = false;
        }

        return quiet;
    }

    /// <summary>Wandering of the voltages where nothing is switched: together and each for itself. Little to go by falls back
    /// on what is usual.</summary>
    private static (double Own, double Common) Wandering(
        Phasor[,] changes, bool[] quiet, ImmutableArray<SignalKind> kinds, StepMeans means)
    {
        var sizes = means.Sizes;
        double largest = 0;
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (kinds[channel] == SignalKind.Voltage) largest = Math.Max(largest, sizes[channel]);
        }

        if (largest == 0) return (UsualOwnWandering, UsualCommonWandering);
        double own = 0, common = 0, ownCount = 0, commonCount = 0;
        for (var at = 0; at < quiet.Length; at++)
        {
            if (!quiet[at]) continue;
            // Means that overlap say the same twice.
            const double Independent = 1.0 / ShortMean;
            double squares = 0;
            var sum = Phasor.Zero;
            var live = 0;
            for (var channel = 0; channel < kinds.Length; channel++)
            {
                if (kinds[channel] != SignalKind.Voltage || sizes[channel] < 0.3 * largest || !double.IsFinite(changes[at, channel].Real)) continue;
                var share = changes[at, channel] * means.Directions[channel].Conjugate / sizes[channel];
                squares += share.SquaredMagnitude;
                sum += share;
                live++;
            }

            if (live == 0) continue;
            common += Independent * (sum / live).SquaredMagnitude;
            commonCount += Independent;
            if (live < 2) continue;
            own += Independent * Math.Max(0, squares - (live * (sum / live).SquaredMagnitude)) / (live - 1);
            ownCount += Independent;
        }

        return (
            Blend(own, ownCount, UsualOwnWandering),
            Blend(common, commonCount, UsualCommonWandering));
    }

    private static double Blend(double squares, double count, double usual) =>
        Math.Max(LeastWandering, Math.Sqrt((squares + (UsualWeight * usual * usual)) / (count + UsualWeight)));

    private static double LargestVoltageShare(Phasor[] change, Phasor[] before, ImmutableArray<SignalKind> kinds)
    {
        double largest = 0;
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (kinds[channel] == SignalKind.Voltage && double.IsFinite(change[channel].Real) && before[channel].Magnitude > 0)
                largest = Math.Max(largest, LiveShare(change[channel].Magnitude / before[channel].Magnitude, before[channel].Magnitude, before, kinds));
        }

        return largest;
    }

    /// <summary>True when a voltage moves, after what all share is taken off, by more than voltages wander here. One voltage alone shares
    /// nothing with others: its whole change counts, against how far all wander.</summary>
    private static bool IsBeyondWandering(Phasor[] change, Phasor[] before, ImmutableArray<SignalKind> kinds, double own, double common)
    {
        double largest = 0, most = 0;
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (kinds[channel] == SignalKind.Voltage && double.IsFinite(before[channel].Real)) largest = Math.Max(largest, before[channel].Magnitude);
        }

        var mean = Phasor.Zero;
        var shares = new List<Phasor>();
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (kinds[channel] != SignalKind.Voltage || !(before[channel].Magnitude > 0.3 * largest) || !double.IsFinite(change[channel].Real)) continue;
            shares.Add(change[channel] / before[channel]);
            mean += shares[^1];
        }

        if (shares.Count == 0) return false;
        if (shares.Count == 1) return kinds.Count(kind => kind == SignalKind.Voltage) == 1 && mean.Magnitude > UnclaimedFactor * common;
        foreach (var share in shares) most = Math.Max(most, (share - (mean / shares.Count)).Magnitude);
        return most > UnclaimedFactor * own;
    }

    private static bool IsOfTheSupply(Phasor[] change, Phasor[] before, ImmutableArray<SignalKind> kinds)
    {
        double volts = 0, amperes = 0;
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (!double.IsFinite(change[channel].Real)) continue;
            var size = Math.Max(before[channel].Magnitude, (before[channel] + change[channel]).Magnitude);
            if (size <= 0) continue;
            var share = change[channel].Magnitude / size;
            if (kinds[channel] == SignalKind.Voltage) volts = Math.Max(volts, LiveShare(share, size, before, kinds));
            else amperes = Math.Max(amperes, share);
        }

        return volts > SupplyRatio * amperes;
    }

    // A lead in the air has next to no voltage, whose changes are large shares of it.
    private static double LiveShare(double share, double size, Phasor[] before, ImmutableArray<SignalKind> kinds)
    {
        double largest = 0;
        for (var channel = 0; channel < kinds.Length; channel++)
        {
            if (kinds[channel] == SignalKind.Voltage) largest = Math.Max(largest, before[channel].Magnitude);
        }

        return size > 0.3 * largest ? share : 0;
    }
}
