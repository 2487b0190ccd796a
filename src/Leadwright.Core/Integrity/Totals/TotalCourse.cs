using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>The likeliest history of hook-ups by the total power, row by row with what went on from the row before: a step of the total in one interval, while no current moves, is no load's.</summary>
/// <remarks>
/// What a row leaves beside what its currents and a hook-up make goes on to the next row with a share, and what is new in it has Student's tails. A change of hook-up is held against the row before under the
/// old one, so that levels and steps both speak. The row in which the change falls may be left out. Beside every hook-up stands a load of an odd power factor, which may take any level,
/// but no more from one row to the next than the currents moved by.
/// </remarks>
internal sealed class TotalCourse
{
    // Nats and shares are our choice, set on weeks of one outside maker and checked on other weeks of it and on the project's own.
    private const int Rounds = 3;
    private const double Tails = 3;
    private const double Mixed = 3;
    private const double LeastOdds = 10;
    private const double OddsOfThroughout = 20;
    private const int LeastRows = 3;
    private const int TooOften = 3;
    private const double MostOfCurrents = 12;
    private const double OddLoad = 7;
    private const int LeastTold = 30;
    private const double LeastOrdinary = -2.5;
    private const double MostOfThroughout = 0.97;
    private const double LeastRival = 0.03;
    private const int MostRivals = 3;
    private const double LeastOfBothWays = 25;
    private const double LeastOfSteps = 7;

    // Leads have colours of their own, clamps have none (common practice, no source).
    private const double LeadsMove = 1;
    private const double LevelsADay = 4;
    private const double LeastRest = 0.01;
    private const double FirstGoesOn = 0.9;
    private const double LeastAgainst = 6;
    private const double MostOfARun = 20;
    private const double MostAlike = 0.95;
    private const double OneConductor = 8;
    private const int Finalists = 3;
    private const int MostOfAGap = 20;
    private const double Dawn = 4;
    private const double Dusk = 22;
    private const double Higher = 0.0015;
    private const int Sampled = 17;
    private const double Gain = 0.005;
    private const double MostApart = 8;
    private const double NearlyAll = 0.7;
    private const double MostOfShort = 0.65;
    private const double Backwards = -0.05;
    private const double ManyBackwards = 0.05;
    private const double NotDeclared = 8;
    private const double LeastOfAStep = 4;
    private readonly GuardFrame _frame;
    private readonly TotalByLine _total;
    private readonly List<TotalHookup> _hookups;
    private readonly Phasor[][] _turns;
    private readonly float[] _over;
    private readonly double _weight;
    private readonly double _more;
    private readonly double[] _moves;
    private readonly double[] _swings;
    private readonly double[] _digits;
    private readonly bool[] _movesReadings;
    private readonly bool _isBothWays;
    private TotalAngles _angles;
    private TotalSpreads _spreads;
    private double _usualRest;

