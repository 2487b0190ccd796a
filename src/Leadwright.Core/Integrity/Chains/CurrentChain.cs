using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>At which scale a clamp read in every row.</summary>
/// <param name="Scales">The scales that were weighed; the first is 1, 0 stands for a clamp on nothing.</param>
/// <param name="Rows">Number of the scale in each row.</param>
/// <param name="Answer">How the voltage answers to the current.</param>
internal sealed record CurrentHistory(double[] Scales, byte[] Rows, VoltageAnswer Answer)
{
    /// <summary>The same before the voltage's answer was asked to bear it out.</summary>
    public required byte[] Unproved { get; init; }

    /// <summary>True where it is known which rows are at the right ratio, and not only that they differ: even if they are the fewest.</summary>
    public bool IsAbsolute { get; set; }
}

/// <summary>Weighs at which scale one clamp reads, from the size of its current by the hour of the day, from its jumps, and from whether
/// the voltage answered to them.</summary>
internal sealed class CurrentChain
{
    private const double ShortSeconds = 3700;
    private const double OfShort = 8;
    private const double SecondsOfDay = 86400;
    private static readonly double[] s_scales = [1, 0, 10, 0.1, 2, 0.5, 5, 0.2];
    private static readonly double[] s_enter = [5, 10, 10, 10, 13, 13, 14, 14];
    private const double LevelWeight = 0.12;
    private const int TooOften = 3;

    /// <summary>What it costs to let an interval pass for one in which the change fell.</summary>
    private const double OfMixing = 1;

    /// <summary>What such an interval itself says: as much as any change of the voltage does on the whole.</summary>
    private const double Passed = -1.1;
    private const double Never = -1e6;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly int _clamp;
    private readonly double[] _amperes;
    private readonly VoltageAnswer _answer;
    private readonly VoltageAnswer[] _answers;
    private readonly AngleHistory? _angles;
    private readonly double _turnSpread;
    private readonly double[] _otherSpreads = new double[3];
    private readonly double[] _middles = new double[24];
    private readonly double[] _spreads = new double[24];
    private readonly double _floor;
    private readonly double _levelWeight;
    private readonly AngleHistory?[] _allAngles;
    private readonly CurrentSum? _sum;
    private readonly double _sumWeight;
    private double _jumpSpread = 0.1;
    private double _leapShare = 0.02;

