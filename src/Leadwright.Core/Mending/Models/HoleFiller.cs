using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>Fills holes, and measures how well by making the same hole in the good part of the recording and predicting it.</summary>
/// <remarks>The whole pattern of missing slots is moved through the recording by quarters of a day, so that a trial has the hole's own lengths and the
/// values' own correlation. Errors are scaled with the root of the energy at stake.</remarks>
internal sealed class HoleFiller(LineSeries lines, RawSeries raw)
{
    private const int MostTrials = 40;

    private const int LeastTrials = 3;
    private const double MostFreedom = 60;
    private const double MostOfStake = 0.5;

    private const double OwnHours = 3;

    private readonly Dictionary<int, BeyondRange> _beyond = [];

    /// <summary>Fills everything that is missing.</summary>
    /// <param name="measures">True to measure the uncertainty too.</param>
    /// <param name="cancellation">Stops the work.</param>
    public List<FilledHole> Fill(bool measures, CancellationToken cancellation)
    {
        var groups = new Dictionary<HoleKey, List<int>>();
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (KeyOf(slot) is not { } key) continue;
            if (!groups.TryGetValue(key, out var slots)) groups.Add(key, slots = []);
            slots.Add(slot);
        }

        // Predictions rest on what is known, never on each other: all first, then put in.
        var filled = new List<FilledHole>();
        var values = new List<(int Element, int[] Slots, double[] Watts)>();
        foreach (var (key, slots) in groups)
        {
            cancellation.ThrowIfCancellationRequested();
            filled.Add(Fill(key, [.. slots], values, measures, cancellation));
        }

        foreach (var (element, slots, watts) in values)
        {
            for (var index = 0; index < slots.Length; index++)
            {
                lines.Watts[element][slots[index]] = watts[index];
                lines.States[element][slots[index]] = PowerState.Modelled;
            }
        }

