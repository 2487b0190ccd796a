using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds a ratio that was set wrong for all line clamps at once, as where it is a setting of the recorder, or for one of them: the currents leap by one usual ratio, and the voltages answer to them by so much less.</summary>
/// <remarks>
/// A phase's voltage changes by what all currents seem to do to it; what those at a ratio r seem to do it does by 1/r. For every stretch between two leaps one slope of the changes on what is so corrected is fitted by
/// weighted least squares, each row's error that of the voltage and a fifth of the step; the squares that are left, against those with no ratio, say how much likelier it is (n/2 ln of their ratio, two thirds of
/// it: the phases share the supply). A neutral lead in the air weakens the answers too, and no current leaps. Sums from the first row on make each stretch a matter of six differences. Derivation:
/// docs/methods/guard.md.
/// </remarks>
internal sealed class AnsweredRatio
{
    private const int LeastRows = 4;
    private const int LeastOfAll = 40;

    /// <summary>A month of minutes: every row may be an edge, and each is tried.</summary>
    private const int MostOfAll = 45000;
    private const int MostEdges = 24;
    private const double LeastOfEdge = -4;
    private const double LeastOfLeap = 1.5;
    private const double LeastOfLeapsOfOne = 1;

    /// <summary>A ratio tells in each of its rows; loads of several kinds, which one slope fits badly, a little in each of very many. By outside weeks: ratios 1.1 to 60 nats a row, others 0.04 to 0.7.</summary>
    private const double LeastOfRow = 1;

    /// <summary>While the rows that are asked about have taught the answers too.</summary>
    private const double LeastOfRowAtFirst = 0.4;
    private const double LeastOfOneLeap = 3;
    private const double LeastOfLeaps = 5;
    private const double MostOfVoltages = 6;
    private const int Turns = 3;
    private const int Starts = 6;

    /// <summary>A neutral lead in the air was seen at minus five to twelve, a ratio at four (outside weeks).</summary>
    private const double LeastOfMean = 2.5;
    private const double MostBetter = 8;
    private const double MostRows = 2;
    private const double OfMixing = 1;

    /// <summary>How often a current is switched from one row to the next, and how far it then goes.</summary>
    private const double Switched = 0.05;
    private const double Wide = 0.8;
    private const double StepKnownTo = 0.2;
    private const double Shared = 2.0 / 3;

    /// <summary>Where an edge lies among a thousand rows: nats.</summary>
    private const double OfEdge = 7;

    /// <summary>How often the recorder's own ratio is set to one of the usual wrong ones within a recording: one in a hundred. Common practice, no source.</summary>
    private const double LogSlips = -4.6;
    private const double LeastAnswered = 20;
    private const double MostOfTail = 4;

    /// <summary>What is so for longer is the usual, and the rest what changed; but what is so in the middle, and not on either side, was wrong there.</summary>
    private const double MostShare = 0.48;
    private const double MostWithin = 0.7;
    private const double LeastSpread = 0.02;
    private static readonly double[] s_ratios = [10, 0.1, 2, 0.5, 5, 0.2];

    private const double SlopeKnownTo = 0.15;

    /// <summary>No neutral lead makes a tenth, so that less will do: rows beside an edge that were put on its wrong side bend the slope. Set by one week.</summary>
    private const double TenKnownTo = 0.6;
    private readonly GuardFrame _frame;
    private readonly VoltageHistory _voltages;
    private readonly double[][] _logs;
    private readonly double[] _spreads;
    private readonly int[] _clamps;
    private readonly Sums[] _sums;
    private readonly VoltageAnswer[] _answers;

    private AnsweredRatio(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, int[] clamps)
    {
        (_frame, _voltages, _clamps, _answers) = (frame, voltages, clamps, answers);
        _logs = [.. Enumerable.Range(0, frame.Lines).Select(line => Logs(frame, voltages, line))];
        _spreads = [.. _logs.Select(logs => Robust.Deviation(Robust.Changes(logs)) is var spread && spread > LeastSpread ? spread : LeastSpread)];
        _sums = new Sums[frame.Count + 1];
        for (var row = 1; row < frame.Count; row++)
        {
            var sums = _sums[row];
            for (var phase = 0; phase < frame.Lines; phase++)
            {
                var answer = answers[phase];
                double moved = answer.Change(row), seems = answer.Standing(row) - answer.Standing(row - 1), scaled = Scaled(answer, phase, row, seems);
                // What the supply does by itself has heavy tails.
                if (!answer.IsKnown || double.IsNaN(moved + seems + scaled) || Math.Abs(moved) > MostOfTail * answer.Tail.All) continue;
                sums = sums.With(moved, seems - scaled, scaled, 1 / ((answer.Spread * answer.Spread) + (StepKnownTo * StepKnownTo * seems * seems)));
            }

            _sums[row + 1] = sums;
        }
    }