    private TotalCourse(GuardFrame frame, TotalByLine total)
    {
        (_frame, _total) = (frame, total);
        _hookups = TotalHookup.Of(frame, total.Clamps);
        _turns = [.. _hookups.Select(total.Turns)];
        _over = Overs();
        _weight = 0.5 * Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600));
        _more = Math.Max(0, Math.Log(frame.Count / 1000.0));
        _isBothWays = frame.Options.Check.MayExport;
        _moves = [.. Enumerable.Range(0, 3).Select(clamp => frame.Amperes[clamp] is { } amperes && total.Clamps.Contains(clamp) ? Moves(amperes) : 0)];
        _movesReadings = [.. _hookups.Select(hookup => hookup.MovesLeads || Enumerable.Range(0, 3).Any(clamp => hookup.Clamps[clamp].On != clamp))];
        _swings = [.. Enumerable.Range(0, frame.Lines).Select(line => Moves(frame.Volts[line]!))];
        _digits = [.. Enumerable.Range(0, 3).Select(clamp => frame.Amperes[clamp] is { } amperes ? 0.6 * Robust.Step(amperes) : 0)];
        _angles = new TotalAngles(frame.Service.IsThreeWire || frame.Service.Kind == ServiceKind.HighLeg);
        _spreads = new TotalSpreads(frame, new Phasor?[frame.Count], total.HasVars, false, true);
    }

    /// <summary>Finds the stretches in which another hook-up than the right one explains the total; where the order of the lines is not told, in that which explains more.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="voltages">The states of its voltages.</param>
    /// <param name="known">What was found in another way: it is given what the lines' loads draw.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static List<TotalStretch> Find(GuardFrame frame, VoltageHistory voltages, List<TotalStretch> known, CancellationToken cancellation)
    {
        if (TotalByLine.Of(frame, voltages) is not { } total || total.Shares.Count(shares => shares is not null) < LeastTold) return [];
        var ways = new TotalCourse(frame, total).Ways(cancellation);
        // An ordinary site in every row leaves nothing to ask.
        if (IsOrdinary(ways[0]) && Array.TrueForAll(ways[0].History, state => state == 0)) return [];
        if (frame.Lines == 3 && frame.Options.Check.ToldRotation == Rotation.Unknown)
        {
            var taken = frame.Rotation;
            frame.Take(taken == Rotation.Acb ? Rotation.Abc : Rotation.Acb);
            ways.AddRange(new TotalCourse(frame, TotalByLine.Of(frame, voltages)!).Ways(cancellation));
            frame.Take(taken);
        }

        var was = frame.Rotation;

        var right = Best(ways, way => way.Main == 0, cancellation);
        var other = Best(ways, way => way.Main != 0, cancellation);
        frame.Take(was);
        for (var index = 0; index < known.Count; index++) known[index] = known[index] with { Factors = frame.Options.Check.MayExport ? null : FactorsOf(known[index], ways) };

        // Another one for most of the time must explain much more than the right one does with angles of its own.
        if (other is not null && (right is null || other.Score > right.Score + OddsOfThroughout))
        {
            frame.Take(other.Rotation);
            return other.Course.Stretches(other, ways);
        }

        if (right is null) return [];
        var found = right.Course.Stretches(right, ways);
        if (found.Count > 0) frame.Take(right.Rotation);
        return found;
    }

    /// <summary>True where the total is far less than its volt-amperes all along: generation turns it, and takes from it for hours.</summary>
    private bool IsShort() => _total.HasVars && Robust.Quantile([.. _total.Values.Where((_, row) => _total.Teaches[row]).Select(value => value.Magnitude)], NearlyAll) < MostOfShort;

    private static bool IsOrdinary(Way way) => way.Main == 0 && way.Angles.LogPrior > LeastOrdinary;

    /// <summary>What the lines' loads draw if a stretch that was found in another way is as it was found.</summary>
    private static LineFactors? FactorsOf(TotalStretch stretch, List<Way> ways)
    {
        foreach (var way in ways.OrderByDescending(way => way.Score))
        {
            var course = way.Course;
            var state = way.History[(stretch.From + stretch.To) / 2];
            if (course._hookups[state].IsLike(stretch.Hookup)) return way.Factors;
            if (course._hookups[state].IsTwin(stretch.Hookup, out var one, out var other))
                return way.Factors with { ByLine = way.Factors.ByLine.SetItem(one, way.Factors.ByLine[other]).SetItem(other, way.Factors.ByLine[one]) };
        }

        return null;
    }

    /// <summary>The histories that begin from every hook-up taken to be there throughout; from the right one alone where that leaves nothing to explain.</summary>
    private List<Way> Ways(CancellationToken cancellation)
    {
        var ways = new List<Way> { Settle(0, cancellation) };
        if (IsOrdinary(ways[0]) || (_isBothWays && !IsShort())) return ways;
        for (var state = 1; state < _hookups.Count; state++) ways.Add(Settle(state, cancellation));
        return ways;
    }

    /// <summary>The best of the histories of a kind, the few likeliest gone on with until nothing more is learned.</summary>
    private static Way? Best(List<Way> ways, Func<Way, bool> isSo, CancellationToken cancellation)
    {
        foreach (var way in ways.Where(isSo).OrderByDescending(way => way.Score).DistinctBy(way => (way.Main, way.Rotation)).Take(Finalists).ToList())
        {
            way.Course._frame.Take(way.Rotation);
            var further = way.Course.Settle(way.Start, way.History, way, cancellation);
            if (further.Score > way.Score && isSo(further)) ways[ways.IndexOf(way)] = further;
        }

        // As their chances are weighed in the end: what is known beforehand counts in full, what goes on for longer than is learned for half.
        return ways.Where(isSo).MaxBy(way => way.Score + way.Beforehand);
    }

    private List<TotalStretch> Stretches(Way way, List<Way> ways)
    {
        (_angles, _spreads, _usualRest) = (way.Angles, way.Spreads, way.Rest);
        var found = new List<TotalStretch>();
        for (var row = 0; row < way.History.Length; row++)
        {
            var state = way.History[row];
            if (state == 0) continue;
            var to = row;
            while (to + 1 < way.History.Length && way.History[to + 1] == state) to++;
            var last = to;
            // To the recording's ends where the rows on the way hardly speak against it.
            if (row > 0 && !IsAgainst(0, row - 1, state)) row = 0;
            if (to < way.History.Length - 1 && !IsAgainst(to + 1, way.History.Length - 1, state)) to = way.History.Length - 1;
            if (Judge(row, to, state) is { } stretch) found.Add((state == way.Main ? Throughout(stretch, way, ways) : stretch) with { Factors = _isBothWays ? null : way.Factors });
            row = Math.Max(last, to);
        }

        // What comes and goes time and again is a load, and says nothing of another hook-up that came once, and sends power backwards.
        if (found.Count < TooOften) return found;
        foreach (var often in found.GroupBy(stretch => stretch.Hookup).Where(group => group.Count() > 1).ToList()) found.RemoveAll(stretch => stretch.Hookup == often.Key);
        return found is [var once] && GoesBackwards(once) ? found : [];
    }

    /// <summary>True where power comes back in many of a stretch's rows, though nothing that makes any was declared.</summary>
    private bool GoesBackwards(TotalStretch stretch)
    {
        var rows = Enumerable.Range(stretch.From, stretch.To - stretch.From + 1).Where(row => _total.Shares[row] is not null).ToList();
        return !_isBothWays && rows.Count(row => _total.Values[row].Real < Backwards) > ManyBackwards * rows.Count;
    }

    /// <summary>How sure the hook-up of most of the recording is, and what else explains it about as well.</summary>
    private static TotalStretch Throughout(TotalStretch stretch, Way way, List<Way> ways)
    {
        // One for each hook-up; what is left goes on for longer than is learned, so that differences count for half.
        var rivals = ways.GroupBy(other => other.Course.Text(other.Main)).Select(group => group.MaxBy(other => other.Score)!)
            .Select(other => (Way: other, Chance: Math.Exp(((other.Score - way.Score) + (other.Beforehand - way.Beforehand)) / 2))).OrderByDescending(entry => entry.Chance).ToList();
        var sum = rivals.Sum(entry => entry.Chance);
        return stretch with
        {
            Confidence = Math.Min(MostOfThroughout, 1 / sum),
            Rivals = [.. rivals.Where(entry => entry.Way.Main != way.Main && entry.Way.Main != 0 && entry.Chance > LeastRival * sum).Take(MostRivals)
                .Select(entry => (entry.Way.Course._hookups[entry.Way.Main], entry.Chance / sum, entry.Way.Factors))],
        };
    }

    private string Text(int state) => string.Join(',', _hookups[state].Leads) + " " + string.Join(',', _hookups[state].Clamps.Select(c => (c.Sign < 0 ? "-" : "") + c.On));

    private sealed record Way(TotalCourse Course, Rotation Rotation, int Start, TotalAngles Angles, TotalSpreads Spreads, double Rest, byte[] History, double Score, double Beforehand)
    {
        /// <summary>What the lines' loads draw.</summary>
        public LineFactors Factors { get; } = Angles.Factors(Course._total, Course._hookups, Course._turns, History, Math.Max(0.02, Rest), Spreads);

        /// <summary>The hook-up that stands longest.</summary>
        public int Main { get; } = History.GroupBy(state => state).MaxBy(group => group.Count())!.Key;
    }

    /// <summary>Learns angles and spreads with a hook-up taken to be there in all rows, then finds the history, and learns again from that.</summary>
    private Way Settle(int start, CancellationToken cancellation)
    {
        var history = new byte[_frame.Count];
        Array.Fill(history, (byte)start);
        return Settle(start, history, null, cancellation);
    }

    private Way Settle(int start, byte[] history, Way? before, CancellationToken cancellation)
    {
        _angles = before?.Angles ?? new TotalAngles(_frame.Service.IsThreeWire || _frame.Service.Kind == ServiceKind.HighLeg);
        _usualRest = before?.Rest ?? 0.1;
        if (before is not null) _spreads = before.Spreads;
        double score = 0;
        for (var round = 0; round < Rounds; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            _angles.Learn(_total, _hookups, _turns, history, Math.Max(0.02, _usualRest), round == 0 && before is null ? FirstGoesOn : Enumerable.Range(0, _frame.Count / Sampled).Average(part => _spreads.GoesOn(part * Sampled)));
            var left = new Phasor?[_frame.Count];
            for (var row = 0; row < left.Length; row++)
            {
                // Rows beside a change may be mixed.
                var isEdge = (row > 0 && history[row - 1] != history[row]) || (row + 1 < left.Length && history[row + 1] != history[row]);
                if (!isEdge) left[row] = Left(row, history[row]);
            }

            _usualRest = Robust.Median([.. left.Where(value => value is not null).Select(value => value!.Value.Magnitude)]) * 1.48;
            _spreads = new TotalSpreads(_frame, left, _total.HasVars, _isBothWays, round == 0 && before is null);
            (history, score) = History();
        }

        // What goes on from row to row forgives any level: how far it lies off counts for some hours' worth each day.
        var levels = LevelsADay * (_frame.To(_frame.Count - 1) - _frame.From(0)).TotalDays * Math.Log(Math.Max(LeastRest, _usualRest));
        var beforehand = _angles.LogPrior + ByRotation() + AlikeAllAlong(history);
        return new Way(this, _frame.Rotation, start, _angles, _spreads, _usualRest, history, score + beforehand - levels, beforehand);
    }

    private double ByRotation() => (_frame.Rotation == Rotation.Acb && _frame.Options.Check.ToldRotation == Rotation.Unknown ? GuardFrame.LogAcb : 0);

    /// <summary>What a row leaves beside what a hook-up makes of it.</summary>
    private Phasor? Left(int row, int state)
    {
        if (_total.Shares[row] is not { } shares) return null;
        var left = _total.Values[row] - _angles.Expect(shares, _turns[state], _hookups[state], _total.Clamps);
        return _total.HasVars ? left : new Phasor(left.Real, 0);
    }

    private Phasor? Off(int row, int state) => Left(row, state) is { } left ? left - _spreads.Middle(row) : null;

    /// <summary>What share of the rest went on from a row to another, and how the new in it is spread.</summary>
    private readonly record struct Law(double GoesOn, double Variance, double Top);

    private Law LawOf(int row, int before)
    {
        double spread = _spreads.Level(row), own = 0;
        if (before >= 0)
        {
            own = row == before + 1 ? _spreads.GoesOn(row) : Math.Pow(_spreads.GoesOn(row), Math.Min(row - before, MostOfAGap));
            spread *= Math.Sqrt(1 - (own * own));
        }

        var variance = (spread * spread) + (_total.Steps[row] * _total.Steps[row]);
        return new Law(own, variance, (_total.HasVars ? -1 : -0.5) * Math.Log(variance));
    }

    /// <summary>Log-likelihood of what is left in a row, where the row before left something else.</summary>
    private double Says(Law law, Phasor left, Phasor before)
    {
        var off = left - (law.GoesOn * before);
        return law.Top - (0.5 * (Tails + (_total.HasVars ? 2 : 1)) * Math.Log(1 + (off.SquaredMagnitude / (Tails * law.Variance))));
    }

    private double Says(int row, Phasor left, int before, Phasor? leftBefore) => Says(LawOf(row, leftBefore is null ? -1 : before), left, leftBefore ?? Phasor.Zero);

    /// <summary>How much better currents and voltages go on if clamps and leads went from one hook-up to another between two rows, than if they stayed.</summary>
    private double Currents(int before, int row, int from, int to)
    {
        if ((!_movesReadings[from] && !_movesReadings[to]) || _total.Shares[before] is null || _total.Shares[row] is null) return 0;
        double log = 0;
        foreach (var clamp in _total.Clamps)
        {
            var on = _hookups[to].Clamps[clamp].On;
            var source = Array.FindIndex(_hookups[from].Clamps, place => place.On == on);
            if (source < 0 || source == clamp || _frame.Amperes[source] is not { } theirs || _frame.Amperes[clamp] is not { } own) continue;
            double stays = Math.Log(own[row] / own[before]), moves = Math.Log(own[row] / theirs[before]);
            // A clamp has a gain of its own to a percent or so.
            log += Better(stays, moves, Math.Max(0.02, _moves[clamp]));
        }

        // Leads moved and moved back are each other's own way back, so that one list of sources does for both.
        var leads = _hookups[from].MovesLeads ? _hookups[from] : _hookups[to];
        for (var channel = 0; leads.MovesLeads && channel < _frame.Lines; channel++)
        {
            var source = SourceOf(leads, channel);
            if (source != channel) log += Better(Math.Log(_frame.Volts[channel]![row] / _frame.Volts[channel]![before]), Math.Log(_frame.Volts[channel]![row] / _frame.Volts[source]![before]), Math.Max(0.0005, _swings[channel]));
        }

        return Math.Clamp(log, -MostOfCurrents, MostOfCurrents);
    }

    private static double Better(double stays, double moves, double spread) => double.IsFinite(stays) && double.IsFinite(moves)
        ? 2 * (Math.Log(1 + (stays * stays / (Tails * spread * spread))) - Math.Log(1 + (moves * moves / (Tails * spread * spread)))) : 0;

    /// <summary>The channel that otherwise reads what this one reads with the leads so.</summary>
    private int SourceOf(TotalHookup hookup, int channel)
    {
        if (!_frame.IsPairs) return hookup.Leads[channel];
        var (one, other) = (hookup.Leads[channel], hookup.Leads[(channel + 1) % 3]);
        return (one + 1) % 3 == other ? one : other;
    }

    /// <summary>What a row says of a hook-up by itself: whether any loads could make so much of its currents, and whether two clamps on one conductor read the same.</summary>
    private double Fits(int row, int state) => state == 0 ? 0 : Alike(row, state) - _over[(row * _hookups.Count) + state];

    /// <summary>What each row says against each hook-up whose currents, with loads at whatever angles, could not show so large a total.</summary>
    private float[] Overs()
    {
        var overs = new float[_frame.Count * _hookups.Count];
        for (var row = 0; row < _frame.Count; row++)
        {
            if (_total.Shares[row] is not { } shares) continue;
            var direction = _total.HasVars ? _total.Values[row].AngleDegrees : 0;
            var shown = _total.HasVars ? _total.Values[row].Magnitude : _total.Values[row].Real;
            for (var state = 1; state < _hookups.Count; state++)
                overs[(row * _hookups.Count) + state] = (float)TotalBound.Against(shown, TotalBound.Most(shares, _turns[state], direction));
        }

        return overs;
    }

    /// <summary>Two clamps on one conductor read the same, but for their gains; what they read alike by chance is no proof, since one load may draw alike on two lines.</summary>
    private double Alike(int row, int state)
    {
        if (_hookups[state].OnOne is not var (moved, on)) return 0;
        double one = _frame.Amperes[moved]![row], other = _frame.Amperes[on]![row], off = Math.Log(one / other);
        var spread = Gain + (_digits[moved] / one) + (_digits[on] / other);
        return double.IsFinite(off) ? -Math.Min(MostApart, 2 * Math.Log(1 + (off * off / (Tails * spread * spread)))) : -MostApart;
    }

    /// <summary>Currents that are one in nearly every row of a recording are read on one conductor: loads that are alike are not alike by night and by day.</summary>
    private double AlikeAllAlong(byte[] history)
    {
        var main = history.CountBy(state => state).MaxBy(entry => entry.Value).Key;
        if (_hookups[main].OnOne is null) return 0;
        var (alike, all) = (0, 0);
        for (var row = 0; row < history.Length; row++)
        {
            if (history[row] != main || _total.Shares[row] is null) continue;
            all++;
            if (Alike(row, main) > -2) alike++;
        }

        return alike > MostAlike * all ? OneConductor : 0;
    }

    private static double Moves(double[] amperes)
    {
        var changes = new double[amperes.Length];
        changes[0] = double.NaN;
        for (var row = 1; row < changes.Length; row++) changes[row] = amperes[row] > 0 && amperes[row - 1] > 0 ? Math.Abs(Math.Log(amperes[row] / amperes[row - 1])) : double.NaN;
        return Robust.Quantile(changes, 0.7);
    }

    private double Enter(int state) => _hookups[state].Enter + _more + (_hookups[state].MovesLeads ? LeadsMove : 0);

    /// <summary>The likeliest history, and by how much the rows are explained.</summary>
    private (byte[] History, double Score) History()
    {
        var (rows, count) = (new List<int>(), _hookups.Count);
        for (var row = 0; row < _frame.Count; row++) if (_total.Shares[row] is not null) rows.Add(row);
        var scores = new double[3][];
        for (var index = 0; index < 3; index++) scores[index] = new double[count];
        var left = new Phasor[3][];
        var back = new short[rows.Count * count];
        for (var at = 0; at < rows.Count; at++)
        {
            var row = rows[at];
            var now = scores[at % 3];
            var own = left[at % 3] = new Phasor[count];
            for (var state = 0; state < count; state++) own[state] = Off(row, state)!.Value;
            if (at == 0)
            {
                for (var state = 0; state < count; state++) now[state] = (_weight * (Says(row, own[state], row, null) + Fits(row, state))) - (state == 0 ? 0 : Enter(state));
                continue;
            }

            // Straight on, or with one row between in which the change fell.
            Law[] laws = at > 1 ? [LawOf(row, rows[at - 1]), LawOf(row, rows[at - 2])] : [LawOf(row, rows[at - 1])];
            for (var state = 0; state < count; state++)
            {
                now[state] = scores[(at - 1) % 3][state] + (_weight * (Says(laws[0], own[state], left[(at - 1) % 3][state]) + Fits(row, state)));
                back[(at * count) + state] = (short)state;
                var (first, last) = state == 0 ? (1, count - 1) : (0, 0);
                for (var source = first; source <= last; source++)
                {
                    for (var far = 1; far <= laws.Length; far++)
                    {
                        var so = scores[(at - far) % 3][source] - (far == 2 ? Mixed : 0) - Enter(state);
                        // At its best it would be no better.
                        if (so + laws[far - 1].Top + (_movesReadings[state] || _movesReadings[source] ? MostOfCurrents : 0) <= now[state]) continue;
                        var moved = so + Says(laws[far - 1], own[state], left[(at - far) % 3][source]) + Currents(rows[at - far], row, source, state);
                        if (moved <= now[state]) continue;
                        now[state] = moved;
                        back[(at * count) + state] = (short)(source + (far == 2 ? 100 : 0));
                    }
                }
            }
        }

        var final = scores[(rows.Count - 1) % 3];
        var best = Array.IndexOf(final, final.Max());
        var history = new byte[_frame.Count];
        for (int at = rows.Count - 1, state = best; at >= 0;)
        {
            var from = at == 0 ? state : back[(at * count) + state];
            var far = from >= 100 ? 2 : 1;
            from %= 100;
            Fill(history, at - far < 0 ? 0 : rows[at - far] + 1, at == rows.Count - 1 ? _frame.Count - 1 : rows[at], state);
            // The row of a change goes with the other hook-up than the right one.
            if (far == 2 && state == 0) Fill(history, rows[at - 2] + 1, rows[at - 1], from);
            (at, state) = (at - far, from);
        }

        return (history, final[best]);
    }

    private static void Fill(byte[] history, int from, int to, int state) => Array.Fill(history, (byte)state, from, Math.Max(0, to - from + 1));

    /// <summary>True where rows speak for the right hook-up and against another, or a part of them does so loudly.</summary>
    private bool IsAgainst(int from, int to, int state)
    {
        double log = 0, run = 0;
        for (var row = from; row <= to; row++)
        {
            if (Off(row, 0) is not { } right || Off(row, state) is not { } other) continue;
            var said = _weight * (Says(row, right, row - 1, row > from ? Off(row - 1, 0) : null) - Says(row, other, row - 1, row > from ? Off(row - 1, state) : null) - Fits(row, state));
            (log, run) = (log + said, Math.Max(0, run + said));
            if (run > MostOfARun) return true;
        }

        return log >= LeastAgainst;
    }

    private TotalStretch? Judge(int from, int to, int state)
    {
        if (to - from + 1 < LeastRows) return null;
        var logs = new double[_hookups.Count];
        for (var other = 0; other < logs.Length; other++) logs[other] = Path(from, to, other, Phasor.Zero) + Voltages(from, to, other) - (other == 0 ? 0 : Enter(other) + 3);
        // The rows between the edges may tell leads from clamps, which make the same total.
        if (logs.Max() is var most && most > logs[state]) state = Array.IndexOf(logs, most);
        if (state == 0) return null;
        var load = OddLoadSays(from, to) + Voltages(from, to, 0);
        var odds = logs[state] - Math.Max(logs[0], load);
        var sum = 0.0;
        foreach (var log in logs) sum += Math.Exp(log - logs[state]);
        sum += Math.Exp(load - logs[state]);
        // A step beyond what the currents did is no load's; where generation turns the total about, hardly anything else tells, and what lies within one day's light without any is the sun's.
        var (isEnter, isLeave) = (from > 0 && Excess(from) > LeastOfAStep, to < _frame.Count - 1 && Excess(to + 1) > LeastOfAStep);
        if (_isBothWays && !isEnter && !isLeave && IsByDay(from, to)) return null;
        var isStep = (isEnter || isLeave) && (isEnter || from == 0) && (isLeave || to == _frame.Count - 1);
        var least = _isBothWays ? isStep ? LeastOdds : LeastOfBothWays : isStep ? LeastOfSteps : LeastOdds;
        return odds < least ? null : new TotalStretch(from, to, _hookups[state], Math.Min(0.99, 1 / sum), odds);
    }

    /// <summary>True where a stretch lies within one day's light, as what generation does.</summary>
    private bool IsByDay(int from, int to)
    {
        var (begins, ends) = (_frame.From(from), _frame.To(to));
        return begins.Date == ends.Date && begins.TimeOfDay.TotalHours > Dawn && ends.TimeOfDay.TotalHours < Dusk;
    }

    /// <summary>No two voltages are alike to the last tenth of a percent: which stands a little higher goes with the lead. Of a stretch that leaves rows outside.</summary>
    private double Voltages(int from, int to, int state)
    {
        var log = 0.0;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            var source = _hookups[state].MovesLeads ? SourceOf(_hookups[state], channel) : channel;
            var off = Height(channel, row => row > from && row < to) - Height(source, row => row < from - 1 || row > to + 1);
            if (double.IsFinite(off)) log -= 0.5 * (Tails + 1) * Math.Log(1 + (off * off / (Tails * Higher * Higher)));
        }

        return log;
    }

    /// <summary>By how much a channel stands above the mean of all in some rows, logarithm; not a number of fewer than three.</summary>
    private double Height(int channel, Func<int, bool> isIn)
    {
        var heights = new List<double>();
        for (var row = 0; row < _frame.Count; row++)
        {
            if (!isIn(row) || _total.Shares[row] is null) continue;
            double mean = 0;
            for (var line = 0; line < _frame.Lines; line++) mean += _frame.Volts[line]![row] / _frame.Lines;
            heights.Add(Math.Log(_frame.Volts[channel]![row] / mean));
        }

        return heights.Count < LeastRows ? double.NaN : Robust.Median([.. heights]);
    }

    /// <summary>Log-likelihood of a stretch, its edges included, under a hook-up with the right one on both sides, the level off by so much.</summary>
    private double Path(int from, int to, int state, Phasor level)
    {
        double log = 0;
        var (before, wasLeft, was) = (-1, (Phasor?)null, -1);
        var end = Math.Min(_frame.Count - 1, to + 2);
        for (var row = Math.Max(0, from - 2); row <= end; row++)
        {
            var isIn = row >= from && row <= to;
            // The rows at the edges may be mixed.
            if ((row == from && from > 0) || (row == to && to < _frame.Count - 1) || _total.Shares[row] is null) continue;
            var now = isIn ? state : 0;
            var left = Off(row, now)!.Value - (isIn ? level : Phasor.Zero);
            if (before >= 0 || from == 0)
            {
                var isChange = was >= 0 && isIn != (before >= from && before <= to);
                log += ((isChange ? 1 : _weight) * Says(row, left, before < 0 ? row : before, wasLeft)) + (_weight * Fits(row, now));
                if (isChange) log += Currents(before, row, was, now);
            }

            (before, wasLeft, was) = (row, left, now);
        }

        return log;
    }

    /// <summary>What a load of an odd power factor says of a stretch: any level, but in one row no more than the currents moved by.</summary>
    private double OddLoadSays(int from, int to)
    {
        var (real, across, shown) = (new List<double>(), new List<double>(), new List<double>());
        for (var row = from + 1; row < to; row++)
        {
            if (Off(row, 0) is not { } left) continue;
            real.Add(left.Real);
            shown.Add(_total.Values[row].Real);
            across.Add(left.Imaginary);
        }

        if (real.Count == 0) return double.NegativeInfinity;
        var level = new Phasor(Robust.Median([.. real]), _total.HasVars ? Robust.Median([.. across]) : 0);
        var log = Path(from, to, 0, level) - OddLoad;
        // Power that comes back, where nothing that makes any was declared.
        if (!_isBothWays && Robust.Median([.. shown]) < Backwards) log -= NotDeclared;
        if (from > 0) log -= Excess(from);
        if (to < _frame.Count - 1) log -= Excess(to + 1);
        return log;
    }

    /// <summary>By how much the total stepped at an edge beyond what the currents did: no load does that.</summary>
    private double Excess(int row)
    {
        var least = double.PositiveInfinity;
        // Within two rows either way, so that a load that came in two rows is no worse.
        foreach (var (one, other) in new[] { (row - 1, row), (row - 2, row), (row - 1, row + 1), (row - 2, row + 1) })
        {
            if (one < 0 || other >= _frame.Count || _total.Shares[one] is not { } before || _total.Shares[other] is not { } after) continue;
            double size = _total.Sizes[one], now = _total.Sizes[other], moved = 0;
            for (var index = 0; index < before.Length; index++) moved += Math.Abs((after[index] * now) - (before[index] * size));
            var step = (now * _total.Values[other]) - (size * _total.Values[one]);
            var most = Math.Max(size, now);
            var excess = Math.Max(0, (Math.Abs(_total.HasVars ? step.Magnitude : step.Real) - moved) / most);
            var spread = Math.Max(0.02, _spreads.Fresh(row));
            least = Math.Min(least, 2 * Math.Log(1 + (excess * excess / (Tails * spread * spread))));
        }

        return double.IsInfinity(least) ? 0 : least;
    }

}
