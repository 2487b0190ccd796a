using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp whose jaw opens slowly: the voltage answers to its current more and more strongly, as the clamp shows less of it.</summary>
/// <remarks>The voltage's answer over the clamp's own current is c / g, g the clamp's gain. In windows of two hours the sums of squares and
/// products are kept; a straight fall of g from 1 at an onset to a rest at an end, both at any window, is weighed against a constant gain by
/// Gaussian likelihood, c at its best in both, at the price of three parameters and of all the places where it might have been.</remarks>
internal static class DriftFinder
{
    private const double WindowSeconds = 7200;
    private const double LeastOdds = 12;

    /// <summary>In rows of seconds every load that is switched is a step of its own, and a window of a few minutes holds as many as one of hours does of longer rows.</summary>
    private const double WindowOfSteps = 600;

    /// <summary>A jaw that opens slowly takes half a day at least.</summary>
    private const int LeastWindows = 6;

    /// <summary>No window alone says that all of them scatter.</summary>
    private const double OneWindow = 25;
    private const int Before = 6;
    private const double Much = 5;
    private const double MostOfDrift = 0.5;
    private const double VeryMuch = 15;
    private const double OfEarlier = 0.35;
    private const double EarlierSeconds = 4 * 3600;
    private static readonly double[] s_steps = [0.1, 0.2, 0.5, 2, 5, 10];
    private static readonly double[] s_rests = [0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85];

    public static void Find(Chained chained, List<RowPiece> pieces, List<GuardSpan> spans, CancellationToken cancellation)
    {
        var frame = chained.Frame;
        if (frame.Log.IntervalSeconds > 1800) return;
        var isUsable = new bool[frame.Count];
        foreach (var piece in pieces)
        {
            if (piece.Key is { Voltage: 0 } && Enumerable.Range(0, 3).All(index => piece.Key.Turn(index) is 0 or 15)) Array.Fill(isUsable, true, piece.From, piece.Length);
        }

        var hasCourse = HasCourse(chained, pieces);
        var found = new List<GuardSpan>();
        var byCourse = new HashSet<Clamp>();
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (chained.Currents[clamp] is not { } currents) continue;
            var own = (bool[])isUsable.Clone();
            var course = (bool[])hasCourse.Clone();
            for (var row = 0; row < own.Length; row++) own[row] &= currents.Scales[currents.Rows[row]] is not (0 or 10 or 0.1);
            DropLeaps(frame.Amperes[clamp]!, currents, own);
            // While another clamp shows nothing, or ten times too much or too little, what it does not show seems to be missing here.
            for (var other = 0; other < frame.Lines; other++)
            {
                if (other == clamp || chained.Currents[other] is not { } beside) continue;
                if (Robust.Quantile(frame.Amperes[other]!, 0.99) < chained.Voltages.Floors[other]) Array.Clear(own);
                for (var row = 0; row < own.Length; row++) own[row] &= beside.Scales[beside.Rows[row]] is not (0 or 10 or 0.1);
            }

            // At the end of its range a clamp shows less than there is for another reason.
            foreach (var span in spans)
            {
                if (span.Kind != SpanKind.OverRange || !span.Clamps.Contains((Clamp)clamp)) continue;
                for (var row = 0; row < own.Length; row++)
                {
                    if (frame.To(row) >= span.From && frame.From(row) <= span.To) own[row] = course[row] = false;
                }
            }

            var isTold = currents.Answer.IsKnown || chained.Sum is not null;
            if (((isTold ? Fit(frame, currents.Answer, chained.Sum, clamp, own) : null) ?? CourseDrift.Fit(chained, clamp, course)) is not { } drift || FallsOff(frame, clamp, currents, chained.Voltages.Floors[clamp], drift)) continue;
            if (!drift.IsByCourse && ShowsAsMuch.As(frame, clamp, own, drift))
            {
                // The answers are off there, and a ratio found by them is as well.
                Steady(frame, currents.Rows, frame.From(drift.From), frame.To(drift.To));
                continue;
            }

            found.Add(Span(frame, (Clamp)clamp, drift));
            if (drift.IsByCourse) byCourse.Add((Clamp)clamp);
        }

