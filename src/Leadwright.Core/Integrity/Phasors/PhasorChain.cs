using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>Finds in which rows of a wye recording the neutral lead was in the air, or a clamp on the neutral, by one law of the supply for all rows.</summary>
/// <remarks>
/// Blocks of rows are given to arrangements, and the line's and the neutral's impedance learned from all of them, by turns; from several beginnings, in both orders of the lines. What is found must make the whole
/// recording likelier than the best without it does.
/// </remarks>
internal sealed class PhasorChain
{
    private const int LeastBlocks = 6;
    private const int Turns = 6;
    private const double LeastOdds = 12;
    private const double LeastOfLead = 12;
    private const double LeastOfClamp = 20;

    /// <summary>What fits so badly is another thing that nothing here is (our choice).</summary>
    private const double MostBadly = 0.1;

    /// <summary>On outside weeks a right hook-up explained at most a tenth of what a clamp on the neutral did, and 0.63 of what a load did that was taken for one.</summary>
    private const double MostAsRight = 0.4;
    private const int LeastRows = 4;
    private const double MostElsewhere = 0.05;
    private const int TooOften = 3;
    private const double LeastGain = 30;

    /// <summary>Rows follow each other, and no law holds to the last digit (our choice).</summary>
    internal const double Temper = 0.5;

    /// <summary>A law of two impedances that explains less than so much of what any linear law does is not this site's. On outside weeks it was 0.57 to 0.79 where it misled, and 0.88 to 0.999 elsewhere.</summary>
    internal const double LeastFit = 0.85;
    private readonly GuardFrame _frame;
    private readonly PhasorBlocks _blocks;
    private readonly Rotation[] _rotations;
    private readonly CancellationToken _cancellation;

    private PhasorChain(GuardFrame frame, PhasorBlocks blocks, CancellationToken cancellation)
    {
        (_frame, _blocks, _cancellation) = (frame, blocks, cancellation);
        _rotations = frame.Options.Check.ToldRotation is Rotation.Unknown ? [Rotation.Abc, Rotation.Acb] : [frame.Options.Check.ToldRotation];
    }

    /// <summary>A course of states with its law.</summary>
    private sealed record Course(PhasorStates Places, PhasorLaw Law, int[] States, double[][] Gains, double Score)
    {
        public Arrangement At(int block) => Places.Arrangements[States[block]];
    }

    /// <summary>The course; <see cref="PhasorCourse.None"/> where the currents explain too little, or the columns are missing.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did; rows in which they do not stand as usual are left out.</param>
    /// <param name="currents">What the clamps showed; rows at another ratio, or of a clamp on nothing, are left out.</param>
    /// <param name="cancellation">Stops it.</param>
    public static PhasorCourse Find(GuardFrame frame, VoltageHistory voltages, CurrentHistory?[] currents, CancellationToken cancellation)
    {
        if (PhasorRows.Of(frame, voltages, row => voltages.Rows[row] == 0, isAsLoads: true) is not { } rows) return PhasorCourse.None;
        var isLeftOut = new bool[frame.Count];
        for (var row = 1; row < frame.Count; row++) isLeftOut[row] = Array.Exists(currents, current => current is not null && (current.Rows[row] != 0 || current.Rows[row - 1] != 0));
        var blocks = new PhasorBlocks(frame, rows, isLeftOut);
        if (blocks.Sums.Count(block => block.Rows > 1) < LeastBlocks) return PhasorCourse.None;
        var was = frame.Rotation;
        var found = new PhasorChain(frame, blocks, cancellation).Find();
        frame.Take(was);
        return found;
    }

    private PhasorCourse Find()
    {
        Course?[] ways = [.. _rotations.Select(rotation => Best(rotation, _ => true))];
        var all = ways.MaxBy(way => way?.Score ?? double.NegativeInfinity);
        if (all is null || all.Score < LeastGain || all.Score < LeastFit * Temper * _blocks.Most(all.States)) return PhasorCourse.None;
        var elsewhere = Enumerable.Range(0, _blocks.Count).Count(block => all.At(block) is { IsRight: false, Leads: not [.., < 0] });
        if (elsewhere <= MostElsewhere * _blocks.Count && PhasorThroughout.Find(_frame, _blocks, _rotations) is { } throughout) return throughout;
        var stretches = new List<PhasorStretch>();
        // Which way a current on the neutral lies against the voltage vars alone tell.
        Func<Arrangement, bool> isOff = arrangement => arrangement.Leads[3] < 0, isOnNeutral = arrangement => arrangement.Clamps.AsSpan(0, 3).Contains(3);
        foreach (var kind in Array.TrueForAll(_frame.Vars, column => column is not null) ? [isOff, isOnNeutral] : new[] { isOff })
        {
            if (!Enumerable.Range(0, _blocks.Count).Any(block => kind(all.At(block)))) continue;
            var without = _rotations.Max(rotation => Best(rotation, arrangement => !kind(arrangement))?.Score ?? 0);
            List<PhasorStretch> found = all.Score - without >= LeastOdds ? [.. Stretches(all, kind)] : [];
            // What comes and goes time and again is a load that the law does not fit.
            if (found.Count < TooOften) stretches.AddRange(found);
        }

        return new PhasorCourse(stretches, ways.Length < 2 ? 0 : (ways[1]?.Score ?? 0) - GuardFrame.LogAcb - (ways[0]?.Score ?? 0));
    }

