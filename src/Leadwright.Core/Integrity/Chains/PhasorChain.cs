using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Rows in which leads and clamps were elsewhere, by the way in which the voltages answer to the currents.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Arrangement">Where they were.</param>
/// <param name="Odds">Log-odds over the likeliest other arrangement, nats.</param>
internal sealed record PhasorStretch(int From, int To, Arrangement Arrangement, double Odds);

/// <summary>What the answers of the voltages to the currents say of a wye recording.</summary>
/// <param name="Stretches">Where the neutral lead was in the air, or a clamp on the neutral.</param>
/// <param name="OddsOfAcb">What the answers say for the lines following each other A, C, B and not A, B, C, nats; 0 where nothing tells, or it was told.</param>
internal sealed record PhasorCourse(List<PhasorStretch> Stretches, double OddsOfAcb)
{
    /// <summary>Nothing is known.</summary>
    public static PhasorCourse None { get; } = new([], 0);

    /// <summary>True where the neutral lead was in the air in some rows.</summary>
    public bool HasNeutralOff => Stretches.Exists(stretch => stretch.Arrangement.Leads[3] < 0);
}

/// <summary>Finds in which rows of a wye recording the neutral lead was in the air, or a clamp on the neutral, by one law of the supply for all rows.</summary>
/// <remarks>
/// Blocks of rows are given to arrangements, and the line's and the neutral's impedance learned from all of them, by turns; from several beginnings, in both orders of the lines. What is found must make the whole
/// recording likelier than the best without it does.
/// </remarks>
internal sealed class PhasorChain
{
    private const double BlockSeconds = 1800;
    private const int MostBlocks = 1500;
    private const int LeastBlocks = 6;
    private const int Turns = 6;

    /// <summary>Rows follow each other, and no law holds to the last digit (our choice).</summary>
    private const double Temper = 0.5;
    private const double LeastPrior = -8.5;
    private const double OfEitherWay = 0.4;
    private const double OfRatio = -7;
    private const double Enter = 6;
    private static readonly double[] s_ratios = [10, 5, 2, 0.5, 0.2, 0.1];
    private const double Leave = 3;
    private const double LeastOdds = 12;
    private const double LeastOfLead = 12;
    private const double LeastOfClamp = 20;

    /// <summary>What fits so badly is another thing that nothing here is (our choice).</summary>
    private const double MostBadly = 0.1;
    private const double Backwards = 0.05;
    private const double OfBackwards = 3;
    private const int LeastRows = 4;
    private const int Reach = 20;
    private const double MostElsewhere = 0.05;

    /// <summary>One recording in some hundred (our choice), as a movement of the lead is weighed elsewhere.</summary>
    private const double OfThroughout = -5;
    private const double LeastThroughout = 3;

    /// <summary>The supply's own load falls and rises with the site's, and seems to be answered.</summary>
    private const double OfMean = 0.3;
    private const double MostOfMean = 8;
    private const int TooOften = 3;

    /// <summary>A clamp that shows next to nothing has its own line's answer missing.</summary>
    private const double Shown = 0.15;
    private const double LeastGain = 30;

    /// <summary>A law of two impedances that explains less than so much of what any linear law does is not this site's (our choice).</summary>
    private const double LeastFit = 0.85;
    private readonly GuardFrame _frame;
    private readonly PhasorRows _rows;
    private readonly PhasorSums[] _blocks;
    private readonly (double P, double Q)[][] _levels;
    private readonly int _perBlock;
    private readonly bool[] _isLeftOut;

    private PhasorChain(GuardFrame frame, PhasorRows rows, bool[] isLeftOut)
    {
        (_frame, _rows, _isLeftOut) = (frame, rows, isLeftOut);
        _perBlock = Math.Max(Math.Max(3, (int)Math.Ceiling(BlockSeconds / frame.Log.IntervalSeconds)), (frame.Count / MostBlocks) + 1);
        var count = (frame.Count + _perBlock - 1) / _perBlock;
        _blocks = [.. Enumerable.Range(0, count).Select(block => rows.Sum(RowsOf(block).Where(row => !isLeftOut[row])))];
        _levels = [.. Enumerable.Range(0, count).Select(Levels)];
    }

