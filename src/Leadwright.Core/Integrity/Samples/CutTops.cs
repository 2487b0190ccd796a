using System.Runtime.InteropServices;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity.Samples;

/// <summary>Finds the half cycles in which the wave of one channel is cut off flat, cycle by cycle.</summary>
/// <remarks>
/// A top that is cut off stands on one value to the last digit, the same in every cycle and never beaten, and the wave runs up to it as if it went on: the sides, drawn on, meet well above. A wave that
/// loads have flattened has a round top: it has all but come to rest where it stands on one value of the converter. A current of blocks, as a rectifier behind a choke draws it, stands upright at both sides.
/// </remarks>
internal sealed class CutTops
{
    private const int LeastRun = 3;

    /// <summary>The sides meet at least so far above the cut: in steps of the converter, and as a share of half the wave's height.</summary>
    private const double LeastMissingSteps = 8;
    private const double LeastMissing = 0.02;

    /// <summary>With fewer steps any top is flat.</summary>
    private const double LeastSteps = 100;

    /// <summary>A current rests at zero between its pulses, not at the end of a range.</summary>
    private const double LeastLevel = 0.25;
    private const int LeastTops = 2;

    /// <summary>A slope is taken over a twenty-fourth of the cycle at most: beside a top that is cut low down there is no more room.</summary>
    private const int MostReach = 24;
    private const int SomeSamples = 4096;

    /// <summary>Values that were written with few digits miss their step by so much of it, and so many of them.</summary>
    private const double OffStep = 0.15;
    private const double MostOff = 0.1;
    private const double LeastStep = 1e-7;

    /// <summary>So many tops at one value, though others go higher, are another range.</summary>
    private const int LeastTopsBelow = 40;

    /// <summary>Half cycles without a cut top between two with one, for both to be one stretch: a fifth of a second.</summary>
    private const int MostBetween = 20;

    /// <summary>An input that reads nothing keeps still as well, near zero.</summary>
    private const double LeastStill = 0.05;
    private readonly List<Run>[] _runs = [[], []];
    private readonly List<Run> _still = [];
    private readonly List<double> _some = [];
    private double _most = double.NegativeInfinity, _least = double.PositiveInfinity;

    /// <summary>Half cycles in which a top is cut, at one value, and by how much the sides pass it, all together.</summary>
    private sealed record Run(double Level, long From, long To, int Tops, double Missing);

    /// <summary>A stretch of cut tops.</summary>
    /// <param name="From">Its start, ticks.</param>
    /// <param name="To">Its end, ticks.</param>
    /// <param name="Level">The value at which they are cut, without its sign.</param>
    /// <param name="Tops">How many tops.</param>
    public readonly record struct Found(long From, long To, double Level, int Tops);

    /// <summary>Takes the next cycle; half of it may have been in the one before.</summary>
    /// <param name="cycle">Its samples.</param>
    /// <param name="start">Its start, ticks.</param>
    /// <param name="halfTicks">Length of half a cycle, ticks.</param>
    public void Take(ReadOnlySpan<double> cycle, long start, long halfTicks)
    {
        double most = double.NegativeInfinity, least = double.PositiveInfinity;
        foreach (var sample in cycle)
        {
            most = Math.Max(most, sample);
            least = Math.Min(least, sample);
        }

        if (most == least) PutStill(most, start, halfTicks);
        (_most, _least) = (Math.Max(_most, most), Math.Min(_least, least));
        if (!(most > least)) return;
        if (_some.Count < SomeSamples) _some.AddRange(cycle);
        Look(cycle, most, 1, 0.5 * (most - least), start, halfTicks);
        Look(cycle, -least, -1, 0.5 * (most - least), start, halfTicks);
    }

    /// <summary>The stretches in which the samples did not move for a cycle and longer, away from zero; at an end of the range where nothing goes further on that side.</summary>
    public IEnumerable<(Found Stretch, bool IsAtEnd)> ToStill()
    {
        var size = Math.Max(_most, -_least);
        foreach (var run in _still)
        {
            if (Math.Abs(run.Level) < LeastStill * size) continue;
            yield return (new Found(run.From, run.To, Math.Abs(run.Level), run.Tops), _most > _least && (run.Level == _most || run.Level == _least));
        }
    }

