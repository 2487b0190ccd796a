using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity.Samples;

/// <summary>Gathers the rows of a <see cref="HalfCycleLog"/> while a recording is read part by part, so that its length is no matter.</summary>
/// <remarks>
/// Where there would be more rows than wanted, each two that follow each other become one, and so on: the log of a week has rows of a second or so, and
/// an edge is known to one of them. Volts and amperes of joined rows are rms values, watts and vars means. Half a joined row beside a gap is left out.
/// </remarks>
public sealed class HalfCycleRows
{
    // A part that ends in the midst of a stretch may lack nothing of its last cycle; the stretch itself may lack a hundredth.
    private const double Slack = 0.01;

    // With fewer samples the halves of a cycle differ by where the samples fall.
    private const int LeastForHalves = 16;

    private readonly ImmutableArray<LogColumn> _columns;
    private readonly (int Volts, int Amperes)[] _phases;
    private readonly double _hertz;
    private readonly long _origin;
    private readonly int _most;
    private readonly List<long> _starts = [];
    private readonly List<double>[] _values;
    private readonly CycleSums[] _sums;
    private readonly CutTops[] _tops;

    // By how many volts the two halves of each row differ; no more rows once some were joined.
    private readonly List<double> _jumps = [];
    private readonly double[] _row, _joined;
    private double _startSeconds;
    private int _next, _joinedCount, _fold = 1;
    private long _joinedStart;

    /// <summary>Starts a log.</summary>
    /// <param name="channels">The channels that there are; V1 to V31 and I1 to IN.</param>
    /// <param name="hertz">The fundamental frequency, as measured; above zero.</param>
    /// <param name="start">The recording's start as stated; null counts from the first of January of the year 1.</param>
    /// <param name="most">Most rows.</param>
    public HalfCycleRows(IReadOnlyCollection<Channel> channels, double hertz, DateTime? start, int most)
    {
        ArgumentNullException.ThrowIfNull(channels);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 2);
        (_hertz, _origin, _most) = (hertz, (start ?? DateTime.MinValue).Ticks, most);
        Channel[] volts = [.. channels.Where(channel => channel < Channel.I1).Order()];
        Channel[] amperes = [.. channels.Where(channel => channel >= Channel.I1).Order()];
        Channels = [.. volts, .. amperes];
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        foreach (var channel in volts) columns.Add(new LogColumn(channel.ToString(), LogQuantity.Voltage, PlaceOf(channel)));
        foreach (var channel in amperes) columns.Add(new LogColumn(channel.ToString(), LogQuantity.Current, PlaceOf(channel)));
        (Channel Volts, Channel Amperes)[] phases = [.. amperes.Select(channel => (Volts: channel - Channel.I1 + Channel.V1, Amperes: channel))
            .Where(pair => pair.Amperes <= Channel.I3 && volts.Contains(pair.Volts))];
        foreach (var (_, channel) in phases)
        {
            columns.Add(new LogColumn($"P{channel - Channel.I1 + 1}", LogQuantity.ActivePower, PlaceOf(channel)));
            columns.Add(new LogColumn($"Q{channel - Channel.I1 + 1}", LogQuantity.ReactivePower, PlaceOf(channel)));
        }

