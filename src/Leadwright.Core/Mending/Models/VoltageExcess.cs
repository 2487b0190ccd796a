using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>By how much a clamp carried more than its range, from the voltage that its line's load pulled down meanwhile.</summary>
/// <remarks>
/// A line's voltage less the mean of the others is fitted, over the slots in which no clamp stood at its end, by the currents: y = b·I + Σ c·I(other) + a. At the end of the range
/// it stands lower than what was shown explains, and what is missing over b is the current that was not shown. How well that is known is tried out: the pattern of those slots is
/// moved through the recording by quarters of a day, and the mean of what is left over there should be nothing. Derivation: docs/methods/mending.md.
/// </remarks>
internal static class VoltageExcess
{
    private const int LeastTrials = 6;
    private const double LeastOfPattern = 0.6;

    // Of what was shown: known worse than that the voltage says less than the order of such things does.
    private const double WorstKnown = 0.2;

    // A fall is in proportion to the mean current at one power factor; by how much a load beyond all others departs from that is our choice.
    private const double ProportionError = 0.35;
    private const double LeastSure = 6;

    /// <summary>Puts what it tells into the series' excess by slot.</summary>
    public static void Put(LineSeries lines, RawSeries raw)
    {
        if (raw.IsThreeWire || raw.Lines < 2) return;
        for (var line = 0; line < raw.Lines; line++)
        {
            int[] slots = [.. Enumerable.Range(0, raw.Grid.Count).Where(slot => lines.ClipShares[line][slot] > 0 && double.IsNaN(lines.CutExcess[line][slot]))];
            if (slots.Length > 0) Put(lines, raw, line, slots);
        }
    }

    private static void Put(LineSeries lines, RawSeries raw, int line, int[] slots)
    {
        var count = raw.Grid.Count;
        var rests = new double[count];
        var isGood = new bool[count];
        Span<double> causes = stackalloc double[raw.Lines + 1];
        var fit = new NormalEquations(raw.Lines + 1);
        for (var slot = 0; slot < count; slot++)
        {
            rests[slot] = double.NaN;
            if (!TryCauses(lines, raw, line, slot, causes, out var apart)) continue;
            isGood[slot] = true;
            for (var other = 0; other < raw.Lines; other++) isGood[slot] &= !(lines.ClipShares[other][slot] > 0);
            if (isGood[slot]) fit.Add(causes, apart);
        }

        if (fit.Solve() is not { } weights || !(weights[0] < 0)) return;
        double squares = 0;
        var good = 0;
        for (var slot = 0; slot < count; slot++)
        {
            if (!TryCauses(lines, raw, line, slot, causes, out var apart)) continue;
            rests[slot] = apart;
            for (var index = 0; index < weights.Length; index++) rests[slot] -= weights[index] * causes[index];
            if (!isGood[slot]) continue;
            squares += rests[slot] * rests[slot];
            good++;
        }

        if (-weights[0] < LeastSure * fit.ErrorOfFirst() * Math.Sqrt(squares / good)) return;
        if (MeanOf(rests, slots, 0, null) is not { } mean || Trials(rests, isGood, slots, raw) is not { } error) return;
        var shown = slots.Average(slot => lines.Amperes[line][slot]);
        var more = Math.Max(0, mean / weights[0]);
        var known = Math.Sqrt((error / weights[0] * (error / weights[0])) + (ProportionError * more * ProportionError * more));
        if (!(known < WorstKnown * shown)) return;
        var share = slots.Average(slot => lines.ClipShares[line][slot]);
        foreach (var slot in slots)
        {
            var part = lines.ClipShares[line][slot] / share / lines.Amperes[line][slot];
            lines.CutExcess[line][slot] = more * part;
            lines.CutErrors[line][slot] = known * part;
        }
    }

    private static bool TryCauses(LineSeries lines, RawSeries raw, int line, int slot, Span<double> causes, out double apart)
    {
        (apart, causes[^1]) = (lines.Volts[line][slot], 1);
        var at = 1;
        for (var other = 0; other < raw.Lines; other++)
        {
            if (!(lines.Amperes[other][slot] >= 0) || lines.VoltStates[other][slot] > PowerState.Mended || !double.IsFinite(lines.Volts[other][slot])) return false;
            causes[other == line ? 0 : at++] = lines.Amperes[other][slot];
            if (other != line) apart -= lines.Volts[other][slot] / (raw.Lines - 1);
        }

        return true;
    }

    private static double? MeanOf(double[] rests, int[] slots, int shift, bool[]? isGood)
    {
        var (sum, count) = (0.0, 0);
        foreach (var slot in slots)
        {
            var moved = (slot + shift) % rests.Length;
            if (double.IsNaN(rests[moved]) || (isGood is not null && !isGood[moved])) continue;
            sum += rests[moved];
            count++;
        }

        return count == 0 || count < LeastOfPattern * slots.Length ? null : sum / count;
    }

    private static double? Trials(double[] rests, bool[] isGood, int[] slots, RawSeries raw)
    {
        var quarter = Math.Max(1, (int)Math.Round(6 / raw.Grid.Hours));
        var (squares, trials) = (0.0, 0);
        for (var shift = quarter; shift < rests.Length; shift += quarter)
        {
            if (MeanOf(rests, slots, shift, isGood) is not { } mean) continue;
            squares += mean * mean;
            trials++;
        }

        return trials < LeastTrials ? null : Math.Sqrt(squares / (trials - 1));
    }
}