    /// <summary>What the clamps that are asked about seem to do to a phase; NaN where it is not known apart from what the others do.</summary>
    private double Scaled(VoltageAnswer answer, int phase, int row, double seems)
    {
        if (_clamps.Length == _frame.Lines) return seems;
        if (_clamps[0] == phase) return answer.Own(row) - answer.Own(row - 1);
        if (answer.Weights.Length <= _clamps[0] || !_frame.TryMeanCurrent(_clamps[0], row, out var inPhase, out var across) || !_frame.TryMeanCurrent(_clamps[0], row - 1, out var inPhaseThen, out var acrossThen)) return double.NaN;
        var (real, imaginary) = answer.Weights[_clamps[0]];
        return (real * (inPhase - inPhaseThen)) + (imaginary * (across - acrossThen));
    }

    /// <summary>A stretch of rows in which clamps read a ratio times what flowed.</summary>
    /// <param name="From">First row.</param>
    /// <param name="To">Last row.</param>
    /// <param name="Ratio">The ratio.</param>
    /// <param name="Clamps">The clamps that did.</param>
    /// <param name="Odds">Log-odds for it.</param>
    internal sealed record Stretch(int From, int To, double Ratio, int[] Clamps, double Odds)
    {
        /// <summary>Puts it into the histories of the clamps, in place of whatever they say there; one of them that reads the inverse elsewhere is its echo.</summary>
        public void Put(CurrentHistory?[] currents)
        {
            foreach (var clamp in Clamps)
            {
                // What is known for itself may lie on the other side.
                if (currents[clamp] is not { } current || (Clamps.Length == 1 && current.IsAbsolute)) continue;
                if (Clamps.Length > 1 && Array.IndexOf(current.Scales, 1 / Ratio) is >= 0 and var echo)
                {
                    for (var row = 0; row < current.Rows.Length; row++) current.Rows[row] = current.Rows[row] == echo ? (byte)0 : current.Rows[row];
                }

                if (Array.IndexOf(current.Scales, Ratio) is >= 0 and var state) Array.Fill(current.Rows, (byte)state, From, To - From + 1);
            }
        }

        /// <summary>True where a clamp's own current leaps by ten, which no answer tells from five as well.</summary>
        public bool IsOfAnother(CurrentHistory? current) =>
            current is not null && Ratio is not (10 or 0.1) && 2 * current.Rows[From..(To + 1)].Count(state => current.Scales[state] is 10 or 0.1 && current.Scales[state] > 1 == Ratio > 1) > To - From + 1;

        /// <summary>True in its rows, which must not teach.</summary>
        public bool[] Rows(int count)
        {
            var rows = new bool[count];
            Array.Fill(rows, true, From, To - From + 1);
            return rows;
        }
    }

    /// <summary>The likeliest stretch of all clamps, or else of one of which no ratio is known yet; null where there is none.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="answers">How they answer.</param>
    /// <param name="currents">What is known of the clamps' ratios.</param>
    /// <param name="angles">By how much powers stood turned: where one does, another slip is at work.</param>
    /// <param name="isApart">True where the answers were learned without the rows that are asked about.</param>
    public static Stretch? Find(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, CurrentHistory?[] currents, AngleHistory?[] angles, bool isApart)
    {
        if (frame.Lines < 2 || frame.IsPairs || frame.Options.Check.MayExport || frame.Count is < LeastOfAll or > MostOfAll || answers.Take(frame.Lines).Count(answer => answer.IsSharp) < 2
            || Enumerable.Range(0, frame.Lines).Any(line => frame.Amperes[line] is null || frame.Volts[line] is null)) return null;
        var best = new AnsweredRatio(frame, voltages, answers, [.. Enumerable.Range(0, frame.Lines)]).Find(isApart);
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (answers[clamp].IsSharp && new AnsweredRatio(frame, voltages, answers, [clamp]).Find(isApart) is { } one && one.Odds > (best?.Odds ?? 0)) best = one;
        }