    /// <summary>The stretches of cut tops, in order.</summary>
    public List<Found> ToStretches(long halfTicks)
    {
        var kept = new List<Found>();
        var step = StepOf();
        for (var side = 0; side < 2; side++)
        {
            var end = side == 0 ? _most : -_least;
            foreach (var level in _runs[side].GroupBy(run => run.Level))
            {
                var tops = level.Sum(run => run.Tops);
                if (tops < LeastTops || level.Key < LeastSteps * step || level.Sum(run => run.Missing) < LeastMissingSteps * step * tops) continue;
                if (tops < LeastTopsBelow && end > level.Key + (0.5 * step)) continue;
                kept.AddRange(level.Select(run => new Found(run.From, run.To, level.Key, run.Tops)));
            }
        }

        var joined = new List<Found>();
        foreach (var run in kept.OrderBy(run => run.From))
        {
            if (joined.Count > 0 && run.From - joined[^1].To <= MostBetween * halfTicks)
                joined[^1] = joined[^1] with { To = Math.Max(joined[^1].To, run.To), Level = Math.Min(joined[^1].Level, run.Level), Tops = joined[^1].Tops + run.Tops };
            else joined.Add(run);
        }

        return joined;
    }

    /// <summary>The converter's step: the smallest difference, where the others are whole numbers of it. A steady wave without noise has few values: then what measures them all; zero for values of any size.</summary>
    private double StepOf()
    {
        var step = FlatTops.StepOf(CollectionsMarshal.AsSpan(_some));
        if (!(step > 0)) return 0;
        double[] sorted = [.. _some.Distinct().Order()];
        var off = 0;
        var common = step;
        for (var index = 1; index < sorted.Length; index++)
        {
            var difference = sorted[index] - sorted[index - 1];
            if (Math.Abs((difference / step) - Math.Round(difference / step)) > OffStep) off++;
            common = Common(common, difference, LeastStep * (sorted[^1] - sorted[0]));
        }

        return off > MostOff * sorted.Length ? common : step;
    }

    /// <summary>What measures both, by Euclid's way; zero where nothing down to the least does.</summary>
    private static double Common(double one, double other, double least)
    {
        if (!(one > 10 * least)) return 0;
        while (other > least) (one, other) = (other, Math.Abs(one - (other * Math.Round(one / other))));
        return one > 10 * least ? one : 0;
    }

    private void PutStill(double level, long start, long halfTicks)
    {
        var goesOn = _still.Count > 0 && _still[^1].Level == level && start <= _still[^1].To;
        if (goesOn) _still[^1] = _still[^1] with { To = start + (2 * halfTicks), Tops = _still[^1].Tops + 1 };
        else _still.Add(new Run(level, start, start + (2 * halfTicks), 1, 0));
    }

    private void Look(ReadOnlySpan<double> cycle, double top, int sign, double height, long start, long halfTicks)
    {
        if (top < LeastLevel * height) return;
        int first = 0, length = 0, open = 0;
        for (var index = 0; index < cycle.Length; index++)
        {
            open = sign * cycle[index] == top ? open + 1 : 0;
            if (open > length) (first, length) = (index - open + 1, open);
        }

        if (length < LeastRun || MissingOf(cycle, top, sign, first, length) is not { } missing || missing < LeastMissing * height) return;
        var at = start + (first + (length / 2) < cycle.Length / 2 ? 0 : halfTicks);
        Put(_runs[sign > 0 ? 0 : 1], top, at, halfTicks, missing);
    }

    /// <summary>By how much the sides, drawn on, pass it: a parabola that leaves a level at some slope, and is back after n samples, rises by a quarter of slope times n. Null where they don't.</summary>
    private static double? MissingOf(ReadOnlySpan<double> cycle, double top, int sign, int first, int length)
    {
        var reach = Math.Clamp(length / 3, 1, Math.Max(1, cycle.Length / MostReach));
        int left = first - 1, right = first + length;
        if (left - reach < 0 || right + reach >= cycle.Length) return null;
        double before = sign * cycle[left], behind = sign * cycle[right];
        double rise = (before - (sign * cycle[left - reach])) / reach, fall = (behind - (sign * cycle[right + reach])) / reach;
        if (!(rise > 0 && fall > 0)) return null;
        // No sine that is cut to between an eighth and three eighths of its cycle drops so far within two samples.
        var upright = Math.Max(0.6, 12 * Math.PI / cycle.Length) * top;
        var isBlock = 8 * length > cycle.Length && 8 * length < 3 * cycle.Length && top - (sign * cycle[left - 1]) > upright && top - (sign * cycle[right + 1]) > upright;
        return isBlock ? null : 0.25 * Math.Min(rise, fall) * length;
    }

    private static void Put(List<Run> runs, double level, long at, long halfTicks, double missing)
    {
        var index = runs.FindLastIndex(run => run.Level == level);
        if (index < 0 || at - runs[index].To > MostBetween * halfTicks)
        {
            runs.Add(new Run(level, at, at + halfTicks, 1, missing));
            return;
        }

        // Each top lies in two cycles, of which the second says the same half again.
        if (at <= runs[index].To - (halfTicks / 2)) return;
        runs[index] = runs[index] with { To = at + halfTicks, Tops = runs[index].Tops + 1, Missing = runs[index].Missing + missing };
    }
}
