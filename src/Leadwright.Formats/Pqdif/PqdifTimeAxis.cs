using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Pqdif;

/// <summary>The times of a series: runs of even steps, or each for itself.</summary>
internal sealed class PqdifTimeAxis
{
    private readonly double[]? _each;
    private readonly (int Count, double Step)[] _runs;
    private readonly double _resolution;

    /// <summary>Times given one by one.</summary>
    /// <param name="each">Seconds after the observation's start.</param>
    /// <param name="resolution">What they are rounded to, seconds.</param>
    public PqdifTimeAxis(double[] each, double resolution) => (_each, _runs, _resolution, Count) = (each, [], resolution, each.Length);

    /// <summary>Runs of even steps.</summary>
    /// <param name="runs">Points and step of each, seconds.</param>
    /// <param name="first">The first time.</param>
    public PqdifTimeAxis((int Count, double Step)[] runs, double first)
    {
        _runs = runs;
        First = first;
        Count = (int)runs.Sum(run => (long)run.Count);
    }

    /// <summary>Number of times.</summary>
    public int Count { get; }

    /// <summary>The first time of even runs.</summary>
    public double First { get; }

    /// <summary>True when times come one by one.</summary>
    public bool IsEach => _each is not null;

    /// <summary>The first times, one by one.</summary>
    public double[] Seconds(int count)
    {
        if (_each is not null) return count == _each.Length ? _each : _each[..count];
        var seconds = new double[count];
        var (at, start) = (0, First);
        foreach (var (points, step) in _runs)
        {
            for (var index = 0; index < points && at < count; index++) seconds[at++] = start + (index * step);
            start += points * step;
        }

        return seconds;
    }

    /// <summary>Stretches of one rate; null when times do not rise.</summary>
    /// <param name="count">How many samples there are.</param>
    /// <param name="first">Time of the first sample.</param>
    public List<RateSegment>? Segments(int count, out double first)
    {
        if (_each is not null)
        {
            first = _each[0];
            for (var index = 1; index < count; index++)
            {
                if (!(_each[index] > _each[index - 1])) return null;
            }

            return double.IsFinite(first) && double.IsFinite(_each[count - 1]) && count > 1 ? SampleTimes.Segments(_each.AsSpan(0, count), _resolution) : null;
        }

        first = First;
        var segments = new List<RateSegment>();
        var (at, start) = (0, 0.0);
        foreach (var (points, step) in _runs)
        {
            var length = Math.Min(points, count - at);
            if (length <= 0) continue;
            if (!(step > 0 && double.IsFinite(step))) return null;
            segments.Add(new RateSegment(at, length, RateOf(step), start));
            at += length;
            start += points * step;
        }

        return double.IsFinite(first) && segments.Count > 0 ? segments : null;
    }

    /// <summary>True when both have the same times, but for a shift.</summary>
    public bool IsShiftOf(PqdifTimeAxis other) => ReferenceEquals(this, other)
        || (_each is null ? other._each is null && _runs.AsSpan().SequenceEqual(other._runs) : other._each is not null && _each.AsSpan().SequenceEqual(other._each));

    // A step is a rounded reciprocal: of the rates that have this step, the one with the fewest digits.
    private static double RateOf(double step)
    {
        var rate = 1 / step;
        for (var digits = 0; digits <= 9; digits++)
        {
            var round = Math.Round(rate, digits);
            if (round > 0 && 1 / round == step) return round;
        }

        foreach (var near in (double[])[rate, Math.BitIncrement(rate), Math.BitDecrement(rate)])
        {
            if (1 / near == step) return near;
        }

        return rate;
    }
}