        if (found.Count < 2 && ((found.Count == 0 ? StandingGain.Find(chained, isUsable) : null) ?? BrokenGain.Find(chained, isUsable, cancellation)) is { } standing
            && (found.Count == 0 || (standing.Confidence >= BrokenGain.Sure && standing.Clamps[0] == found[0].Clamps[0])))
        {
            // A fall that leaps at both ends is none that came slowly.
            spans.Add(standing);
            return;
        }

        // What all clamps seem to do at once the voltages do; one far ahead of the others is what they echo.
        found.Sort((one, other) => other.Finding.LogOdds.CompareTo(one.Finding.LogOdds));
        if (found.Count > 1 && found[0].Finding.LogOdds < (2 * found[1].Finding.LogOdds) + 6) return;
        foreach (var span in found.Take(1))
        {
            // A steady ratio in the midst of a drift is the drift's.
            Steady(frame, chained.Currents[(int)span.Clamps[0]]!.Rows, span.From, span.To);
            // Without powers an answer that grows may be a clamp on another line; and on one line what the neighbours draw, who keep the same hours, passes for its own.
            var isSure = byCourse.Contains(span.Clamps[0]) || (frame.Lines > 1 && frame.HasWatts);
            spans.Add(isSure ? span : span with { Confidence = Math.Min(span.Confidence, 0.6) });
        }
    }

    /// <summary>Drops a fall of the gain that is for the most part said of rows in which its clamp, by what was found later, was on another conductor, or another on its own: what the voltages answer to there is no clamp that opens. One that was held against the other lines' clamps goes where any of these was elsewhere.</summary>
    public static void DropWithin(GuardFrame frame, List<JudgedPiece> judged, List<GuardSpan> spans) => spans.RemoveAll(span =>
    {
        if (span.Finding.Relation != SpanRelation.CurrentDrifted) return false;
        // A gain that is held against the other lines' needs all clamps in their places.
        var isHeldAgainst = span.Gain[0].Factor < 1;
        double shared = 0;
        foreach (var piece in judged)
        {
            if (piece.Confidence < GuardSpan.SureFrom || !piece.Hookup.Clamps.Any(pair => pair.Value.On is { } on && (int)on != (int)pair.Key && (isHeldAgainst || pair.Key == span.Clamps[0] || (int)on == (int)span.Clamps[0]))) continue;
            var (from, to) = (frame.From(piece.From), frame.To(piece.To));
            shared += Math.Max(0, ((to < span.To ? to : span.To) - (from > span.From ? from : span.From)).TotalSeconds);
        }

        return 2 * shared > (span.To - span.From).TotalSeconds;
    });

    private static void Steady(GuardFrame frame, byte[] rows, DateTime from, DateTime to)
    {
        for (var row = 0; row < rows.Length; row++)
        {
            if (frame.From(row) >= from && frame.To(row) <= to) rows[row] = 0;
        }
    }

    /// <summary>Rows whose currents are those of their lines: leads may be anywhere.</summary>
    private static bool[] HasCourse(Chained chained, List<RowPiece> pieces)
    {
        var has = new bool[chained.Frame.Count];
        foreach (var piece in pieces)
        {
            if (Enumerable.Range(0, 3).All(index => piece.Key.Turn(index) is 0 or 15)) Array.Fill(has, true, piece.From, piece.Length);
        }

        for (var row = 0; row < has.Length; row++) has[row] &= chained.Voltages.At(row).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads;
        return has;
    }

    /// <summary>A clamp that showed much in one row and nothing in the next came off at once.</summary>
    private static bool FallsOff(GuardFrame frame, int clamp, CurrentHistory currents, double floor, Drift drift)
    {
        var amperes = frame.Amperes[clamp]!;
        var earlier = (int)Math.Ceiling(EarlierSeconds / frame.Log.IntervalSeconds);
        for (var row = Math.Max(Before, drift.From); row <= drift.To; row++)
        {
            if (currents.Scales[currents.Rows[row]] != 0 || currents.Scales[currents.Rows[row - 1]] == 0) continue;
            var last = row;
            while (last + 1 < currents.Rows.Length && currents.Scales[currents.Rows[last + 1]] == 0) last++;
            if (last - row + 1 <= MostOfDrift * (drift.To - drift.From + 1)) continue;
            var before = Robust.Median(amperes.AsSpan(row - Before, Before));
            // A jaw that opens showed several times as much some hours ago.
            var then = Math.Max(0, row - earlier);
            if (before > VeryMuch * floor || (before > Much * floor && before > OfEarlier * Robust.Median(amperes.AsSpan(then, Math.Min(Before, row - then))))) return true;
        }

        return false;
    }

    /// <summary>A ratio that begins with a leap of its own size is no jaw that opens slowly.</summary>
    private static void DropLeaps(double[] amperes, CurrentHistory currents, bool[] own)
    {
        for (var row = 0; row < own.Length; row++)
        {
            var scale = currents.Scales[currents.Rows[row]];
            if (scale is 0 or 1) continue;
            var last = row;
            while (last + 1 < own.Length && currents.Rows[last + 1] == currents.Rows[row]) last++;
            if (row >= 2 && last > row + 1)
            {
                var leap = Math.Log((amperes[row + 1] + amperes[row + 2 > last ? row + 1 : row + 2]) / (amperes[row - 1] + amperes[row - 2]));
                // A load that goes as much is answered by the voltage.
                var answer = currents.Answer;
                var unanswered = answer.SayAcross(row - 2, row + 1, 0) - answer.SayAcross(row - 2, row + 1, answer.Own(row + 1) - answer.Own(row - 2));
                if (unanswered > -1 && Math.Abs(leap - Math.Log(scale)) < 0.3 * Math.Abs(Math.Log(scale))) Array.Fill(own, false, row, last - row + 1);
            }

            row = last;
        }
    }

    private static Drift? Fit(GuardFrame frame, VoltageAnswer answer, CurrentSum? sum, int clamp, bool[] isUsable)
    {
        var isOfSteps = frame.Log.IntervalSeconds <= VoltageAnswer.LongestOfSteps;
        var least = isOfSteps ? VoltageAnswer.LeastStep(answer.Own, frame.Count) : 0;
        // A long recording is looked at in wider windows: their number decides the time.
        var perWindow = Math.Max((int)Math.Max(6, Math.Ceiling((isOfSteps ? WindowOfSteps : WindowSeconds) / frame.Log.IntervalSeconds)), frame.Count / 120);
        var count = frame.Count / perWindow;
        if (count < 12) return null;
        double[] own = new double[count], both = new double[count];
        if (sum is not null) AddSum(frame, sum, clamp, isUsable, perWindow, own, both);
        for (var row = 1; row < count * perWindow && answer.IsKnown; row++)
        {
            if (!isUsable[row] || !isUsable[row - 1] || double.IsNaN(answer.Change(row))) continue;
            var change = answer.Own(row) - answer.Own(row - 1);
            var rest = answer.Change(row) - answer.Others(row);
            if (double.IsNaN(change) || double.IsNaN(rest) || Math.Abs(change) < least) continue;
            // A row far off teaches nothing.
            var spread = answer.SpreadAt(row);
            var variance = (spread * spread) + (0.04 * change * change);
            if (Math.Abs(rest - (1.6 * change)) > (5 * spread) + (1.5 * Math.Abs(change))) continue;
            own[row / perWindow] += change * change / variance;
            both[row / perWindow] += change * rest / variance;
        }

        var sums = new Sums(own, both);
        var still = sums.Steady(0, 0, 1);
        Drift? best = null;
        for (var onset = 0; onset < count - LeastWindows + 1; onset++)
        {
            for (var end = onset + LeastWindows; end <= count; end++)
            {
                foreach (var rest in s_rests)
                {
                    var gain = sums.Ramp(onset, end, rest, false) - still;
                    if (best is null || gain > best.Odds) best = new Drift(onset * perWindow, Math.Min(frame.Count, end * perWindow) - 1, rest, gain);
                    if (!isOfSteps || end == count) continue;
                    // A jaw that stays where it got.
                    gain = sums.Ramp(onset, end, rest, true) - still;
                    if (gain > best.Odds) best = new Drift(onset * perWindow, frame.Count - 1, rest, gain) { LowFrom = end * perWindow };
                }
            }
        }

        if (best is null) return null;
        // An answer that wanders from window to window by more than its noise, with the kind of load, tells less of a fall.
        best = best with { Odds = best.Odds / sums.Dispersion(best.From / perWindow, (best.LowFrom ?? best.To + 1) / perWindow, best.Rest, best.LowFrom is not null) };
        var odds = best.Odds + Leap(frame, answer, best, perWindow);
        // How well the answer is known sets a bound: it wanders by a few percent with the kind of load.
        if (odds < (best.Rest > 0.8 ? LeastOdds + 12 : LeastOdds)) return null;
        // A ratio that is off by a step is told by others; it must lose.
        foreach (var factor in s_steps)
        {
            for (var onset = 0; onset < count; onset++)
            {
                for (var end = onset + 1; end <= count; end++)
                {
                    if (sums.Steady(onset, end, factor) - still > odds + 1) return null;
                }
            }
        }

        odds -= LeastOdds - 6;
        return best with { Odds = odds, To = Closed(frame, answer, best, perWindow) };
    }

    /// <summary>What a clamp shows against what the others say it should, where all currents add up to nothing: rows of ten minutes to a few percent.</summary>
    private static void AddSum(GuardFrame frame, CurrentSum sum, int clamp, bool[] isUsable, int perWindow, double[] own, double[] both)
    {
        var weight = Math.Min(1, frame.Log.IntervalSeconds / 600);
        for (var row = 0; row < own.Length * perWindow; row++)
        {
            if (!isUsable[row]) continue;
            var (shown, wanted, size) = sum.Gain(row, clamp);
            if (double.IsNaN(shown) || shown < 0.05 * size || wanted < 0.5 * shown || wanted > 12 * shown) continue;
            var variance = Square(0.04 * size) / weight;
            own[row / perWindow] += shown * shown / variance;
            both[row / perWindow] += shown * wanted / variance;
        }
    }

    private static double Square(double value) => value * value;

    /// <summary>What the closing of the jaw adds: the current leaps by what was missing, and the voltage does not answer.</summary>
    private static double Leap(GuardFrame frame, VoltageAnswer answer, Drift drift, int perWindow)
    {
        if (drift.To >= frame.Count - 2) return 0;
        var best = 0.0;
        for (var row = Math.Max(1, drift.To - perWindow); row < Math.Min(frame.Count, drift.To + perWindow); row++)
        {
            double then = answer.Own(row - 1), now = answer.Own(row);
            if (!(then < 0) || !(now < 0) || double.IsNaN(answer.Change(row))) continue;
            // The gain before the leap is what makes the true current go on as it was.
            var gain = Math.Clamp(then / now, 0.7 * drift.Rest, 1);
            best = Math.Max(best, answer.Say(row, now - (then / gain)) - answer.Say(row, now - then));
            // The leap may fall within an interval.
            if (row < 2 || !(answer.Own(row - 2) is < 0 and var before)) continue;
            gain = Math.Clamp(before / now, 0.7 * drift.Rest, 1);
            best = Math.Max(best, answer.SayAcross(row - 2, row, now - (before / gain)) - answer.SayAcross(row - 2, row, now - before));
        }

        // The best of many rows: half of it, and no more than a few nats. A jaw that seems to close without a leap is a site that lives another way for a day.
        return best < 1 ? -4 : Math.Clamp(best - 3, 0, 8);
    }

    /// <summary>Where the jaw was closed again: the largest leap of the current near the end that the voltage did not answer.</summary>
    private static int Closed(GuardFrame frame, VoltageAnswer answer, Drift drift, int perWindow)
    {
        if (drift.To >= frame.Count - 2) return frame.Count - 1;
        var (at, most) = (drift.To, 0.0);
        for (var row = Math.Max(1, drift.To - (2 * perWindow)); row < Math.Min(frame.Count, drift.To + (2 * perWindow)); row++)
        {
            var change = answer.Own(row) - answer.Own(row - 1);
            var missing = Math.Abs(change) - Math.Abs(answer.Change(row) - answer.Others(row));
            if (change < 0 && missing > most) (at, most) = (row - 1, missing);
        }

        return at;
    }

    private static GuardSpan Span(GuardFrame frame, Clamp clamp, Drift drift)
    {
        var (from, to) = (frame.From(drift.From), frame.To(drift.To));
        ImmutableArray<GainPoint> gain = [new(from, 1), new(to, drift.Rest)];
        if (drift.LowFrom is { } row && row > drift.From && row < drift.To) gain = gain.Insert(1, new(frame.From(row), drift.Rest));
        return new GuardSpan(SpanKind.ClampOpen, [], [clamp], from, to, Math.Min(0.98, 1 - Math.Exp(-drift.Odds / 4)), new SpanFinding(SpanRelation.CurrentDrifted, drift.Odds)
        {
            Rival = SpanKind.RatioWrong, Before = 1, Within = drift.Rest, Intervals = drift.To - drift.From + 1,
        })
        {
            Gain = gain,
        };
    }

    /// <summary>Sums up to each window, so that a stretch costs two look-ups.</summary>
    private sealed class Sums
    {
        private readonly double[] _own;
        private readonly double[] _both;
        private readonly double[] _ownTo;
        private readonly double[] _bothTo;

        public Sums(double[] own, double[] both)
        {
            (_own, _both) = (own, both);
            _ownTo = new double[own.Length + 1];
            _bothTo = new double[own.Length + 1];
            for (var index = 0; index < own.Length; index++)
            {
                _ownTo[index + 1] = _ownTo[index] + own[index];
                _bothTo[index + 1] = _bothTo[index] + both[index];
            }
        }

        /// <summary>The log-likelihood won over no answer at all, with one gain over some windows; the answer at its best.</summary>
        public double Steady(int from, int to, double gain)
        {
            double inside = _ownTo[to] - _ownTo[from], product = _bothTo[to] - _bothTo[from];
            return Won(_ownTo[^1] - inside + (inside / (gain * gain)), _bothTo[^1] - product + (product / gain));
        }

        /// <summary>The same with a straight fall of the gain from 1, to where it stays or is 1 again.</summary>
        public double Ramp(int from, int to, double rest, bool isHeld)
        {
            var square = _ownTo[^1] - (_ownTo[to] - _ownTo[from]);
            var product = _bothTo[^1] - (_bothTo[to] - _bothTo[from]);
            for (var window = from; window < to; window++)
            {
                var share = Share(window, from, to, rest);
                square += _own[window] * share * share;
                product += _both[window] * share;
            }

            if (isHeld)
            {
                double own = _ownTo[^1] - _ownTo[to], both = _bothTo[^1] - _bothTo[to];
                square += own * ((1 / (rest * rest)) - 1);
                product += both * ((1 / rest) - 1);
            }

            return Won(square, product);
        }

        /// <summary>How much more the windows' answers scatter about a falling gain than their rows' noise makes them; 1 or more.</summary>
        public double Dispersion(int from, int to, double rest, bool isHeld)
        {
            var shares = new double[_own.Length];
            double square = 0, product = 0;
            for (var window = 0; window < shares.Length; window++)
            {
                shares[window] = window < from || (window >= to && !isHeld) ? 1 : window >= to ? 1 / rest : Share(window, from, to, rest);
                square += _own[window] * shares[window] * shares[window];
                product += _both[window] * shares[window];
            }

            double scatter = 0;
            var known = -3;
            for (var window = 0; window < shares.Length; window++)
            {
                if (!(_own[window] > 0)) continue;
                var off = _both[window] - (product / square * shares[window] * _own[window]);
                scatter += Math.Min(OneWindow, off * off / _own[window]);
                known++;
            }

            return known < 3 ? 1 : Math.Max(1, scatter / known);
        }

        /// <summary>By how much more the voltage answers to what is shown, midway through a window of the fall.</summary>
        private static double Share(int window, int from, int to, double rest) => 1 / (1 - ((1 - rest) * (window + 0.5 - from) / (to - from)));

        private static double Won(double square, double product) => square > 0 ? product * product / (2 * square) : 0;
    }
}

/// <summary>A straight fall of a clamp's gain from 1.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Rest">The gain at its end.</param>
/// <param name="Odds">Log-odds over a steady gain.</param>
internal sealed record Drift(int From, int To, double Rest, double Odds)
{
    /// <summary>True where the courses of the currents tell it, not the voltages' answers.</summary>
    public bool IsByCourse { get; init; }

    /// <summary>The row from which the gain stays as low as it got; null where it falls to the end.</summary>
    public int? LowFrom { get; init; }
}
