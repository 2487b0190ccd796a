using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>At which scale a clamp read in every row.</summary>
/// <param name="Scales">The scales that were weighed; the first is 1, 0 stands for a clamp on nothing.</param>
/// <param name="Rows">Number of the scale in each row.</param>
/// <param name="Answer">How the voltage answers to the current.</param>
internal sealed record CurrentHistory(double[] Scales, byte[] Rows, VoltageAnswer Answer);

/// <summary>Weighs at which scale one clamp reads, from the size of its current by the hour of the day, from its jumps, and from whether
/// the voltage answered to them.</summary>
internal sealed class CurrentChain
{
    private static readonly double[] s_scales = [1, 0, 10, 0.1, 2, 0.5, 5, 0.2];
    private static readonly double[] s_enter = [5, 10, 10, 10, 13, 13, 14, 14];
    private const double LevelWeight = 0.12;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly int _clamp;
    private readonly double[] _amperes;
    private readonly VoltageAnswer _answer;
    private readonly double[] _middles = new double[48];
    private readonly double[] _spreads = new double[48];
    private readonly double _floor;
    private readonly double[] _enter;
    private double _jumpSpread = 0.1;
    private double _leapShare = 0.02;
    private bool _isOftenIdle;

    private CurrentChain(GuardFrame frame, VoltageHistory voltages, VoltageAnswer answer, int clamp)
    {
        (_frame, _voltages, _clamp, _answer) = (frame, voltages, clamp, answer);
        _amperes = frame.Amperes[clamp]!;
        var more = Math.Max(0, Math.Log(frame.Count / 1000.0));
        _enter = Array.ConvertAll(s_enter, cost => cost + more);
        _floor = Math.Max(1e-6, voltages.Floors[clamp]);
        Learn();
    }

    public static CurrentHistory? Find(GuardFrame frame, VoltageHistory voltages, int clamp, CancellationToken cancellation) =>
        frame.Amperes[clamp] is null ? null : new CurrentChain(frame, voltages, VoltageAnswer.Learn(frame, voltages, clamp), clamp).Find(cancellation);

    private void Learn()
    {
        var bins = new List<double>[48];
        for (var bin = 0; bin < 48; bin++) bins[bin] = [];
        var all = new List<double>();
        var jumps = new List<double>();
        var idle = 0;
        var step = Math.Max(1, _amperes.Length / 60000);
        for (var row = 0; row < _amperes.Length; row += step)
        {
            if (double.IsNaN(_amperes[row])) continue;
            if (_amperes[row] < _floor)
            {
                idle++;
                continue;
            }

            var log = Math.Log(_amperes[row]);
            bins[BinOf(row)].Add(log);
            all.Add(log);
            if (row > 0 && _amperes[row - 1] >= _floor) jumps.Add(log - Math.Log(_amperes[row - 1]));
        }

        _isOftenIdle = idle > 0.5 * (all.Count + idle);
        _jumpSpread = Math.Clamp(Robust.Deviation([.. jumps]), 0.01, 1);
        if (double.IsNaN(_jumpSpread)) _jumpSpread = 0.2;
        _leapShare = Math.Clamp((double)jumps.Count(jump => Math.Abs(jump) > 8 * _jumpSpread) / Math.Max(1, jumps.Count), 0.003, 0.3);
        var middle = Robust.Median([.. all]);
        var spread = Math.Max(0.3, Robust.Deviation([.. all]));
        for (var bin = 0; bin < 48; bin++)
        {
            // An hour seen on too few days borrows from the week.
            var isRich = bins[bin].Count * step >= 12;
            _middles[bin] = isRich ? Robust.Median([.. bins[bin]]) : middle;
            _spreads[bin] = isRich ? Math.Clamp(1.2 * Robust.Deviation([.. bins[bin]]), 0.3, 1) : Math.Clamp(spread, 0.4, 1.2);
        }
    }