    private CurrentChain(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] allAngles, CurrentSum? sum, int clamp)
    {
        var angles = clamp < 3 ? allAngles[clamp] : null;
        (_frame, _voltages, _clamp, _answer, _answers, _angles, _allAngles, _sum) = (frame, voltages, clamp, answers[clamp], answers[..3], angles, allAngles, clamp < 3 || sum is { IsOfNeutral: true } ? sum : null);
        _sumWeight = Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600));
        _levelWeight = LevelWeight * Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600));
        _amperes = frame.Amperes[clamp]!;
        _floor = Math.Max(1e-6, voltages.Floors[clamp]);
        Learn();
        _turnSpread = angles is null ? double.NaN : Math.Max(0.5, 1.5 * Robust.Deviation(Robust.Changes(angles.Degrees)));
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || frame.Amperes[other] is not { } column) continue;
            var logs = new double[Math.Min(column.Length, 20000)];
            for (var row = 1; row < logs.Length; row++) logs[row] = Math.Log(Math.Max(column[row], _floor) / Math.Max(column[row - 1], _floor));
            _otherSpreads[other] = Math.Max(0.01, Robust.Deviation(logs));
        }
    }

    public static CurrentHistory? Find(
        GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] angles, CurrentSum? sum, int clamp, CancellationToken cancellation) =>
        frame.Amperes[clamp] is null ? null : new CurrentChain(frame, voltages, answers, angles, sum, clamp).Find(cancellation);

    private void Learn()
    {
        var bins = new List<double>[24];
        for (var bin = 0; bin < 24; bin++) bins[bin] = [];
        var all = new List<double>();
        var jumps = new List<double>();
        var step = Math.Max(1, _amperes.Length / 60000);
        for (var row = 0; row < _amperes.Length; row += step)
        {
            if (double.IsNaN(_amperes[row])) continue;
            if (_amperes[row] < _floor) continue;
            var log = Math.Log(_amperes[row]);
            bins[BinOf(row)].Add(log);
            all.Add(log);
            if (row > 0 && _amperes[row - 1] >= _floor) jumps.Add(log - Math.Log(_amperes[row - 1]));
        }

        _jumpSpread = Math.Clamp(Robust.Deviation([.. jumps]), 0.01, 1);
        if (double.IsNaN(_jumpSpread)) _jumpSpread = 0.2;
        _leapShare = Math.Clamp((double)jumps.Count(jump => Math.Abs(jump) > 8 * _jumpSpread) / Math.Max(1, jumps.Count), 0.003, 0.3);
        var middle = Robust.Median([.. all]);
        var spread = Math.Max(0.3, Robust.Deviation([.. all]));
        for (var bin = 0; bin < 24; bin++)
        {
            // An hour seen on too few days borrows from the week.
            var isRich = bins[bin].Count * step >= 12;
            _middles[bin] = isRich ? Robust.Median([.. bins[bin]]) : middle;
            _spreads[bin] = isRich ? Math.Clamp(1.2 * Robust.Deviation([.. bins[bin]]), 0.3, 1) : Math.Clamp(spread, 0.4, 1.2);
        }
    }

    private int BinOf(int row) => _frame.From(row).Hour;

    private CurrentHistory Find(CancellationToken cancellation)
    {
        // Behind the scales: the interval in which a change away from 1 fell, and for each other scale that in which a change back fell.
        int count = s_scales.Length, mixedIn = count, states = (2 * count);
        var chain = new LinkedChain([.. s_enter, .. Enumerable.Repeat(OfMixing, count)], _frame.Count);
        Array.Fill(chain.Links, Never);
        for (var row = 0; row < _frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            var kind = _voltages.At(row).Kind;
            var isDead = kind is VoltageStateKind.Outage or VoltageStateKind.LineLost or VoltageStateKind.UpstreamPhaseLost || (kind == VoltageStateKind.SupplyNeutralLost && _clamp == 3) || double.IsNaN(_amperes[row]);
            var isLinked = row > 0 && !isDead && _frame.Starts[row] - _frame.Starts[row - 1] < 1.5 * _frame.Log.IntervalTicks
                && !double.IsNaN(_amperes[row - 1]);
            if (isLinked)
            {
                var turned = SayTurn(row);
                var isTurned = IsTurned(row);
                var others = OthersLeap(row);
                for (var state = 0; state < count; state++)
                {
                    // From one wrong scale to another nothing goes at once.
                    chain.Links[(state * states) + state] = Link(row, state, state, isTurned);
                    if (state == 0) continue;
                    var angle = s_scales[state] == 0 ? 0 : turned;
                    chain.Links[state] = Link(row, 0, state, isTurned) + others + angle;
                    chain.Links[state * states] = Link(row, state, 0, isTurned) + others + angle;
                    chain.Links[(mixedIn * states) + state] = Mixed(row, 0, state);
                    chain.Links[(state * states) + mixedIn + state] = Passed;
                    chain.Links[(mixedIn + state) * states] = Mixed(row, state, 0);
                }

                chain.Links[mixedIn] = Passed;
            }

            for (var state = 0; state < count; state++)
            {
                chain.Says[state] = isDead ? 0 : Level(row, state) + SumSays(row, state);
                chain.Says[count + state] = isLinked ? -0.3 : Never;
            }

            chain.Take(isLinked);
        }

        var history = chain.History();
        for (var row = history.Length - 1; row >= 0; row--)
        {
            // What is mixed goes with the wrong scale beside it.
            if (history[row] == mixedIn) history[row] = row + 1 < history.Length ? history[row + 1] : (byte)0;
            else if (history[row] > mixedIn) history[row] -= (byte)mixedIn;
        }

        var unproved = (byte[])history.Clone();
        Prove(history);
        return new CurrentHistory(s_scales, history, _answer) { Unproved = unproved };
    }

    /// <summary>Drops what the voltage's answer does not bear out: a ratio is not set wrong, and a clamp not taken off, by a load that is
    /// switched.</summary>
    private void Prove(byte[] history)
    {
        // A line that goes idle time and again is switched.
        int offs = 0, flowing = 0;
        foreach (var state in history)
        {
            if (s_scales[state] != 0) flowing++;
            else if (flowing >= 6) (offs, flowing) = (offs + 1, 0);
            else flowing = 0;
        }

        var shared = new int[s_scales.Length];
        for (var row = 0; row < history.Length; row++)
        {
            var state = history[row];
            if (s_scales[state] == 1) continue;
            var last = row;
            while (last + 1 < history.Length && history[last + 1] == state) last++;
            var odds = s_scales[state] == 0 ? OffOdds(row, last) : ScaleOdds(row, last, s_scales[state]);
            // An answer that explains nothing of the voltage has nothing to say against a leap of ten, or of all there is.
            if (s_scales[state] is 0 or 10 or 0.1 && !_answer.IsTelling && !_answer.IsSharp) odds = 0;
            var bySum = SumOdds(row, last, state);
            odds += bySum;
            if (s_scales[state] == 0 && _clamp < 3) odds += HiddenSteps.Odds(_answers, _amperes, _floor, _clamp, row, last);
            if (s_scales[state] == 0 && _clamp == 3 && _frame.NeutralSum is { } neutral) odds += neutral.SayOff(_amperes, row, last, _floor);
            // A clamp on nothing shows nothing; and by day on a site with generation a ratio must say more than a clamp that was turned round.
            if (s_scales[state] == 0 && (!(Robust.Median(_amperes.AsSpan(row, last - row + 1)) < 2 * _floor) || SmallLoad.Is(_frame, _clamp, row, last, _floor))) odds = double.NegativeInfinity;
            if (s_scales[state] != 0 && _frame.Options.Check.MayExport) odds -= Math.Max(0, ScaleOdds(row, last, -1));
            var isByTen = s_scales[state] is 10 or 0.1;
            var isRestless = s_scales[state] == 0 && Restless.Is(_frame, _voltages, _clamp, row, last, _floor);
            var least = s_scales[state] == 0
                ? (offs > 3 || IsHighLeg || IsUsuallyIdle(history, row, last) ? 5 : isRestless ? -4 : IsSilent(row, last) ? 1 : -2)
                : isByTen ? (IsHighLeg ? 4 : !_frame.HasWatts ? 3 : _answer.IsTelling ? 0.5 : 0) : IsRough ? 16 : 6;
            // What the sum of the currents shows needs no more. Of lines that one load feeds the answer to each is known too roughly for small ratios, and in
            // amperes alone for any; and a ratio that is set is a leap.
            var isRatio = s_scales[state] != 0 && bySum < 6;
            if (isRatio && !_answer.IsSharp && _answer.IsKnown && (!isByTen || !_frame.HasWatts)) odds = double.NegativeInfinity;
            // Nobody sets a range wrong and right again within minutes; loads come and go so.
            if (isRatio && !isByTen && (last - row + 1) * _frame.Log.IntervalSeconds < ShortSeconds) least += OfShort;
            // By amperes alone the neutral's is known roughly, and lines alike leave it nothing for minutes.
            if (s_scales[state] == 0 && _clamp == 3 && !_frame.HasWatts && (last - row + 1) * _frame.Log.IntervalSeconds < ShortSeconds) least += OfShort;
            if (isRatio && !Leaps(row, last, s_scales[state])) odds = double.NegativeInfinity;
            if (odds >= least && bySum < 6 && _clamp < 3 && !isRestless && SharedLoad.IsAtAnEdge(_frame, _clamp, row, last, s_scales[state]) && (s_scales[state] != 0 || SharedLoad.StaysOff(_frame, _clamp, row, last)))
            {
                odds = double.NegativeInfinity;
                shared[state]++;
            }

            if (odds < least) Array.Clear(history, row, last - row + 1);
            row = last;
        }

        // What comes and goes time and again is a load, but where the currents must add up.
        for (byte state = 1; state < s_scales.Length && _sum is null; state++)
        {
            var stretches = shared[state];
            for (var row = 0; row < history.Length; row++) stretches += history[row] == state && (row == 0 || history[row - 1] != state) ? 1 : 0;
            if (stretches < TooOften) continue;
            for (var row = 0; row < history.Length; row++) history[row] = history[row] == state ? (byte)0 : history[row];
        }
    }

    /// <summary>True where the line is idle at these hours of other days too; where there are no other days, where the current sank into nothing and rose out of it. What lasted for more than a day tells nothing of hours.</summary>
    private bool IsUsuallyIdle(byte[] history, int from, int to)
    {
        var (idle, seen) = (new int[24], new int[24]);
        for (var row = 0; row < _amperes.Length; row++)
        {
            if (s_scales[history[row]] == 0 && (row < from || row > to))
            {
                var last = row;
                while (last + 1 < history.Length && history[last + 1] == history[row]) last++;
                if ((last - row + 1) * _frame.Log.IntervalSeconds > SecondsOfDay)
                {
                    row = last;
                    continue;
                }
            }

            if ((row >= from - 2 && row <= to + 2) || double.IsNaN(_amperes[row])) continue;
            seen[BinOf(row)]++;
            if (_amperes[row] <= _floor) idle[BinOf(row)]++;
        }

        double shares = 0;
        var known = 0;
        for (var row = from; row <= to; row++)
        {
            var bin = BinOf(row);
            if (seen[bin] == 0) continue;
            shares += (double)idle[bin] / seen[bin];
            known++;
        }

        if (2 * known > to - from + 1) return shares > 0.6 * known;
        var least = 0.12 * Robust.Quantile(_amperes, 0.95);
        bool Sinks(int row) => row < 0 || row >= _amperes.Length || _amperes[row] < least;
        return (from > 2 || to + 3 < _amperes.Length) && Sinks(from - 3) && Sinks(to + 3);
    }

    private double SumSays(int row, int state) => _sum is null || (row > 0 && IsTurned(row)) ? 0 : _sumWeight * _sum.Say(row, _clamp, s_scales[state]);

    /// <summary>What Kirchhoff's law says of a stretch.</summary>
    private double SumOdds(int from, int to, int state)
    {
        double odds = 0;
        for (var row = from; row <= to; row++) odds += SumSays(row, state) - SumSays(row, 0);
        return Math.Clamp(odds, -30, 30);
    }

    /// <summary>Without vars, and where power may flow back, the answers are known roughly: loads make ratios of two.</summary>
    private bool IsRough => _frame.Options.Check.MayExport || (_clamp < 3 && _frame.Vars[_clamp] is null);

    /// <summary>A ratio of two or five that is set is a leap of the current as it begins, and one back as it ends.</summary>
    private bool Leaps(int from, int to, double scale)
    {
        if (to - from < 2) return true;
        foreach (var (outside, inside) in new[] { ((from - 3, from - 1), (from + 1, Math.Min(to, from + 3))), ((to + 1, to + 3), (Math.Max(from, to - 3), to - 1)) })
        {
            var leap = MeanLog(inside.Item1, inside.Item2) - MeanLog(outside.Item1, outside.Item2);
            if (Math.Abs(leap - Math.Log(scale)) > (scale is 10 or 0.1 ? 0.5 : 0.65) * Math.Abs(Math.Log(scale))) return false;
        }

        return true;
    }

    private double MeanLog(int from, int to)
    {
        var (sum, count) = (0.0, 0);
        for (var row = Math.Max(0, from); row <= Math.Min(_amperes.Length - 1, to); row++)
        {
            if (!(_amperes[row] > 0)) continue;
            sum += Math.Log(_amperes[row]);
            count++;
        }

        return count == 0 ? double.NaN : sum / count;
    }

    /// <summary>The high leg feeds little but motors, and stands idle when they do.</summary>
    private bool IsHighLeg => _frame.Service.Kind == Circuits.ServiceKind.HighLeg && _clamp == 1;

    /// <summary>True for less than a day and a half without a current whose going the voltage could have told.</summary>
    private bool IsSilent(int from, int to)
    {
        if ((to - from + 1) * _frame.Log.IntervalSeconds > 130000) return false;
        // A line that is never idle otherwise, and feeds more than motors, has no reason to be.
        var idle = 0;
        for (var row = 0; row < _amperes.Length; row++)
        {
            if ((row < from - 1 || row > to + 1) && _amperes[row] < _floor) idle++;
        }

        if (idle < 3) return false;
        var before = from >= 2 ? Math.Abs(_answer.Own(from - 2)) : 0;
        var after = to + 2 < _amperes.Length ? Math.Abs(_answer.Own(to + 2)) : 0;
        return !(Math.Max(before, after) > 2 * _answer.Spread);
    }

    private double ScaleOdds(int from, int to, double scale)
    {
        // The change may fall within the first interval and the last: the rows on both sides of it are held against each other.
        var isLong = to - from >= 3;
        double odds = 0;
        if (isLong && from >= 1 && !IsTurned(from)) odds += AcrossOdds(from - 1, from + 1, 1, scale);
        if (isLong && to + 1 < _amperes.Length && !IsTurned(to)) odds += AcrossOdds(to - 1, to + 1, scale, 1);
        var (first, last) = isLong ? (from + 2, to - 1) : (Math.Max(1, from), Math.Min(_amperes.Length - 1, to + 1));
        for (var row = first; row <= last; row++)
        {
            double then = row == from ? 1 : scale, now = row == to + 1 ? 1 : scale;
            if (IsTurned(row)) continue;
            odds += _answer.Say(row, (_answer.Own(row) / now) - (_answer.Own(row - 1) / then)) - _answer.Say(row, _answer.Own(row) - _answer.Own(row - 1));
        }

        return odds;
    }

    private double AcrossOdds(int from, int to, double scaleFrom, double scaleTo) =>
        _answer.SayAcross(from, to, (_answer.Own(to) / scaleTo) - (_answer.Own(from) / scaleFrom)) - _answer.SayAcross(from, to, _answer.Own(to) - _answer.Own(from));

    /// <summary>At both edges: the voltage's failure to move as it does when load goes or comes; other phases that step too speak for a load.</summary>
    private double OffOdds(int from, int to)
    {
        double odds = 0;
        foreach (var edge in new[] { from, to + 1 })
        {
            if (edge < 2 || edge + 1 >= _amperes.Length || IsTurned(edge)) continue;
            // The change may fall within an interval: two steps are taken as one.
            var first = edge == from ? edge - 2 : edge - 1;
            var last = edge == from ? edge : Math.Min(_amperes.Length - 1, edge + 1);
            odds += _answer.SayAcross(first, last, 0) - _answer.SayAcross(first, last, _answer.Own(last) - _answer.Own(first));
            odds += 0.5 * OthersLeap(edge);
        }

        return odds;
    }

    /// <summary>True where the power of any channel stands turned: the answers of voltages to currents are then mixed up.</summary>
    private bool IsTurned(int row) => Array.Exists(_allAngles, angle => angle is not null && (angle.Rows[row] > 0 || angle.Rows[row - 1] > 0));

    private double Level(int row, int state)
    {
        var amperes = _amperes[row];
        var isIdle = amperes < _floor;
        if (s_scales[state] == 0) return isIdle ? 0 : amperes < 2.5 * _floor ? -0.7 : amperes < 4 * _floor ? -2 : -8;
        var bin = BinOf(row);
        var off = (Math.Log(Math.Max(amperes, 0.1 * _floor) / s_scales[state]) - _middles[bin]) / _spreads[bin];
        // Heavy tails: a load that was never seen before is no fault. Rows close in time say the same thing again.
        return (-_levelWeight * 2.5 * Math.Log(1 + (off * off / 4))) - (isIdle ? 1.2 : 0);
    }

    /// <summary>A change of ratio leaves the angle of the power as it is; another load seldom does.</summary>
    private double SayTurn(int row)
    {
        if (double.IsNaN(_turnSpread)) return 0;
        var turned = Circuits.Angle.WrapDegrees(_angles!.Degrees[row] - _angles.Degrees[row - 1]);
        if (double.IsNaN(turned)) return 0;
        double small = turned / _turnSpread, large = turned / Math.Max(8, 2 * _turnSpread);
        return Math.Clamp(
            Math.Log(Math.Max(8, 2 * _turnSpread) / _turnSpread) - (2.5 * Math.Log(1 + (small * small / 4))) + (2.5 * Math.Log(1 + (large * large / 4))), -5, 2);
    }

    /// <summary>When other phases step at the same time it is a load on several lines.</summary>
    private double OthersLeap(int row)
    {
        double log = 0;
        for (var other = 0; other < 3; other++)
        {
            if (_otherSpreads[other] == 0) continue;
            var column = _frame.Amperes[other]!;
            var jump = Math.Log(Math.Max(column[row], _floor) / Math.Max(column[row - 1], _floor));
            var own = Math.Log(Math.Max(_amperes[row], _floor) / Math.Max(_amperes[row - 1], _floor));
            // All ranges changed at once by ten: no load does that.
            if (Math.Abs(Math.Abs(own) - Math.Log(10)) < 0.15 && Math.Abs(jump - own) < 0.15) continue;
            if (Math.Abs(jump) > 5 * _otherSpreads[other] && Math.Sign(jump) == Math.Sign(own)) log -= 3;
        }

        return log;
    }

    /// <summary>What the step from the row before says: how large the jump of the true current would have been, and whether the voltage answered.</summary>
    private double Link(int row, int before, int state, bool isTurned)
    {
        double then = _amperes[row - 1], now = _amperes[row];
        double scaleThen = s_scales[before], scaleNow = s_scales[state];
        if (scaleThen == 0 && scaleNow == 0) return JumpDensity(0) - 0.2 + (isTurned ? 0 : _answer.SayUnknown(row));

        // Where a clamp comes off or on again, the true current is taken to go on: the voltage then does not move.
        if (scaleThen == 0 || scaleNow == 0) return JumpDensity(0) + (isTurned ? 0 : _answer.Say(row, 0));
        var jump = then > 0.2 * _floor && now > 0.2 * _floor
            ? Math.Log(now / scaleNow * scaleThen / then)
            : Math.Log((now + _floor) / (then + _floor));
        return JumpDensity(jump) + (isTurned ? 0 : _answer.Say(row, (_answer.Own(row) / scaleNow) - (_answer.Own(row - 1) / scaleThen)));
    }

    /// <summary>The same where the change fell within the interval before: its mean lies between the two scales and tells nothing more; the rows on both
    /// sides of it are held against each other.</summary>
    private double Mixed(int row, int before, int state) =>
        row >= 2 && IsBetween(row - 1, row - 2, row, before, state) ? Across(row - 2, row, before, state) : Never;

    /// <summary>True when a row lies between the two beside it, which follow each other in time and differ as the scales do.</summary>
    private bool IsBetween(int row, int left, int right, int before, int state)
    {
        double then = _amperes[left], mixed = _amperes[row], now = _amperes[right];
        if (!(mixed > 0.2 * _floor) || IsTurned(row) || IsTurned(right)) return false;
        if ((s_scales[before] != 0 && !(then > 0.2 * _floor)) || (s_scales[state] != 0 && !(now > 0.2 * _floor))) return false;
        if (_frame.Starts[right] - _frame.Starts[left] > 2.5 * _frame.Log.IntervalTicks) return false;
        return s_scales[state] > s_scales[before] ? mixed > then && mixed < now : mixed < then && mixed > now;
    }

    private double Across(int from, int to, int before, int state)
    {
        double scaleThen = s_scales[before], scaleNow = s_scales[state];
        if (scaleThen == 0 || scaleNow == 0) return JumpDensity(0) - 1.2 + _answer.SayAcross(from, to, 0);
        var jump = Math.Log(_amperes[to] / scaleNow * scaleThen / _amperes[from]);
        return JumpDensity(jump / 1.4) - Math.Log(Math.Abs(Math.Log(scaleNow / scaleThen)))
            + _answer.SayAcross(from, to, (_answer.Own(to) / scaleNow) - (_answer.Own(from) / scaleThen));
    }

    /// <summary>Jumps of a load: mostly small; now and then of any size, as often as this load makes them.</summary>
    private double JumpDensity(double jump)
    {
        var small = jump / (1.5 * _jumpSpread);
        var large = jump / 0.7;
        var often = (1 - _leapShare) * 0.375 / (1.5 * _jumpSpread) / Robust.FiveHalves(1 + (small * small / 4));
        return Math.Log(often + (_leapShare * 0.375 / 0.7 / Robust.FiveHalves(1 + (large * large / 4))));
    }
}