        _columns = columns.ToImmutable();
        _phases = [.. phases.Select(pair => (Channels.IndexOf(pair.Volts), Channels.IndexOf(pair.Amperes)))];
        _values = [.. _columns.Select(_ => new List<double>())];
        _tops = [.. Channels.Select(_ => new CutTops())];
        (_sums, _row, _joined) = (new CycleSums[Channels.Length], new double[_columns.Length], new double[_columns.Length]);
    }

    /// <summary>The channels, in the order in which their samples are given.</summary>
    public ImmutableArray<Channel> Channels { get; }

    /// <summary>Length of a row so far, seconds; its cycle goes on for half a cycle more where nothing was joined.</summary>
    public double RowSeconds => _fold / (2 * _hertz);

    /// <summary>Begins a stretch.</summary>
    /// <param name="startSeconds">Its start, seconds after the recording's.</param>
    public void Begin(double startSeconds) => (_startSeconds, _next, _joinedCount) = (startSeconds, 0, 0);

    /// <summary>Takes a part of the stretch.</summary>
    /// <param name="part">The part, its times counted from the recording's start. It reaches back over the last two cycles of the part before.</param>
    /// <param name="samples">Its samples, in the order of <see cref="Channels"/>.</param>
    /// <param name="isWhole">True when the stretch ends with it.</param>
    /// <param name="cancellation">Stops the work.</param>
    public void Add(Stretch part, IReadOnlyList<ReadOnlyMemory<double>> samples, bool isWhole, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(samples);
        var seconds = part.StartSeconds + part.DurationSeconds - _startSeconds;
        var end = (int)Math.Floor((seconds * 2 * _hertz) + (isWhole ? Slack : -Slack)) - 1;
        for (; _next < end; _next++)
        {
            if (_next % 1000 == 0) cancellation.ThrowIfCancellationRequested();
            var from = _startSeconds + (_next / (2 * _hertz));
            Take(part.IndexAt(from), part.IndexAt(from + (1 / _hertz)), part.Segments.Length == 1 ? part.LowestRateHertz / _hertz : 0, from, samples);
        }
    }

    /// <summary>The log so far.</summary>
    public IntervalLog ToLog() => new(_columns, [.. _starts], [.. _values.Select(column => column.ToArray())], RowSeconds);

    /// <summary>The log so far, for the guard: the rows in which the voltages change all at once read what stands beside them (see <see cref="EdgeRows"/>).</summary>
    internal IntervalLog ToSettledLog()
    {
        double[][] values = [.. _values.Select(column => column.ToArray())];
        if (_fold == 1) EdgeRows.Settle(_starts, values, Channels.Count(channel => channel < Channel.I1), _jumps, HalfTicks);
        return new IntervalLog(_columns, [.. _starts], values, RowSeconds);
    }

    /// <summary>Where the waves of a channel were cut off flat so far, by its place among <see cref="Channels"/>.</summary>
    internal IReadOnlyList<CutTops.Found> CutTopsOf(int channel) => _tops[channel].ToStretches(HalfTicks);

    /// <summary>Where its samples did not move, and whether at an end of its range.</summary>
    internal IEnumerable<(CutTops.Found Stretch, bool IsAtEnd)> StillOf(int channel) => _tops[channel].ToStill();

    private long HalfTicks => (long)Math.Round(0.5 * TimeSpan.TicksPerSecond / _hertz);

    private void Take(int from, int to, double length, double seconds, IReadOnlyList<ReadOnlyMemory<double>> samples)
    {
        if (to - from < 8) return;
        var start = _origin + (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
        double jump = 0;
        // Where the rate changes, and beyond what was read so far, whole samples must do.
        var ends = new CycleEnds(length > 0 ? length : to - from, to - from);
        if (from + ends.Samples > samples.Min(column => column.Length)) ends = new CycleEnds(to - from, to - from);
        for (var channel = 0; channel < _sums.Length; channel++)
        {
            var cycle = samples[channel].Span[from..to];
            _sums[channel] = CycleSums.Of(samples[channel].Span.Slice(from, ends.Samples), ends);
            _row[channel] = _sums[channel].Rms;
            _tops[channel].Take(cycle, start, HalfTicks);
            if (Channels[channel] < Channel.I1 && cycle.Length >= LeastForHalves) jump = Math.Max(jump, _sums[channel].Jump);
        }

        var at = _sums.Length;
        foreach (var (volts, amperes) in _phases)
        {
            var one = samples[volts].Span.Slice(from, ends.Samples);
            var other = samples[amperes].Span.Slice(from, ends.Samples);
            double product = 0;
            for (var sample = 0; sample < one.Length; sample++) product += ends.Weight(sample) * one[sample] * other[sample];
            _row[at++] = product / ends.Length;
            var (v, i) = (_sums[volts], _sums[amperes]);
            _row[at++] = (v.Imaginary * i.Real) - (v.Real * i.Imaginary);
        }

        Join(start, jump);
    }

    private void Join(long start, double jump)
    {
        if (_fold == 1)
        {
            Append(start, _row, jump);
            return;
        }

        if (_joinedCount++ == 0)
        {
            Array.Clear(_joined);
            _joinedStart = start;
        }

        for (var column = 0; column < _row.Length; column++) _joined[column] += IsRms(column) ? _row[column] * _row[column] : _row[column];
        if (_joinedCount < _fold) return;
        for (var column = 0; column < _row.Length; column++) _joined[column] = IsRms(column) ? Math.Sqrt(_joined[column] / _fold) : _joined[column] / _fold;
        _joinedCount = 0;
        Append(_joinedStart, _joined, 0);
    }

    private void Append(long start, double[] row, double jump)
    {
        if (_starts.Count > 0 && start <= _starts[^1]) return;
        if (_fold == 1) _jumps.Add(jump);
        _starts.Add(start);
        for (var column = 0; column < row.Length; column++) _values[column].Add(row[column]);
        if (_starts.Count >= _most) Halve();
    }

    // Each two rows that follow each other become one; what has none to follow it stands beside a gap and is left out.
    private void Halve()
    {
        var step = RowSeconds * TimeSpan.TicksPerSecond;
        var kept = 0;
        for (var row = 0; row + 1 < _starts.Count;)
        {
            if (_starts[row + 1] - _starts[row] > 1.5 * step)
            {
                row++;
                continue;
            }

            _starts[kept] = _starts[row];
            for (var column = 0; column < _values.Length; column++)
            {
                var (one, other) = (_values[column][row], _values[column][row + 1]);
                _values[column][kept] = IsRms(column) ? Math.Sqrt(0.5 * ((one * one) + (other * other))) : 0.5 * (one + other);
            }

            kept++;
            row += 2;
        }

        _starts.RemoveRange(kept, _starts.Count - kept);
        foreach (var column in _values) column.RemoveRange(kept, column.Count - kept);
        _fold *= 2;
    }

    private bool IsRms(int column) => column < _sums.Length;

    private static LogPlace PlaceOf(Channel channel) => channel switch
    {
        Channel.V12 or Channel.V23 or Channel.V31 => LogPlace.Pair12 + (channel - Channel.V12),
        Channel.IN => LogPlace.Neutral,
        >= Channel.I1 => LogPlace.Phase1 + (channel - Channel.I1),
        _ => LogPlace.Phase1 + (int)channel,
    };

    /// <summary>Rms of one cycle, its fundamental as an rms phasor, and by how much the rms values of its halves differ.</summary>
    private readonly record struct CycleSums(double Rms, double Real, double Imaginary, double Jump)
    {
        public static CycleSums Of(ReadOnlySpan<double> samples, CycleEnds ends)
        {
            double square = 0, all = 0, first = 0, real = 0, imaginary = 0, cosine = 1, sine = 0;
            var (stepSine, stepCosine) = Math.SinCos(2 * Math.PI / ends.Length);
            var half = ends.Whole / 2;
            for (var index = 0; index < samples.Length; index++)
            {
                double sample = samples[index], weight = ends.Weight(index);
                if (index == half) first = all;
                if (index < ends.Whole) all += sample * sample;
                square += weight * sample * sample;
                real += weight * sample * cosine;
                imaginary -= weight * sample * sine;
                (cosine, sine) = ((cosine * stepCosine) - (sine * stepSine), (sine * stepCosine) + (cosine * stepSine));
            }

            var scale = Math.Sqrt(2) / ends.Length;
            var jump = Math.Sqrt(first / half) - Math.Sqrt((all - first) / (ends.Whole - half));
            return new CycleSums(Math.Sqrt(square / ends.Length), real * scale, imaginary * scale, Math.Abs(jump));
        }
    }
}