    private int BinOf(int row)
    {
        var time = _frame.From(row);
        return time.Hour + (time.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday ? 24 : 0);
    }

    private CurrentHistory Find(CancellationToken cancellation)
    {
        var count = s_scales.Length;
        var rows = _frame.Count;
        var from = new byte[rows * count];
        var scores = new double[count];
        var next = new double[count];
        for (var state = 0; state < count; state++) scores[state] = -_enter[state];
        for (var row = 0; row < rows; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            var kind = _voltages.At(row).Kind;
            var isDead = kind is VoltageStateKind.Outage or VoltageStateKind.LineLost or VoltageStateKind.UpstreamPhaseLost || double.IsNaN(_amperes[row]);
            var isLinked = row > 0 && !isDead && _frame.Starts[row] - _frame.Starts[row - 1] < 1.5 * _frame.Log.IntervalTicks
                && !double.IsNaN(_amperes[row - 1]);
            var answers = isLinked ? _answer.Change(row) : double.NaN;
            for (var state = 0; state < count; state++)
            {
                var best = double.NegativeInfinity;
                for (var before = 0; before < count; before++)
                {
                    var score = scores[before] - (before == state ? 0 : _enter[state]);
                    if (isLinked) score += Link(row, before, state, answers);
                    if (score <= best) continue;
                    best = score;
                    from[(row * count) + state] = (byte)before;
                }

                next[state] = best + (isDead ? 0 : Level(row, state));
            }

            var top = next.Max();
            for (var state = 0; state < count; state++) scores[state] = next[state] - top;
        }

        var history = new byte[rows];
        var last = Array.IndexOf(scores, scores.Max());
        for (var row = rows - 1; row >= 0; row--)
        {
            history[row] = (byte)last;
            last = from[(row * count) + last];
        }

        return new CurrentHistory(s_scales, history, _answer);
    }

    private double Level(int row, int state)
    {
        var amperes = _amperes[row];
        var isIdle = amperes < _floor;
        if (s_scales[state] == 0) return isIdle ? 0 : -8;
        if (isIdle) return _isOftenIdle ? 0 : -1.5;
        var bin = BinOf(row);
        var off = (Math.Log(amperes / s_scales[state]) - _middles[bin]) / _spreads[bin];
        // Heavy tails: a load that was never seen before is no fault.
        return -LevelWeight * 2.5 * Math.Log(1 + (off * off / 4));
    }

    /// <summary>What the step from the row before says: how large the jump of the true current would have been, and whether the voltage answered.</summary>
    private double Link(int row, int before, int state, double answers)
    {
        double then = _amperes[row - 1], now = _amperes[row];
        double scaleThen = s_scales[before], scaleNow = s_scales[state];
        if (scaleThen == 0 && scaleNow == 0) return _answer.SayUnknown(answers);
        if (scaleThen == 0 || scaleNow == 0)
        {
            // Where a clamp comes off or on again, the true current is taken to go on: the voltage then does not move.
            return JumpDensity(0) + _answer.Say(answers, 0);
        }

        var change = (now / scaleNow) - (then / scaleThen);
        var jump = then > 0.2 * _floor && now > 0.2 * _floor
            ? Math.Log(now / scaleNow * scaleThen / then)
            : Math.Log((now + _floor) / (then + _floor));
        return JumpDensity(jump) + _answer.Say(answers, change);
    }

    /// <summary>Jumps of a load: mostly small; now and then of any size, as often as this load makes them.</summary>
    private double JumpDensity(double jump)
    {
        var small = jump / (1.5 * _jumpSpread);
        var large = jump / 0.7;
        var often = (1 - _leapShare) * 0.375 / (1.5 * _jumpSpread) / Math.Pow(1 + (small * small / 4), 2.5);
        return Math.Log(often + (_leapShare * 0.375 / 0.7 / Math.Pow(1 + (large * large / 4), 2.5)));
    }
}