        return filled;
    }

    private HoleKey? KeyOf(int slot)
    {
        Span<PowerState> states = stackalloc PowerState[3];
        states.Clear();
        var isHole = false;
        foreach (var element in raw.Elements)
        {
            var state = lines.States[element][slot];
            if (state <= PowerState.Mended && !double.IsFinite(lines.Watts[element][slot])) state = PowerState.NeedsShare;
            isHole |= state > PowerState.Mended;
            states[element] = state > PowerState.Mended ? state : PowerState.Measured;
        }

        if (!isHole) return null;
        if (raw.IsTotal) return new HoleKey(states[0], states[1], states[2], states[0] == PowerState.NeedsFactor ? lines.ClampsLost[slot] : (byte)0);
        var unknown = 0;
        for (var line = 0; line < raw.Lines && states.Contains(PowerState.NeedsFactor); line++)
            unknown |= raw.Volts[line] is not null && lines.VoltStates[line][slot] > PowerState.Mended ? 1 << line : 0;
        return new HoleKey(states[0], states[1], states[2], (byte)unknown);
    }

    private FilledHole Fill(HoleKey key, int[] slots, List<(int Element, int[] Slots, double[] Watts)> values, bool measures, CancellationToken cancellation)
    {
        var predictor = new HolePredictor(lines, raw, key);
        var unseen = new UnseenLoads(lines, raw, predictor);
        var isHidden = new bool[raw.Grid.Count];
        var energy = 0.0;
        var atStake = 0.0;
        double beyond = 0, size = 0, cut = 0;
        var isLearnt = true;
        foreach (var element in predictor.Missing)
        {
            var watts = new double[slots.Length];
            // Beyond its range a clamp showed less than there was.
            var isAtLeast = key[element] == PowerState.AtLeast;
            var excess = isAtLeast ? ExcessOf(element) : null;
            double told = 0;
            if (!isAtLeast)
            {
                isLearnt &= predictor.Predict(element, slots, isHidden, watts);
                unseen.Lean(slots, watts);
            }

            for (var index = 0; index < slots.Length; index++)
            {
                if (isAtLeast)
                {
                    var shown = lines.Watts[element][slots[index]];
                    var (more, known, error) = excess!(slots[index]);
                    watts[index] = shown * (1 + more + known);
                    lines.Shown[element][slots[index]] = shown;
                    beyond += shown * more * raw.Grid.Hours;
                    size += Math.Abs(shown * more) * raw.Grid.Hours;
                    told += Math.Abs(shown * error) * raw.Grid.Hours;
                }

                energy += watts[index] * raw.Grid.Hours;
                atStake += Math.Abs(watts[index]) * raw.Grid.Hours;
            }

            values.Add((element, slots, watts));
            cut += told * told;
        }

        // What was shown is known: nothing but what lies beyond it is at stake.
        var isShown = predictor.Missing.All(element => key[element] == PowerState.AtLeast);
        // Where power goes both ways its sign beyond the range was not seen either.
        var mixed = Math.Sqrt(cut + (0.25 * (size - Math.Abs(beyond)) * (size - Math.Abs(beyond))));
        if (isShown) return new FilledHole(key, slots, energy, mixed, 30, 0, isLearnt) { Beyond = beyond };
        var (uncertainty, freedom, trials) = isLearnt && measures ? Try(predictor, slots, atStake, cancellation) : (0.0, 0.0, 0);
        uncertainty = (uncertainty * (1 + (1.5 * UnseenShare(predictor, slots)))) + mixed;
        // Where power never comes back nothing is less than none, and rarely more than twice what is usual.
        if (uncertainty > MostOfStake * atStake && !predictor.Missing.Any(TakesBack)) (uncertainty, freedom) = (MostOfStake * atStake, MostFreedom);
        var isByFactor = predictor.Missing.All(element => key[element] == PowerState.NeedsFactor);
        var assumed = raw.IsTotal ? (isByFactor ? 0.15 : isLearnt ? 0.3 : 1) : isByFactor ? 0.06 : 0.3;
        if (raw.IsTotal && isByFactor && ByFactors(slots) is { } made && made.Sum(Math.Abs) * raw.Grid.Hours * lines.FactorsUncertainty < 0.5 * (isLearnt && trials >= LeastTrials ? uncertainty : assumed * atStake))
        {
            values[^1] = values[^1] with { Watts = made };
            return new FilledHole(key, slots, made.Sum() * raw.Grid.Hours, made.Sum(Math.Abs) * raw.Grid.Hours * lines.FactorsUncertainty, 30, 0, true) { Beyond = beyond };
        }

        var unlike = unseen.Uncertainty(slots);
        return trials >= LeastTrials
            ? new FilledHole(key, slots, energy, Math.Sqrt((uncertainty * uncertainty) + (unlike * unlike)), freedom, trials, isLearnt) { Beyond = beyond }
            : new FilledHole(key, slots, energy, Math.Sqrt((assumed * atStake * assumed * atStake) + (unlike * unlike)), 30, 0, isLearnt) { Beyond = beyond };
    }

    /// <summary>What the lines' usual loads make of the currents, where the total told it in all slots; null elsewhere.</summary>
    private double[]? ByFactors(int[] slots) => Array.TrueForAll(slots, slot => double.IsFinite(lines.ByFactors[slot])) ? Array.ConvertAll(slots, slot => lines.ByFactors[slot]) : null;

    private (double Uncertainty, double Freedom, int Trials) Try(HolePredictor predictor, int[] slots, double atStake, CancellationToken cancellation)
    {
        var count = raw.Grid.Count;
        var isHidden = new bool[count];
        var usable = new List<int>(slots.Length);
        double weighted = 0, weights = 0;
        var errors = new List<double>();
        foreach (var (shift, weight) in Shifts(count))
        {
            cancellation.ThrowIfCancellationRequested();
            usable.Clear();
            Array.Clear(isHidden);
            foreach (var slot in slots)
            {
                var moved = (slot + shift) % count;
                isHidden[moved] = true;
                if (predictor.CanTry(moved)) usable.Add(moved);
            }

            if (usable.Count < Math.Max(1, 0.6 * slots.Length)) continue;
            usable.Sort();
            var at = usable.ToArray();
            var watts = new double[at.Length];
            double error = 0, stake = 0;
            var isLearnt = true;
            foreach (var element in predictor.Missing)
            {
                isLearnt &= predictor.Predict(element, at, isHidden, watts);
                for (var index = 0; index < at.Length; index++)
                {
                    error += (watts[index] - lines.Watts[element][at[index]]) * raw.Grid.Hours;
                    stake += Math.Abs(watts[index]) * raw.Grid.Hours;
                }
            }

            if (!isLearnt || !(stake > 0)) continue;
            var scaled = error * error * Math.Max(atStake, 0.05 * stake) / stake;
            errors.Add(scaled);
            weighted += weight * scaled;
            weights += weight;
        }

        var trials = errors.Count;
        if (trials == 0) return (0, 0, 0);
        // Where loads switch, errors have longer tails than the normal law: the second largest of forty bounds nineteen in twenty.
        errors.Sort();
        var tail = errors[(int)(0.95 * (trials - 1))] / (1.96 * 1.96);
        var independent = (double)count / (slots[^1] - slots[0] + 1);
        var freedom = Math.Clamp(slots.Length > 0.5 * (slots[^1] - slots[0] + 1) ? Math.Min(trials, independent) : trials / 2.0, 2.5, MostFreedom);
        return (Math.Sqrt(Math.Max(weighted / weights, tail)), freedom, trials);
    }

    // By how much the hole is moved, slots, and what the trial counts: loads switch at hours of their own, so that trials at the hole's hours say most of it. They are
    // made by whole days and a slot to either side; the others, by quarters of a day, are a floor.
    private List<(int Shift, double Weight)> Shifts(int count)
    {
        var day = (int)Math.Round(24 / raw.Grid.Hours);
        var quarter = Math.Max(1, (int)Math.Round(6 / raw.Grid.Hours));
        var quarters = (count - 1) / quarter;
        if (quarters < 8) (quarter, quarters) = (Math.Max(1, count / 24), 23);
        var stride = Math.Max(1, quarters / MostTrials);
        var shifts = new List<(int, double)>();
        for (var step = 1; step <= quarters; step += stride)
        {
            var shift = step * quarter;
            var isOwn = shift % day == 0;
            shifts.Add((shift, isOwn ? OwnHours : 1));
            if (!isOwn || day < 24) continue;
            shifts.Add((shift - 1, OwnHours));
            shifts.Add((shift + 1, OwnHours));
        }

        return shifts;
    }

    // The share of the hole on a kind of day, workday or weekend, of which there is little to learn from.
    private double UnseenShare(HolePredictor predictor, int[] slots)
    {
        Span<int> seen = stackalloc int[2];
        Span<int> wanted = stackalloc int[2];
        for (var slot = 0; slot < raw.Grid.Count; slot++) seen[KindOf(slot)] += predictor.CanTry(slot) ? 1 : 0;
        foreach (var slot in slots) wanted[KindOf(slot)]++;
        var unseen = 0;
        for (var kind = 0; kind < 2; kind++) unseen += 2 * seen[kind] < wanted[kind] ? wanted[kind] : 0;
        return (double)unseen / slots.Length;
    }

    private bool TakesBack(int element)
    {
        var (back, all) = (0, 0);
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (lines.States[element][slot] > PowerState.Mended) continue;
            all++;
            if (lines.Watts[element][slot] < 0) back++;
        }

        return back > 0.01 * all;
    }

    private int KindOf(int slot) => DayProfile.BinOf(raw.Grid.Clocks[slot]) / DayProfile.Bins;

    /// <summary>By what share of itself the power of an element was larger than shown, by slot: by estimate beyond the range; by what waves that are cut still tell; and how well that is known.</summary>
    private Func<int, (double More, double Known, double Error)> ExcessOf(int element)
    {
        if (!raw.IsTotal) return slot => Beyond(element, slot);
        // Of a total each clamp has its share by its current.
        return slot =>
        {
            double more = 0, known = 0, error = 0, shown = 0;
            foreach (var clamp in raw.TotalClamps)
            {
                var amperes = lines.Amperes[clamp][slot];
                if (!(amperes > 0)) continue;
                shown += amperes;
                if (!(lines.ClipShares[clamp][slot] > 0)) continue;
                var own = Beyond(clamp, slot);
                (more, known, error) = (more + (amperes * own.More), known + (amperes * own.Known), error + (amperes * own.Error));
            }

            return shown > 0 ? (more / shown, known / shown, error / shown) : default;
        };
    }

    private (double More, double Known, double Error) Beyond(int clamp, int slot) =>
        double.IsNaN(lines.CutExcess[clamp][slot]) ? (Of(clamp).Excess(lines.ClipShares[clamp][slot]), 0, 0)
        : double.IsFinite(lines.CutErrors[clamp][slot]) ? (0, lines.CutExcess[clamp][slot], lines.CutErrors[clamp][slot]) : (lines.CutExcess[clamp][slot], 0, 0);

    private BeyondRange Of(int clamp) => _beyond.TryGetValue(clamp, out var known) ? known : _beyond[clamp] = new BeyondRange(lines, raw.Lines, clamp, slot => raw.Grid.From(slot).Hour);
}