        // Where the answers change at other rows than the currents leap, nothing was done to these. A tenth, or ten times as much, no neutral lead makes.
        if (best is { Ratio: 2 or 0.5 or 5 or 0.2 } && isApart && new AnsweredRatio(frame, voltages, answers, best.Clamps).IsElsewhere(best)) return null;
        // A clamp on nothing changes all answers too.
        if (best is not null && best.Clamps.Any(clamp => IsOff(currents[clamp], best))) return null;
        if (best is not null && Array.Exists(angles, angle => angle is not null && Array.Exists(angle.Rows[best.From..(best.To + 1)], turn => turn > 0))) return null;
        // What a clamp's own history knows it dates better.
        return best is { Clamps.Length: 1 } && currents[best.Clamps[0]] is { } known && Array.Exists(known.Rows, state => known.Scales[state] == best.Ratio) ? null : best;
    }

    private static bool IsOff(CurrentHistory? current, Stretch at)
    {
        for (var row = at.From; current is not null && row <= at.To; row++)
        {
            if (current.Scales[current.Rows[row]] == 0) return true;
        }

        return false;
    }

    private Stretch? Find(bool isApart)
    {
        (Stretch? At, double Odds) best = (null, 0);
        foreach (var ratio in s_ratios)
        {
            var log = Math.Log(ratio);
            var (begins, comes) = Edges(log, true);
            var (ends, goes) = Edges(log, false);
            // Answers that are weaker for a while, and no leap: that is something else.
            var needsLeaps = true;
            double Odds(int from, int end) => needsLeaps && !AreLeaps(from, comes[from], end, goes[end]) ? double.NegativeInfinity : end - from < LeastRows || end - from > (from > 0 && end < _frame.Count ? MostWithin : MostShare) * _frame.Count ? double.NegativeInfinity
                : Answered(from, end - 1, ratio) is var said && said < LeastAnswered ? double.NegativeInfinity : said + begins[from] + ends[end] + LogSlips;

            var (at, odds) = (default((int From, int End)), 0.0);
            foreach (var begin in Likeliest(begins))
            {
                foreach (var end in Likeliest(ends)) Take(begin, end);
            }

            // Loads that are switched in every row hide all leaps: there the mean of the voltages tells a ratio from a neutral lead in the air.
            if (odds <= 0 && _clamps.Length > 1 && ByAnswers(ratio) is var (first, behind) && OddsOfMean(first, behind, ratio) > LeastOfMean)
            {
                needsLeaps = false;
                Take(first, behind);
            }

            // An edge among switched loads may leap by less than they do.
            for (var turn = 0; turn < Turns && odds > 0; turn++)
            {
                var (from, end) = at;
                for (var row = 0; row < end; row++) Take(row, end);
                from = at.From;
                for (var row = from + 1; row <= _frame.Count; row++) Take(from, row);
            }

            if (odds > 0 && isApart && !(_clamps.Length > 1 ? IsOfTheSize(at.From, at.End - 1, ratio) && OddsOfMean(at.From, at.End, ratio) > -LeastOfMean : IsOfOne(at.From, at.End - 1, ratio))) continue;
            if (odds < (isApart ? LeastOfRow : LeastOfRowAtFirst) * (at.End - at.From)) continue;
            if (odds > best.Odds) best = (new Stretch(at.From, at.End - 1, ratio, _clamps, odds), odds);

            void Take(int from, int end)
            {
                if (Odds(from, end) is var said && said > odds) (at, odds) = ((from, end), said);
            }
        }

        return best.At;
    }

    /// <summary>Every edge within the recording must be a leap of its own, and both together plainly so.</summary>
    private bool AreLeaps(int from, double comes, int end, double goes)
    {
        var isFirst = from == 0;
        var isLast = end == _frame.Count;
        if (isFirst && isLast) return false;
        // Of one clamp the parts of the answers that are its own tell; of all an ill-read neutral tells the same.
        if (_clamps.Length == 1) return comes + goes > LeastOfLeapsOfOne;
        return (isFirst || comes > LeastOfLeap) && (isLast || goes > LeastOfLeap) && comes + goes > (isFirst || isLast ? LeastOfOneLeap : LeastOfLeaps);
    }

    /// <summary>True where rows further in or out, whatever the currents do there, explain the answers plainly better.</summary>
    private bool IsElsewhere(Stretch stretch)
    {
        var least = Answered(stretch.From, stretch.To, stretch.Ratio);
        var (_, _, most) = Climbed(stretch.From, stretch.To + 1, stretch.Ratio);
        return most - least > MostBetter + (MostRows * least / (stretch.To - stretch.From + 1));
    }

    private double OddsOfMean(int from, int end, double ratio) => MeanAnswer.OddsOfRatio(_frame, _voltages, _answers, from, end - 1, ratio);

    /// <summary>The rows in which a ratio of all explains the voltages best, whatever the currents do at their ends: from the best of a few stretches on.</summary>
    private (int From, int End) ByAnswers(double ratio)
    {
        var (best, most) = ((From: 0, End: _frame.Count), 0.0);
        for (var start = 0; start < Starts * Starts; start++)
        {
            int from = start / Starts * _frame.Count / Starts, end = ((start % Starts) + 1) * _frame.Count / Starts;
            if (end - from < LeastRows || end - from == _frame.Count) continue;
            var said = Answered(from, end - 1, ratio);
            if (said > most) (best, most) = ((from, end), said);
        }

        var (first, behind, _) = Climbed(best.From, best.End, ratio);
        return (first, behind);
    }

    /// <summary>A stretch whose ends are moved in turn to where the answers are explained best, and by how much they are.</summary>
    private (int From, int End, double Said) Climbed(int from, int end, double ratio)
    {
        var most = Answered(from, end - 1, ratio);
        for (var turn = 0; turn < Turns; turn++)
        {
            var (was, wasEnd) = (from, end);
            for (var row = 0; row <= end - LeastRows; row++)
            {
                if (Answered(row, end - 1, ratio) is var said && said > most) (from, most) = (row, said);
            }

            for (var row = from + LeastRows; row <= _frame.Count; row++)
            {
                if (Answered(from, row - 1, ratio) is var said && said > most) (end, most) = (row, said);
            }

            if ((was, wasEnd) == (from, end)) break;
        }

        return (from, end, most);
    }

    private static int[] Likeliest(double[] edges) => [.. Enumerable.Range(0, edges.Length).OrderByDescending(row => edges[row]).Take(MostEdges)];

    /// <summary>By how much more of the voltages' changes is explained with all currents at a ratio within some rows than with none, nats.</summary>
    private double Answered(int from, int to, double ratio)
    {
        // The changes into the first row and out of the last are between both.
        var inside = _sums[to + 1] - _sums[from + 1];
        var outside = _sums[^1] - _sums[Math.Min(_frame.Count, to + 2)] + _sums[from];
        var (product, square) = inside.At(ratio);
        var (plain, plainSquare) = inside.At(1);
        var (usual, usualSquare) = outside.At(1);
        // Voltages fall with what flows on either side.
        if (!(square > 0) || !(usualSquare > 0) || !(usual > 0) || !(product > 0)) return 0;
        var moved = inside.Moved + outside.Moved;
        double left = moved - (Square(usual + product) / (usualSquare + square)), leftOfNone = moved - (Square(usual + plain) / (usualSquare + plainSquare));
        return Shared * 0.5 * (inside.Count + outside.Count) * Math.Log(leftOfNone / left);
    }

    /// <summary>True where one clamp's ratio explains more than that all answers are weaker inside, as with the neutral lead in the air.</summary>
    private bool IsOfOne(int from, int to, double ratio)
    {
        var inside = _sums[to + 1] - _sums[from + 1];
        var outside = _sums[^1] - _sums[Math.Min(_frame.Count, to + 2)] + _sums[from];
        var ((product, square), (all, allSquare), (usual, usualSquare)) = (inside.At(ratio), inside.At(1), outside.At(1));
        return Square(usual + product) / (usualSquare + square) > (Square(usual) / usualSquare) + (Square(all) / allSquare);
    }

    /// <summary>True where the answers inside are just by the ratio weaker than outside.</summary>
    private bool IsOfTheSize(int from, int to, double ratio)
    {
        var (product, square) = (_sums[to + 1] - _sums[from + 1]).At(1);
        var (usual, usualSquare) = (_sums[^1] - _sums[Math.Min(_frame.Count, to + 2)] + _sums[from]).At(1);
        return Math.Abs(Math.Log(product / square / (usual / usualSquare) * ratio)) < (ratio is 10 or 0.1 ? TenKnownTo : SlopeKnownTo);
    }

    private static double Square(double value) => value * value;

    /// <summary>For each row the log-odds that a ratio begins, or ends, with it, by how the currents leap and the voltages do not, less what choosing the row costs; the recording's own end, where nothing
    /// need leap, is one too. And what the currents alone say.</summary>
    private (double[] Odds, double[] Leaps) Edges(double log, bool isBegin)
    {
        var edges = new double[_frame.Count + 1];
        Array.Fill(edges, double.NegativeInfinity);
        var leaped = new double[_frame.Count + 1];
        var leap = isBegin ? log : -log;
        for (var row = 1; row + 1 < _frame.Count; row++)
        {
            var leaps = Math.Max(Leaps(row - 1, row, leap, 1), Leaps(row - 1, row + 1, leap, Math.Sqrt(2)) - OfMixing);
            leaped[row] = Math.Max(leaps, LeastOfEdge);
            edges[row] = leaped[row] + Unanswered(row, Math.Exp(log), isBegin) - OfEdge;
        }

        edges[isBegin ? 0 : _frame.Count] = -OfEdge;
        return (edges, leaped);
    }

    /// <summary>Log-odds by the change of the voltages into a row that the ratio begins, or ends, with it.</summary>
    private double Unanswered(int row, double ratio, bool isBegin)
    {
        double odds = 0;
        for (var phase = 0; phase < _frame.Lines; phase++)
        {
            if (_clamps.Length < _frame.Lines && _clamps[0] != phase) continue;
            var answer = _answers[phase];
            double now = _clamps.Length == 1 ? answer.Own(row) : answer.Standing(row), then = _clamps.Length == 1 ? answer.Own(row - 1) : answer.Standing(row - 1);
            double moved = answer.Change(row), seems = answer.Standing(row) - answer.Standing(row - 1), truly = seems - (now - then) + (isBegin ? (now / ratio) - then : now - (then / ratio));
            if (!answer.IsKnown || double.IsNaN(moved + truly)) continue;
            odds += Say(moved, truly, answer.Spread) - Say(moved, seems, answer.Spread);
        }

        return Math.Clamp(odds, -MostOfVoltages, MostOfVoltages);
    }

    private static double Say(double moved, double expected, double spread)
    {
        var wide = Math.Sqrt((spread * spread) + (StepKnownTo * StepKnownTo * expected * expected));
        return NeutralLeadChain.Say(moved - expected, wide);
    }

    /// <summary>Log-odds that all currents that are asked about are multiplied between two rows, over that they go on or are switched. What one line says the others, which share loads with it, say half.</summary>
    private double Leaps(int then, int now, double log, double wide)
    {
        double most = 0, sum = 0;
        var lines = 0;
        foreach (var line in _clamps)
        {
            var change = _logs[line][now] - _logs[line][then];
            if (double.IsNaN(change)) continue;
            var odds = Density(change - log, line, wide) - Density(change, line, wide);
            // One that does not go along rules it out.
            if (odds < LeastOfEdge) return odds;
            (most, sum, lines) = (Math.Max(most, odds), sum + odds, lines + 1);
        }

        return lines < Math.Min(2, _clamps.Length) ? 0 : most + (0.5 * (sum - most));
    }

    private double Density(double change, int line, double wide)
    {
        var spread = _spreads[line] * wide;
        var small = change / spread;
        return Math.Log(((1 - Switched) * 0.375 / spread / Robust.FiveHalves(1 + (small * small / 4))) + (Switched * 0.375 / Wide / Robust.FiveHalves(1 + (change * change / (4 * Wide * Wide)))));
    }

    private static double[] Logs(GuardFrame frame, VoltageHistory voltages, int line)
    {
        var logs = new double[frame.Count];
        var least = 0.2 * voltages.Floors[line];
        for (var row = 0; row < logs.Length; row++) logs[row] = frame.Amperes[line]![row] > least && voltages.At(row).Kind == VoltageStateKind.Sound ? Math.Log(frame.Amperes[line]![row]) : double.NaN;
        return logs;
    }

    /// <summary>Weighted sums over rows and phases, for any ratio at once.</summary>
    private readonly record struct Sums(double Moved, double MovedByRest, double MovedByScaled, double Rest, double Both, double Scaled, int Count)
    {
        public Sums With(double moved, double rest, double scaled, double weight) => new(
            Moved + (weight * moved * moved), MovedByRest + (weight * moved * rest), MovedByScaled + (weight * moved * scaled), Rest + (weight * rest * rest), Both + (weight * rest * scaled),
            Scaled + (weight * scaled * scaled), Count + 1);

        /// <summary>Products with the voltage's changes, and squares, of what all currents do if the clamps read a ratio times what flows.</summary>
        public (double Product, double Square) At(double ratio) => (MovedByRest + (MovedByScaled / ratio), Rest + (2 * Both / ratio) + (Scaled / (ratio * ratio)));

        public static Sums operator +(Sums one, Sums other) => new(
            one.Moved + other.Moved, one.MovedByRest + other.MovedByRest, one.MovedByScaled + other.MovedByScaled, one.Rest + other.Rest, one.Both + other.Both, one.Scaled + other.Scaled, one.Count + other.Count);

        public static Sums operator -(Sums one, Sums other) => new(
            one.Moved - other.Moved, one.MovedByRest - other.MovedByRest, one.MovedByScaled - other.MovedByScaled, one.Rest - other.Rest, one.Both - other.Both, one.Scaled - other.Scaled, one.Count - other.Count);
    }
}
