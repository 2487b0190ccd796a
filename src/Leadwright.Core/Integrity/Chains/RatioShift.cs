using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds a clamp's ratio that was set wrong for a time where no voltage answers to its current: all of the current is multiplied by one usual ratio, and a load that comes adds to it.</summary>
/// <remarks>
/// Three histories are weighed for each stretch that begins and ends with a leap of its size: nothing happened and the current leapt by itself; a load came, of any size, which adds the same amperes to every row
/// (or, once in five, multiplies what there is); or the ratio was another one, to the half percent that ranges of one clamp agree to. What rows close in time say is not counted twice (<see cref="LevelSeries"/>).
/// A load comes as often as this current leaps elsewhere; it has a power factor of its own more often than not; and it may draw on other lines too. Derivation: docs/methods/guard.md.
/// </remarks>
internal sealed class RatioShift
{
    /// <summary>How often a ratio is set to one of the usual wrong ones within a week: one recording in two hundred for each. Common practice, no source.</summary>
    private const double LogSlips = -5.3;

    /// <summary>What the two edges of a slip cost, as in <see cref="CurrentChain"/>: anywhere in a thousand rows.</summary>
    private const double OfEdges = 16;
    private const double RangesAgree = 0.004;
    private const double LoadsAdd = 0.8;

    /// <summary>No load of one line comes and goes with those of three.</summary>
    private const double LoadsAddToOthers = 0.999;
    private const double LeastOwn = 0.4;
    private const double LeastOdds = 2;

    /// <summary>By so much a course that was learned from the stretch itself may hide it.</summary>
    private const double OfCourse = 12;
    private const int Reach = 3;

    /// <summary>Where a current leaps as much more often than this, no leap can be shown to be a ratio's.</summary>
    private const int MostEdges = 16;
    private const int LeastRows = 4;
    private const int MostFound = 4;

    /// <summary>What is so for longer is the usual, and the rest what changed.</summary>
    private const double MostShare = 0.45;

    /// <summary>A month of minutes: longer recordings are looked at by their leaps alone.</summary>
    private const int MostSegmented = 45000;
    private const int Near = 300;
    private const int MostTurns = 4000;

    /// <summary>So many rows inside an edge tell where it is.</summary>
    private const int AtEdge = 8;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly LevelSeries?[] _series;
    private readonly AngleHistory?[] _angles;
    private readonly CurrentSum? _sum;

    private RatioShift(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentSum? sum)
    {
        (_frame, _voltages, _angles, _sum) = (frame, voltages, angles, sum);
        _series = [.. Enumerable.Range(0, frame.Lines).Select(clamp => LevelSeries.Learn(frame, voltages, clamp))];
    }