    /// <summary>The course; <see cref="PhasorCourse.None"/> where the currents explain too little, or the columns are missing.</summary>
    public static PhasorCourse Find(GuardFrame frame, VoltageHistory voltages, CurrentHistory?[] currents, CancellationToken cancellation)
    {
        if (PhasorRows.Of(frame, voltages, row => voltages.Rows[row] == 0, isAsLoads: true) is not { } rows) return PhasorCourse.None;
        var isLeftOut = new bool[frame.Count];
        for (var row = 1; row < frame.Count; row++) isLeftOut[row] = Array.Exists(currents, current => current is not null && (current.Rows[row] != 0 || current.Rows[row - 1] != 0));
        var chain = new PhasorChain(frame, rows, isLeftOut);
        if (chain._blocks.Count(block => block.Rows > 1) < LeastBlocks) return PhasorCourse.None;
        var was = frame.Rotation;
        var found = chain.Find(cancellation);
        frame.Take(was);
        return found;
    }

    private PhasorCourse Find(CancellationToken cancellation)
    {
        Rotation[] rotations = _frame.Options.Check.ToldRotation is Rotation.Unknown ? [Rotation.Abc, Rotation.Acb] : [_frame.Options.Check.ToldRotation];
        Course?[] ways = [.. rotations.Select(rotation => Best(rotation, _ => true, cancellation))];
        var all = ways.MaxBy(way => way?.Score ?? double.NegativeInfinity);
        if (all is null || all.Score < LeastGain || all.Score < LeastFit * Temper * Most(all.States)) return PhasorCourse.None;
        if (Throughout(all, rotations) is { } throughout) return throughout;
        var stretches = new List<PhasorStretch>();
        // Which way a current on the neutral lies against the voltage vars alone tell.
        Func<Arrangement, bool> isOff = arrangement => arrangement.Leads[3] < 0, isOnNeutral = arrangement => arrangement.Clamps.AsSpan(0, 3).Contains(3);
        foreach (var kind in Array.TrueForAll(_frame.Vars, column => column is not null) ? [isOff, isOnNeutral] : new[] { isOff })
        {
            if (!Array.Exists(all.States, state => kind(all.Arrangements[state]))) continue;
            var without = rotations.Max(rotation => Best(rotation, arrangement => !kind(arrangement), cancellation)?.Score ?? 0);
            List<PhasorStretch> found = all.Score - without >= LeastOdds ? [.. Stretches(all, kind)] : [];
            // What comes and goes time and again is a load that the law does not fit.
            if (found.Count < TooOften) stretches.AddRange(found);
        }

        return new PhasorCourse(stretches, ways.Length < 2 ? 0 : (ways[1]?.Score ?? 0) - GuardFrame.LogAcb - (ways[0]?.Score ?? 0));
    }