    private IEnumerable<PhasorStretch> Stretches(Course course, Func<Arrangement, bool> isAsked)
    {
        for (var block = 0; block < _blocks.Count; block++)
        {
            var (state, last) = (course.States[block], block);
            while (last + 1 < _blocks.Count && course.States[last + 1] == state) last++;
            if (isAsked(course.At(block)) && Stretch(course, block, last) is { } stretch) yield return stretch;
            block = last;
        }
    }

    private PhasorStretch? Stretch(Course course, int block, int last)
    {
        var (places, state) = (course.Places, course.States[block]);
        var gains = new double[places.Arrangements.Length];
        for (var at = block; at <= last; at++)
        {
            for (var other = 0; other < gains.Length; other++) gains[other] += course.Gains[at][other];
        }

        var odds = gains[state] - gains.Where((_, other) => !places.IsSamePlace(other, state)).Max();
        if (odds < (state == places.Off ? LeastOfLead : LeastOfClamp) || gains[state] < -MostBadly * odds || (state == places.Off && !_blocks.AreShown(block, last))) return null;
        // A clamp on the neutral answers as no line's current does; what a right hook-up explains as well but for a part is a load.
        if (state != places.Off && gains[0] > MostAsRight * gains[state]) return null;
        var from = block == 0 ? 0 : Edge(block);
        var to = last + 1 == _blocks.Count ? _frame.Count - 1 : Edge(last + 1) - 1;
        return to - from + 1 < LeastRows ? null : new PhasorStretch(from, to, places.Arrangements[state], odds);

        int Edge(int behind) => PhasorEdge.Find(_blocks, course.States, places.Bases, course.Law, behind);
    }

    private Course? Best(Rotation rotation, Func<Arrangement, bool> isAllowed)
    {
        _frame.Take(rotation);
        var places = new PhasorStates(_frame, isAllowed);
        var backwards = places.Arrangements.Select(_blocks.Against).ToArray();
        var prior = rotation == Rotation.Acb && _rotations.Length > 1 ? GuardFrame.LogAcb : 0;
        Course? best = null;
        foreach (var start in Starts(places.Off))
        {
            _cancellation.ThrowIfCancellationRequested();
            if (Settle(start) is { } course && course.Score + prior > (best?.Score ?? double.NegativeInfinity)) best = course with { Score = course.Score + prior };
        }

        return best;

        // States by the law, and the law by the states, by turns.
        Course? Settle(int[] states)
        {
            Course? course = null;
            for (var turn = 0; turn < Turns; turn++)
            {
                if (LawOf(places, states) is not { } law || law.Line.Real <= 0) return course;
                double[][,] laws = [.. places.Bases.Select(law.Of)];
                double[][] gains = [.. _blocks.Sums.Select((block, number) => laws.Select((own, state) => (Temper * block.Gain(own)) - backwards[state][number]).ToArray())];
                var (path, score) = places.Path(gains);
                course = new Course(places, law, path, gains, score);
                if (path.AsSpan().SequenceEqual(states)) break;
                states = path;
            }

            return course;
        }
    }

    private PhasorLaw? LawOf(PhasorStates places, int[] states)
    {
        var sums = new PhasorSums?[places.Arrangements.Length];
        for (var block = 0; block < states.Length; block++)
        {
            if (states[block] >= 0) (sums[states[block]] ??= new PhasorSums()).Add(_blocks.Sums[block]);
        }

        return PhasorLaw.Best([.. sums.Select((sum, state) => (Basis: places.Bases[state], Sums: sum)).Where(pair => pair.Sums is not null).Select(pair => (pair.Basis, pair.Sums!))], _blocks.Rows.IsAssumed);
    }

    /// <summary>All right, all in the air, and each quarter right and the rest not asked.</summary>
    private IEnumerable<int[]> Starts(int off)
    {
        yield return new int[_blocks.Count];
        if (off >= 0) yield return [.. Enumerable.Repeat(off, _blocks.Count)];
        for (var quarter = 0; quarter < 4; quarter++)
        {
            var (from, to) = (quarter * _blocks.Count / 4, (quarter + 1) * _blocks.Count / 4);
            yield return [.. Enumerable.Range(0, _blocks.Count).Select(block => block >= from && block < to ? 0 : -1)];
        }
    }
}