    /// <summary>Puts what is found into the histories of the clamps.</summary>
    public static void Override(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentSum? sum, CurrentHistory?[] currents, CancellationToken cancellation)
    {
        // By day on a site with generation the net current is no load's.
        if (frame.Options.Check.MayExport || frame.Count < 40) return;
        var shift = new RatioShift(frame, voltages, angles, sum);
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (currents[clamp] is not null && shift._series[clamp] is { } series) shift.Find(clamp, series, currents);
        }
    }

    private void Find(int clamp, LevelSeries series, CurrentHistory?[] currents)
    {
        var current = currents[clamp]!;
        var (edges, spread) = Edges(series);
        var found = new List<(Stretch At, byte State, double Odds, double Others)>();
        foreach (var (begin, end) in Pairs(edges))
        {
            if (end.Row - begin.Row < LeastRows || end.Row - begin.Row > MostShare * _frame.Count || !IsFree(begin.Row - 1, end.Row + 1, current)) continue;
            for (byte state = 1; state < current.Scales.Length; state++)
            {
                if (current.Scales[state] == 0) continue;
                var log = Math.Log(current.Scales[state]);
                var slack = Math.Max(Math.Max(0.3, 0.35 * Math.Abs(log)), 2.5 * spread);
                if (Math.Abs(begin.Leap - log) > slack || Math.Abs(end.Leap + log) > slack) continue;
                var at = Best(series, begin.Row, end.Row, log, out var gain);
                if (gain >= OfEdges) Weigh(at, state);
            }
        }

        // Among loads that switch all the time no leap stands out, and a ratio that stays to the end has one only: all rows tell of these.
        for (byte state = 1; state < current.Scales.Length && _frame.Count <= MostSegmented; state++)
        {
            if (current.Scales[state] == 0) continue;
            var log = Math.Log(current.Scales[state]);
            foreach (var (from, end) in LevelSegments.Find(series, log, 0.5 * OfEdges))
            {
                if (end - from < LeastRows || end - from > MostShare * _frame.Count || !IsFree(from - 1, end, current)) continue;
                // A course that was not learned, or a season's, has no edge.
                var hasBoth = from > 0 && end < _frame.Count;
                if (!hasBoth && !series.HasCourse) continue;
                var at = Best(series, from, end, log, out var gain);
                if (gain >= 0.5 * OfEdges) Weigh(at, state);
            }
        }

        void Weigh(Stretch at, byte state)
        {
            var others = AnswerOdds(current, at, current.Scales[state]) + SumOdds(clamp, at, current.Scales[state]);
            var odds = Odds(clamp, series, at, Math.Log(current.Scales[state])) + others;
            if (odds > LeastOdds - OfCourse && !found.Exists(entry => entry.At == at && entry.State == state)) found.Add((at, state, odds, others));
        }

        foreach (var (at, state, _, others) in found.OrderByDescending(entry => entry.Odds).Take(MostFound))
        {
            if (!IsFree(at.From, at.End - 1, current) || LacksAnotherVoltage(clamp, at)) continue;
            // The course of the day must not be learned from what is asked about: one day in seven moves a median by a fifth of a spread.
            if (LevelSeries.Learn(_frame, _voltages, clamp, at.From, at.End) is { } apart && (!apart.IsByOthers || LeapsItself(apart, at, Math.Log(current.Scales[state]))) && (apart.IsByOthers || !SharedLoad.IsAtAnEdge(_frame, clamp, at.From, at.End - 1, current.Scales[state])) && Odds(clamp, apart, at, Math.Log(current.Scales[state])) + others > LeastOdds)
            {
                Array.Fill(current.Rows, state, at.From, at.End - at.From);
                if (apart.IsByOthers) DropOthers(clamp, at, currents);
            }
        }
    }

    /// <summary>False where the clamp's own reading hardly moves at either edge: then the other lines' loads came and went, and this one has no part in them.</summary>
    private static bool LeapsItself(LevelSeries series, Stretch at, double log)
    {
        double Leap(int edge) => edge < Reach || edge + Reach >= series.Logs.Length ? double.NaN : Mean(edge + 1, edge + Reach) - Mean(edge - Reach, edge - 1);
        double Mean(int from, int to) => Enumerable.Range(from, to - from + 1).Select(row => series.Logs[row]).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Average();
        double begins = Leap(at.From) / log, ends = -Leap(at.End - 1) / log;
        return !(begins < LeastOwn) || !(ends < LeastOwn);
    }

    /// <summary>True while another line's voltage is not known, as one that stands still: what the lines have in common is then not known either, and idle loads look like ratios.</summary>
    private bool LacksAnotherVoltage(int clamp, Stretch at)
    {
        for (var line = 0; line < _frame.Lines; line++)
        {
            if (line == clamp || _frame.Volts[line] is not { } volts) continue;
            var missing = 0;
            for (var row = at.From; row < at.End; row++) missing += double.IsNaN(volts[row]) ? 1 : 0;
            if (2 * missing > at.End - at.From) return true;
        }

        return false;
    }

    /// <summary>All voltages answer otherwise while one clamp reads another current: ratios of other clamps at the same time are its echo.</summary>
    private static void DropOthers(int clamp, Stretch at, CurrentHistory?[] currents)
    {
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || currents[other] is not { } current) continue;
            for (var row = 0; row < current.Rows.Length; row++)
            {
                var last = row;
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == current.Rows[row]) last++;
                var shared = Math.Min(last + 1, at.End) - Math.Max(row, at.From);
                if (current.Scales[current.Rows[row]] is not (0 or 1) && 2 * shared > last - row + 1) Array.Clear(current.Rows, row, last - row + 1);
                row = last;
            }
        }
    }

    /// <summary>No other ratio, and no power that stands turned, lies there.</summary>
    private bool IsFree(int from, int to, CurrentHistory current)
    {
        for (var row = Math.Max(0, from); row <= Math.Min(_frame.Count - 1, to); row++)
        {
            if (current.Rows[row] != 0 || Array.Exists(_angles, angle => angle is not null && angle.Rows[row] > 0)) return false;
        }

        return true;
    }

    private static IEnumerable<(Edge Begin, Edge End)> Pairs(List<Edge> edges)
    {
        for (var one = 0; one < edges.Count; one++)
        {
            for (var other = one + 1; other < edges.Count; other++)
            {
                if (edges[one].Leap * edges[other].Leap < 0) yield return (edges[one], edges[other]);
            }
        }
    }

    /// <summary>Where the mean of three rows leaps against that of the three before, the row between left out: the largest.</summary>
    private static (List<Edge> Edges, double Spread) Edges(LevelSeries series)
    {
        var logs = series.Logs;
        var leaps = new double[logs.Length];
        for (var row = 0; row < leaps.Length; row++) leaps[row] = LeapAt(series, row);
        var spread = Robust.Deviation(leaps);
        var least = Math.Max(0.35, 2.5 * spread);
        var edges = new List<Edge>();
        for (var row = Reach; row + Reach < leaps.Length; row++)
        {
            if (!(Math.Abs(leaps[row]) > least)) continue;
            var isPeak = true;
            for (var off = 1; off <= 2; off++) isPeak &= !(Math.Abs(leaps[row - off]) > Math.Abs(leaps[row])) && !(Math.Abs(leaps[row + off]) >= Math.Abs(leaps[row]));
            if (isPeak) edges.Add(new Edge(row, leaps[row]));
        }

        if (edges.Count > MostEdges) edges = [.. edges.OrderByDescending(edge => Math.Abs(edge.Leap)).Take(MostEdges).OrderBy(edge => edge.Row)];
        return (edges, spread);
    }

    // Of the nearest rows that there are; a few that are missing beside an edge hide none.
    private static double LeapAt(LevelSeries series, int row) =>
        row < Reach || row + Reach >= series.Logs.Length ? double.NaN : MeanBeside(series, row, 1) - MeanBeside(series, row, -1);

    private static double MeanBeside(LevelSeries series, int row, int step)
    {
        var (sum, count) = (0.0, 0);
        for (var off = 1; off <= 2 * Reach && count < Reach && row + (step * off) is var at && at >= 0 && at < series.Logs.Length; off++)
        {
            var rest = series.Rest(at, series.Logs[at]);
            if (double.IsNaN(rest)) continue;
            sum += rest;
            count++;
        }

        return count == 0 ? double.NaN : sum / count;
    }

    /// <summary>The stretch about two leaps that bears the ratio out best; the interval in which a change fell may be left out.</summary>
    private static Stretch Best(LevelSeries series, int begin, int end, double log, out double gain)
    {
        var best = new Stretch(begin, end, false, false);
        var most = double.NegativeInfinity;
        for (var option = 0; option < 36; option++)
        {
            bool isFromFirst = begin == 0, isToLast = end == series.Logs.Length;
            var at = new Stretch(
                isFromFirst ? 0 : Math.Max(1, begin - 1 + (option % 3)), isToLast ? end : Math.Min(series.Logs.Length - 1, end - 1 + (option / 3 % 3)), option / 9 % 2 == 1 && !isFromFirst, option / 18 == 1 && !isToLast);
            if (at.End - at.From < LeastRows) continue;
            var score = Likelihood(series, at, log, 0, AtEdge) - Likelihood(series, at, 0, 0, AtEdge) - (at.IsFirstMixed ? 1 : 0) - (at.IsLastMixed ? 1 : 0);
            if (score > most) (most, best) = (score, at);
        }

        gain = most;
        return best;
    }

    /// <summary>Log-likelihood of the rows of a stretch, and of the first behind it, with all of the current multiplied, and so many amperes added to that.</summary>
    private static double Likelihood(LevelSeries series, Stretch at, double log, double amperes, int near = Near)
    {
        double sum = 0;
        var before = -1;
        var then = double.NaN;
        for (var row = Math.Max(0, at.From - 2); row <= Math.Min(series.Logs.Length - 1, at.End + 1); row++)
        {
            // Of a long stretch the rows near its edges tell.
            if (row > at.From + near && row < at.End - near) row = at.End - near;
            if (double.IsNaN(series.Rest(row, series.Logs[row])) || (at.IsFirstMixed && row == at.From) || (at.IsLastMixed && row == at.End - 1)) continue;
            var now = series.Logs[row];
            if (row >= at.From && row < at.End)
            {
                if (amperes != 0)
                {
                    var left = Math.Exp(now) - amperes;
                    if (left <= 0) return -1e6;
                    // The density is of the amperes read.
                    sum += now - Math.Log(left);
                    now = Math.Log(left);
                }

                now -= log;
            }

            now = series.Rest(row, now);
            if (before >= 0 && row - before <= 2 && row >= at.From) sum += series.Density(then, now, row - before);
            (before, then) = (row, now);
        }

        return sum;
    }

    /// <summary>Log-odds of the ratio over a load.</summary>
    private double Odds(int clamp, LevelSeries series, Stretch at, double log)
    {
        var rows = Math.Min(at.End - at.From, 2 * Near);
        var known = series.Spread / Math.Sqrt(2 + (rows * (1 - series.Carry) * (1 - series.Carry)));
        var (size, error, top) = Peak(change => Likelihood(series, at, change, 0), log, known);
        double mean = 0, count = 0;
        for (var row = at.From; row < at.End; row++)
        {
            if (double.IsNaN(series.Logs[row])) continue;
            mean += Math.Exp(series.Logs[row]);
            count++;
        }

        mean /= Math.Max(1, count);
        var (added, addedError, addedTop) = Peak(change => Likelihood(series, at, 0, mean * (1 - Math.Exp(-change))), log, known);
        var wander = series.Wander(at.End - at.From);
        var wide = Math.Sqrt((error * error) + (RangesAgree * RangesAgree) + (wander * wander));
        var off = (size - log) / wide;
        var slip = top + Math.Log(error / wide) - (0.5 * off * off);
        var add = series.IsByOthers ? LoadsAddToOthers : LoadsAdd;
        double multiplies = Math.Log(1 - add) + top + Math.Log(error * 2.5066) + LoadSize(size), adds = Math.Log(add) + addedTop + Math.Log(addedError * 2.5066) + LoadSize(added);
        var larger = Math.Max(multiplies, adds);
        var load = larger + Math.Log(Math.Exp(multiplies - larger) + Math.Exp(adds - larger));
        // A load is two leaps; what the other lines' currents never do, this one's seldom does.
        int own = series.Leaps(at.From - 2, at.End + 2), others = 0, lines = 1;
        foreach (var other in _series)
        {
            if (other is null || other == series) continue;
            others += other.Leaps(at.From - 2, at.End + 2);
            lines++;
        }

        var each = at.From == 0 || at.End == _frame.Count ? 1 : 0.5;
        var loads = each * Math.Max(own, (double)(own + others + 1) / lines);
        return slip - load + LogSlips - Math.Log(loads) + TurnOdds(clamp, at) + OthersOdds(clamp, at);
    }

    /// <summary>Natural logarithm of the density of what a load makes of the current.</summary>
    private static double LoadSize(double change) => Math.Log(0.375 / 0.7 / Robust.FiveHalves(1 + (change * change / 4 / 0.49)));

    /// <summary>The best change near one, its error, and its log-likelihood.</summary>
    private static (double At, double Error, double Top) Peak(Func<double, double> likelihood, double about, double known)
    {
        var (at, top) = (about, likelihood(about));
        for (var step = 4 * known; step > 0.2 * known; step /= 2)
        {
            for (var moves = 0; moves < 12; moves++)
            {
                double up = likelihood(at + step), down = likelihood(at - step);
                if (up > top && up >= down) (at, top) = (at + step, up);
                else if (down > top) (at, top) = (at - step, down);
                else break;
            }
        }

        var bend = (2 * top) - likelihood(at + known) - likelihood(at - known);
        return (at, bend > 0 ? Math.Clamp(known / Math.Sqrt(bend), 0.4 * known, 3 * known) : 3 * known, top);
    }

    /// <summary>A ratio leaves the angle of the power as it is; two loads in five are of one kind with those that run.</summary>
    private double TurnOdds(int clamp, Stretch at)
    {
        if (_angles[clamp] is not { } angles) return 0;
        var spread = Robust.Deviation(Robust.Changes(angles.Degrees));
        var turned = MeanOf(Turn(angles.Degrees, at.From, 1), Turn(angles.Degrees, at.End - 1, -1));
        if (_series[clamp]!.IsByOthers)
        {
            // What three-phase loads turn, as they come and go, the other lines show.
            turned = MeanOf(TurnBesideOthers(angles, at.From, 1), TurnBesideOthers(angles, at.End - 1, -1));
            var usual = new double[Math.Min(MostTurns, _frame.Count)];
            for (var row = 0; row < usual.Length; row++) usual[row] = TurnBesideOthers(angles, (int)((long)row * _frame.Count / usual.Length), 1);
            spread = Robust.Deviation(usual);
        }

        if (double.IsNaN(turned) || double.IsNaN(spread)) return 0;
        var error = Math.Max(0.3, 0.4 * spread);
        double Normal(double width) => Math.Exp(-0.5 * turned * turned / (width * width)) / width;
        return Math.Clamp(Math.Log((Normal(error) + 1e-3) / ((0.4 * Normal(error)) + (0.6 * Normal(Math.Sqrt(64 + (error * error)))) + 1e-3)), -8, 1);
    }

    private double TurnBesideOthers(AngleHistory angles, int edge, int inward)
    {
        var turned = Turn(angles.Degrees, edge, inward);
        foreach (var other in _angles)
        {
            if (other is not null && other != angles) turned -= 0.5 * Turn(other.Degrees, edge, inward);
        }

        return turned;
    }

    /// <summary>Of an edge at the end of the recording there is nothing.</summary>
    private static double MeanOf(double one, double other) => double.IsNaN(one) ? other : double.IsNaN(other) ? one : 0.5 * (one + other);

    private static double Turn(double[] degrees, int edge, int inward)
    {
        double inside = 0, outside = 0;
        for (var off = 1; off <= Reach; off++)
        {
            int one = edge + (inward * off), other = edge - (inward * off);
            if (Math.Min(one, other) < 0 || Math.Max(one, other) >= degrees.Length) return double.NaN;
            inside += degrees[one];
            outside += degrees[other];
        }

        return Angle.WrapDegrees((inside - outside) / Reach);
    }

    /// <summary>A load may draw on other lines as well; a ratio is one clamp's.</summary>
    private double OthersOdds(int clamp, Stretch at)
    {
        var own = MeanOf(LeapAt(_series[clamp]!, at.From), -LeapAt(_series[clamp]!, at.End - 1));
        for (var other = 0; other < _series.Length; other++)
        {
            if (other == clamp || _series[other] is not { } series) continue;
            var leap = MeanOf(LeapAt(series, at.From), -LeapAt(series, at.End - 1));
            if (Math.Abs(leap) > Math.Max(0.08, 3 * series.Spread) && leap * own > 0) return -5;
        }

        return _series.Length > 1 ? 0.5 : 0;
    }

    /// <summary>What the voltage's answer says at both edges, where there is one.</summary>
    private static double AnswerOdds(CurrentHistory current, Stretch at, double scale)
    {
        var answer = current.Answer;
        if (!answer.IsTelling && !answer.IsSharp) return 0;
        int inside = at.From + 1, last = at.End - 2;
        double Across(int from, int to, double then, double now) =>
            answer.SayAcross(from, to, (answer.Own(to) / now) - (answer.Own(from) / then)) - answer.SayAcross(from, to, answer.Own(to) - answer.Own(from));
        var odds = (at.From > 0 ? Across(at.From - 1, inside, 1, scale) : 0) + (at.End < current.Rows.Length ? Across(last, at.End, scale, 1) : 0);
        return Math.Clamp(odds, -30, 6);
    }

    private double SumOdds(int clamp, Stretch at, double scale)
    {
        if (_sum is null) return 0;
        double odds = 0;
        for (var row = at.From + 1; row < at.End - 1; row += Math.Max(1, (at.End - at.From) / 100)) odds += _sum.Say(row, clamp, scale) - _sum.Say(row, clamp, 1);
        return Math.Clamp(odds, -30, 30);
    }

    /// <summary>A leap of the logarithm about a row.</summary>
    private readonly record struct Edge(int Row, double Leap);

    /// <summary>Rows that read otherwise, from the first to the one behind the last; the change may have fallen within either.</summary>
    private readonly record struct Stretch(int From, int End, bool IsFirstMixed, bool IsLastMixed);
}