    /// <summary>The neutral lead in the air from first to last, against the law of a right hook-up with any neutral's impedance and in either order of the lines: one very large the other way about turns the voltages nearly as much,
    /// and differs in how the mean of the voltages answers.</summary>
    private PhasorCourse? Throughout(Course all, Rotation[] rotations)
    {
        if (all.States.Count(state => all.Arrangements[state] is { IsRight: false, Leads: not [.., < 0] }) > MostElsewhere * all.States.Length) return null;
        var sums = new PhasorSums();
        foreach (var block in _blocks) sums.Add(block);
        var right = new Arrangement([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);
        List<(PhasorLaw Law, double Score)> offs = [], ons = [];
        foreach (var rotation in rotations)
        {
            _frame.Take(rotation);
            var ofRotation = rotations.Length > 1 && rotation == Rotation.Acb ? GuardFrame.LogAcb : 0;
            if (PhasorLaw.Best([(PhasorLaw.Basis(right with { Leads = [0, 1, 2, -1] }, _frame.Ideal)!, sums)], _rows.IsAssumed) is { } off) offs.Add((off, (Temper * off.Gain) + ofRotation + OfThroughout));
            ons.AddRange(PhasorLaw.All([(PhasorLaw.Basis(right, _frame.Ideal)!, sums)], _rows.IsAssumed).Select(on => (on.Law, (Temper * on.Law.Gain) + on.Prior + ofRotation)));
        }

        if (offs.Count == 0 || ons.Count == 0) return null;
        var best = offs.MaxBy(entry => entry.Score);
        if (best.Law.Line.Real <= 0 || Temper * best.Law.Gain < LeastFit * Temper * sums.MostGain()) return null;
        var odds = ons.Where(on => on.Score > best.Score - MostOfMean - LeastThroughout).Select(on => best.Score - on.Score + Math.Clamp(OfMean * _rows.SayMean(best.Law.Line, on.Law.Line), -MostOfMean, MostOfMean)).DefaultIfEmpty(LeastThroughout + MostOfMean).Min();
        if (odds < LeastThroughout) return null;
        return new PhasorCourse([new PhasorStretch(0, _frame.Count - 1, right with { Leads = [0, 1, 2, -1] }, odds)], offs.Count < 2 ? 0 : Temper * (offs[1].Law.Gain - offs[0].Law.Gain));
    }

    /// <summary>What any linear law of its own would win for each arrangement's rows.</summary>
    private double Most(int[] states)
    {
        var sums = new Dictionary<int, PhasorSums>();
        for (var block = 0; block < states.Length; block++)
        {
            if (!sums.TryGetValue(states[block], out var sum)) sums.Add(states[block], sum = new PhasorSums());
            sum.Add(_blocks[block]);
        }

        return sums.Values.Sum(sum => sum.MostGain());
    }

    private IEnumerable<PhasorStretch> Stretches(Course course, Func<Arrangement, bool> isAsked)
    {
        for (var block = 0; block < course.States.Length; block++)
        {
            var (state, last) = (course.States[block], block);
            while (last + 1 < course.States.Length && course.States[last + 1] == state) last++;
            if (isAsked(course.Arrangements[state]))
            {
                var gains = new double[course.Arrangements.Length];
                for (var at = block; at <= last; at++)
                {
                    for (var other = 0; other < gains.Length; other++) gains[other] += course.Gains[at][other];
                }

                // Which way round it hangs on the neutral is no other place.
                var odds = gains[state] - gains.Where((_, other) => !IsSamePlace(course.Arrangements[other], course.Arrangements[state])).Max();
                var from = block == 0 ? 0 : Edge(course, block, course.States[block - 1], state);
                var to = last + 1 == course.States.Length ? _frame.Count - 1 : Edge(course, last + 1, state, course.States[last + 1]) - 1;
                if (odds > (course.Arrangements[state].Leads[3] < 0 ? LeastOfLead : LeastOfClamp) && gains[state] > -MostBadly * odds && to - from + 1 >= LeastRows && (course.Arrangements[state].Leads[3] >= 0 || AreShown(block, last))) yield return new PhasorStretch(from, to, course.Arrangements[state], odds);
            }

            block = last;
        }
    }

    private static double[,] Scaled(double[,] law, int clamp, double by)
    {
        var scaled = (double[,])law.Clone();
        for (var channel = 0; channel < 3; channel++)
        {
            for (var part = 2 * clamp; part < (2 * clamp) + 2; part++) scaled[channel, part] *= by;
        }

        return scaled;
    }

    private static bool IsSamePlace(Arrangement one, Arrangement other) => one.Leads.AsSpan().SequenceEqual(other.Leads) && one.Clamps.AsSpan().SequenceEqual(other.Clamps) && (one.Clamps.AsSpan(0, 3).Contains(3) || one.IsLike(other));

    /// <summary>True where all clamps show what they usually do, more or less.</summary>
    private bool AreShown(int from, int to) => Enumerable.Range(0, 3).All(clamp =>
    {
        double[] inside = Sizes(Enumerable.Range(from, to - from + 1)), outside = Sizes(Enumerable.Range(0, _blocks.Length).Where(block => block < from || block > to));
        return outside.Length == 0 || Robust.Median(inside) > Shown * Robust.Median(outside);

        double[] Sizes(IEnumerable<int> blocks) => [.. blocks.Where(block => _blocks[block].Rows > 0).Select(block => Math.Sqrt((_levels[block][clamp].P * _levels[block][clamp].P) + (_levels[block][clamp].Q * _levels[block][clamp].Q)) / _blocks[block].Rows)];
    });

    /// <summary>The row from which on a change between two blocks is likeliest: the rows on both sides answer by their own laws, and stand by them at levels of their own, since the supply's unbalance shows otherwise too.</summary>
    private int Edge(Course course, int block, int before, int behind)
    {
        // By night blocks hardly say which they are of: a lead that lets go shows in where the voltages stand.
        int first = Math.Max(1, (block - Reach) * _perBlock), last = Math.Min(_frame.Count - 1, ((block + Reach) * _perBlock) - 1);
        for (var at = block - 1; at >= Math.Max(0, block - Reach); at--)
        {
            if (course.States[at] != before) { first = Math.Max(1, (at + 1) * _perBlock); break; }
        }

        for (var at = block; at < Math.Min(_blocks.Length, block + Reach); at++)
        {
            if (course.States[at] != behind) { last = Math.Min(_frame.Count - 1, (at * _perBlock) - 1); break; }
        }

        double[,] then = course.Law.Of(course.Bases[before]), now = course.Law.Of(course.Bases[behind]);
        int[] rows = [.. Enumerable.Range(first, last - first + 1).Where(row => _rows.Tells(row) && !_isLeftOut[row])];
        if (rows.Length < 2 * LeastRows) return block * _perBlock;
        var levels = new PhasorLevels(_rows, rows, then, now);
        double[] asThen = [.. rows.Select(row => _rows.Say(row, then))], asNow = [.. rows.Select(row => _rows.Say(row, now))], any = [.. rows.Select(_rows.SayAny)];
        var (best, most, sum) = (block * _perBlock, double.NegativeInfinity, asThen[0] - asNow[0]);
        for (var index = 1; index + 1 < rows.Length; index++)
        {
            // The row of the change itself answers to neither; nor does the one before where it fell within that.
            var whole = sum + any[index] - asNow[index] + levels.Say(index, isMixed: false);
            if (whole > most) (best, most) = (rows[index], whole);
            var mixed = sum - asThen[index - 1] + any[index - 1] + any[index] - asNow[index] + levels.Say(index, isMixed: true);
            if (index > 1 && mixed > most) (best, most) = (rows[index - 1], mixed);
            sum += asThen[index] - asNow[index];
        }

        return best;
    }

    /// <summary>A course of arrangements with its law.</summary>
    private sealed record Course(Arrangement[] Arrangements, double[][][,] Bases, PhasorLaw Law, int[] States, double[][] Gains, double Score);

    private Course? Best(Rotation rotation, Func<Arrangement, bool> isAllowed, CancellationToken cancellation)
    {
        _frame.Take(rotation);
        var right = new Arrangement([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);
        Arrangement[] arrangements = [.. Movements.OfLeads(_frame, right).Concat(Movements.OfClamps(_frame, right)).SelectMany(EitherWay).Where(arrangement => arrangement.LogPrior >= LeastPrior && isAllowed(arrangement)
            && PhasorLaw.Basis(arrangement, _frame.Ideal) is not null)];
        double[][][,] bases = [.. arrangements.Select(arrangement => PhasorLaw.Basis(arrangement, _frame.Ideal)!)];
        // Ratios are told elsewhere; here they are what else it may be.
        foreach (var ratio in s_ratios)
        {
            for (var clamp = 0; clamp < 3; clamp++)
            {
                arrangements = [.. arrangements, right with { LogPrior = OfRatio }];
                bases = [.. bases, [.. bases[0].Select(part => Scaled(part, clamp, 1 / ratio))]];
            }
        }

        var backwards = arrangements.Select(Against).ToArray();
        var prior = rotation == Rotation.Acb && _frame.Options.Check.ToldRotation == Rotation.Unknown ? GuardFrame.LogAcb : 0;
        Course? best = null;
        foreach (var start in Starts(Array.FindIndex(arrangements, arrangement => arrangement.Leads[3] < 0)))
        {
            cancellation.ThrowIfCancellationRequested();
            if (Settle(start) is { } course && course.Score + prior > (best?.Score ?? double.NegativeInfinity)) best = course with { Score = course.Score + prior };
        }

        return best;

        Course? Settle(int[] states)
        {
            Course? course = null;
            for (var turn = 0; turn < Turns; turn++)
            {
                if (LawOf(states) is not { } law || law.Line.Real <= 0) return course;
                double[][,] laws = [.. bases.Select(law.Of)];
                double[][] gains = [.. _blocks.Select((block, number) => laws.Select((own, state) => (Temper * block.Gain(own)) - backwards[state][number]).ToArray())];
                var (path, score) = Path(gains, arrangements);
                course = new Course(arrangements, bases, law, path, gains, score);
                if (path.AsSpan().SequenceEqual(states)) break;
                states = path;
            }

            return course;
        }

        PhasorLaw? LawOf(int[] states)
        {
            var sums = new PhasorSums?[arrangements.Length];
            for (var block = 0; block < states.Length; block++)
            {
                if (states[block] >= 0) (sums[states[block]] ??= new PhasorSums()).Add(_blocks[block]);
            }

            return PhasorLaw.Best([.. sums.Select((sum, state) => (bases[state], sum)).Where(pair => pair.sum is not null).Select(pair => (pair.Item1, pair.sum!))], _rows.IsAssumed);
        }
    }

    /// <summary>On the neutral no direction is the usual one.</summary>
    private static IEnumerable<Arrangement> EitherWay(Arrangement arrangement)
    {
        yield return arrangement;
        if (Array.IndexOf(arrangement.Clamps, 3, 0, 3) is var clamp && (clamp < 0 || arrangement.Reversed[clamp])) yield break;
        yield return arrangement with { Reversed = [.. arrangement.Reversed.Select((reversed, index) => reversed || index == clamp)], LogPrior = arrangement.LogPrior - OfEitherWay };
    }

    /// <summary>All right, all in the air, and each quarter right and the rest not asked.</summary>
    private IEnumerable<int[]> Starts(int off)
    {
        yield return new int[_blocks.Length];
        if (off >= 0) yield return [.. Enumerable.Repeat(off, _blocks.Length)];
        for (var quarter = 0; quarter < 4; quarter++)
        {
            var (from, to) = (quarter * _blocks.Length / 4, (quarter + 1) * _blocks.Length / 4);
            yield return [.. Enumerable.Range(0, _blocks.Length).Select(block => block >= from && block < to ? 0 : -1)];
        }
    }

    private static (int[] Path, double Score) Path(double[][] gains, Arrangement[] arrangements)
    {
        var count = arrangements.Length;
        double[] costs = [.. arrangements.Select((arrangement, state) => state == 0 ? Leave : Enter - arrangement.LogPrior)];
        var scores = new double[count];
        for (var state = 0; state < count; state++) scores[state] = gains[0][state] - (state == 0 ? 0 : costs[state] - Leave);
        var before = new int[gains.Length][];
        for (var block = 1; block < gains.Length; block++)
        {
            var top = 0;
            for (var state = 1; state < count; state++) top = scores[state] > scores[top] ? state : top;
            before[block] = new int[count];
            var next = new double[count];
            for (var state = 0; state < count; state++)
            {
                var isStay = scores[state] >= scores[top] - costs[state];
                before[block][state] = isStay ? state : top;
                next[state] = (isStay ? scores[state] : scores[top] - costs[state]) + gains[block][state];
            }

            scores = next;
        }

        var best = 0;
        for (var state = 1; state < count; state++) best = scores[state] > scores[best] ? state : best;
        var (path, score) = (new int[gains.Length], scores[best]);
        for (var block = gains.Length - 1; block >= 0; block--)
        {
            path[block] = best;
            if (block > 0) best = before[block][best];
        }

        return (path, score);
    }

    private IEnumerable<int> RowsOf(int block) => Enumerable.Range(block * _perBlock, Math.Min(_perBlock, _frame.Count - (block * _perBlock)));

    /// <summary>The mean current of each clamp against its channel's voltage in a block.</summary>
    private (double P, double Q)[] Levels(int block) => [.. Enumerable.Range(0, 3).Select(clamp =>
    {
        double p = 0, q = 0;
        foreach (var row in RowsOf(block))
        {
            if (!_rows.Tells(row) || _isLeftOut[row]) continue;
            p += _rows.Watts(clamp, row) / _frame.Volts[clamp]![row];
            q += _rows.Vars(clamp, row) / _frame.Volts[clamp]![row];
        }

        return (p, q);
    })];

    /// <summary>By block what speaks against an arrangement, nats: lines that would feed back where nothing generates.</summary>
    private double[] Against(Arrangement arrangement)
    {
        var against = new double[_blocks.Length];
        if (_frame.Options.Check.MayExport || _rows.IsAssumed) return against;
        for (var block = 0; block < against.Length; block++)
        {
            var size = _levels[block].Sum(level => Math.Sqrt((level.P * level.P) + (level.Q * level.Q)));
            for (var clamp = 0; clamp < 3; clamp++)
            {
                if (arrangement.Clamps[clamp] is not (>= 0 and < 3 and var line)) continue;
                var turn = _frame.Ideal[arrangement.Leads[clamp]] * _frame.Ideal[line].Conjugate;
                var (p, q) = _levels[block][clamp];
                var along = (arrangement.Reversed[clamp] ? -1 : 1) * ((turn.Real * p) + (turn.Imaginary * q));
                if (along < -Backwards * size) against[block] += OfBackwards;
            }
        }

        return against;
    }
}
