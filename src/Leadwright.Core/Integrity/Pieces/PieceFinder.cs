using Leadwright.Core.Integrity.Phasors;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>The chains of a recording, joined.</summary>
internal sealed class Chained(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentHistory?[] currents, CurrentSum? sum)
{
    private const double NearlyAll = 0.8;
    private const int MidstOf = 6;

    public GuardFrame Frame { get; } = frame;

    public VoltageHistory Voltages { get; } = voltages;

    public AngleHistory?[] Angles { get; } = angles;

    public CurrentHistory?[] Currents { get; } = currents;

    /// <summary>Where leads and clamps were, by how the voltages answer to the currents.</summary>
    public PhasorCourse Moved { get; init; } = PhasorCourse.None;

    /// <summary>What the sum of the currents says; null where nothing.</summary>
    public CurrentSum? Sum { get; } = sum;

    public static Chained Of(GuardFrame frame, CancellationToken cancellation)
    {
        var voltages = UnequalInputs.Override(frame, VoltageChain.Find(frame, cancellation));
        var sum = CurrentSum.Learn(frame, voltages);
        var balance = sum ?? CurrentSum.OfNeutral(frame, voltages);
        // On three lines what the triplens add is known too roughly to find a ratio by, not to drop one.
        var strict = balance is { IsOfNeutral: true } && frame.Lines > 2 ? null : balance;
        var angles = new AngleHistory?[3];
        var currents = new CurrentHistory?[4];
        // Channels are found side by side: each writes its own place, so that the answer is the same whatever their order.
        var parallel = new ParallelOptions { CancellationToken = cancellation };
        var answers = new VoltageAnswer[4];
        void FindCurrents() => Parallel.For(0, 4, parallel, index => currents[index] = CurrentChain.Find(frame, voltages, answers, angles, strict, index, cancellation));
        void Learn(VoltageHistory history, bool[]? isLeftOut = null) => Parallel.For(0, 4, parallel, index => answers[index] = VoltageAnswer.Learn(frame, history, index, isLeftOut));
        Parallel.For(0, frame.Lines, parallel, index => angles[index] = AngleChain.Find(frame, voltages, sum, index, cancellation));
        JoinedTurns.Join(frame, angles);
        Learn(voltages);
        FindCurrents();

        // Small currents at ten times their size pass for usual ones, and teach an answer that is too weak.
        if (AtOtherRatios(currents, frame.Count) is { } isLeftOut)
        {
            Learn(voltages, isLeftOut);
            FindCurrents();
        }

        if (ExportChain.Override(frame, voltages, Unturned(frame, voltages, answers, angles), angles, Firm(frame, currents), sum, cancellation))
        {
            FindCurrents();
        }

        // Of two legs whose neutral lead was off for most of the time hardly any answer is left to learn: the hours in which they part still have it.
        if (frame.Service.Kind == Circuits.ServiceKind.Split && !frame.IsPairs && answers.Take(2).Any(answer => !answer.IsTelling) && StillHours(frame) is { } still)
        {
            Learn(voltages, still);
            if (answers.Take(2).All(answer => answer.IsSharp)) FindCurrents();
            else Learn(voltages);
        }

        // A ratio of the recorder's own scales all currents, and all answers, as a neutral lead in the air does: what leaps is asked first.
        var answered = AnsweredRatio.Find(frame, voltages, answers, currents, angles, isApart: false);
        if (answered is not null)
        {
            // Learned without it, the answers say whether it is one, and where it begins and ends.
            Learn(voltages, answered.Rows(frame.Count));
            answered = AnsweredRatio.Find(frame, voltages, answers, currents, angles, isApart: true);
            Learn(voltages, answered?.Rows(frame.Count) ?? AtOtherRatios(currents, frame.Count));
            FindCurrents();
            if (answered is { Clamps: [var alone] } && answered.IsOfAnother(currents[alone])) answered = null;
        }

        // Answers that nothing in particular was learned without may be neither part's.
        if (answered is null && BrokenRatio.Find(frame, voltages, angles, currents, cancellation) is { } broken)
        {
            answered = broken;
            Learn(voltages, broken.Rows(frame.Count));
            FindCurrents();
        }

        CurrentHistory?[] Scaled(CurrentHistory?[] histories)
        {
            answered?.Put(histories);
            return histories;
        }

        // A neutral lead in the air changes all answers, and looks like ratios of two or five that are none: the clamps are then judged anew
        // without those rows. A ratio of ten is none of its doings.
        var sound = voltages;
        var firm = Scaled(Firm(frame, currents));
        var moved = PhasorChain.Find(frame, voltages, firm, cancellation);
        var floated = NeutralLeadChain.Override(frame, voltages, answers, angles, firm, cancellation);
        floated = NeutralLeadChain.With(frame, voltages, floated, moved.Stretches) ?? floated;
        if (!floated.Rows.AsSpan().SequenceEqual(voltages.Rows))
        {
            voltages = floated;
            Learn(floated, answered?.Rows(frame.Count));
            FindCurrents();
        }

        Scaled(currents);
        RatioShift.Override(frame, voltages, angles, strict, currents, cancellation);
        DropOfTheSite(frame, currents);
        Recorder.CourseRatio.Override(frame, voltages, angles, currents, cancellation);
        var isOff = Recorder.BaseLoad.Override(frame, sound, currents);
        DropEchoes(currents);
        JoinTenths(currents);
        JoinLostLines(voltages, currents);
        Scaled(currents);
        Recorder.ShowsAsMuch.Drop(frame, sound, currents);
        BalancedRatios.Override(frame, balance, sound, currents);
        NeutralWithLines.Put(frame, currents);
        if (!moved.HasNeutralOff) voltages = NeutralLeadChain.Override(frame, voltages, answers, angles, currents, cancellation);
        // What a line carries unread teaches answers of another kind: against them all the rest looks like a neutral lead in the air.
        if (isOff is not null && IsAllTheRest(sound, voltages, isOff)) voltages = sound;
        // So does a ratio that was wrong for most of the time.
        if (IsWrongForMost(currents)) voltages = sound;
        DropWithinRatios(voltages, currents);
        StandingRatio.Put(frame, voltages, angles, currents);
        return new Chained(frame, voltages, angles, currents, sum) { Moved = moved };
    }

    /// <summary>True where one clamp's ratio, and not those of all, is said to be wrong in most rows.</summary>
    private static bool IsWrongForMost(CurrentHistory?[] currents) =>
        currents.Take(3).Count(current => current is not null && 2 * current.Rows.Count(state => current.Scales[state] is not (0 or 1)) > current.Rows.Length) == 1;

    /// <summary>True where the voltages changed their states in nearly all rows but some.</summary>
    private static bool IsAllTheRest(VoltageHistory before, VoltageHistory after, bool[] isLeftOut)
    {
        var (changed, all) = (0, 0);
        for (var row = 0; row < isLeftOut.Length; row++)
        {
            if (isLeftOut[row]) continue;
            all++;
            changed += after.Rows[row] != before.Rows[row] ? 1 : 0;
        }

        return changed > NearlyAll * all;
    }

    /// <summary>Rows of the hours in which two legs keep far stiller against each other than in the liveliest; null where too few are left.</summary>
    private static bool[]? StillHours(GuardFrame frame)
    {
        if (frame.Volts[0] is not { } one || frame.Volts[1] is not { } other) return null;
        var length = (int)Math.Max(6, 7200 / frame.Log.IntervalSeconds);
        var moves = new double[frame.Count / length];
        for (var block = 0; block < moves.Length; block++)
        {
            for (var row = Math.Max(1, block * length); row < (block + 1) * length; row++)
            {
                var change = one[row] - other[row] - one[row - 1] + other[row - 1];
                moves[block] += double.IsNaN(change) ? 0 : change * change;
            }
        }

        if (moves.Length < 12) return null;
        var lively = 0.15 * moves.Order().ElementAt((int)(0.95 * (moves.Length - 1)));
        var isStill = new bool[frame.Count];
        for (var block = 0; block < moves.Length; block++)
        {
            if (moves[block] < lively) Array.Fill(isStill, true, block * length, length);
        }

        var count = isStill.Count(still => still);
        return count < frame.Count / 10 || count > 0.95 * frame.Count ? null : isStill;
    }

    /// <summary>Where all lines rise or fall as one by five times or ten, and one clamp alone is said to be at another ratio, it is the site that opens or closes.</summary>
    private static void DropOfTheSite(GuardFrame frame, CurrentHistory?[] currents)
    {
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (currents[clamp] is not { } own) continue;
            for (var row = 0; row < own.Rows.Length; row++)
            {
                var (state, last) = (own.Rows[row], row);
                while (last + 1 < own.Rows.Length && own.Rows[last + 1] == state) last++;
                var isAlone = !Enumerable.Range(0, frame.Lines).Any(other => other != clamp && currents[other] is { } beside && beside.Scales[beside.Rows[(row + last) / 2]] is not (0 or 1));
                if (own.Scales[state] is 10 or 0.1 or 5 or 0.2 && isAlone && SharedLoad.IsOfTheSite(frame, clamp, row, last)) Array.Clear(own.Rows, row, last - row + 1);
                row = last;
            }
        }
    }

    /// <summary>A clamp at a tenth shows next to nothing by night: nothing between two stretches of a tenth is a tenth.</summary>
    private static void JoinTenths(CurrentHistory?[] currents)
    {
        foreach (var current in currents)
        {
            if (current is null) continue;
            var tenth = (byte)Array.IndexOf(current.Scales, 0.1);
            for (var row = 0; row < current.Rows.Length; row++)
            {
                if (current.Scales[current.Rows[row]] != 0) continue;
                var last = row;
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == current.Rows[row]) last++;
                var isLeft = row == 0 || current.Rows[row - 1] == tenth;
                var isRight = last + 1 == current.Rows.Length || current.Rows[last + 1] == tenth;
                if (isLeft && isRight && !(row == 0 && last + 1 == current.Rows.Length)) Array.Fill(current.Rows, tenth, row, last - row + 1);
                row = last;
            }
        }
    }

    /// <summary>The answers as they are while no power stands turned: those of a hook-up that was wrong for days are another one's.</summary>
    private static VoltageAnswer[] Unturned(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] angles)
    {
        if (!frame.Options.Check.MayExport) return answers;
        var isTurned = new bool[frame.Count];
        for (var row = 0; row < isTurned.Length; row++) isTurned[row] = Array.Exists(angles, angle => angle is not null && angle.Rows[row] > 0);
        var count = isTurned.Count(turned => turned);
        return count == 0 || count > 0.85 * frame.Count ? answers : [.. Enumerable.Range(0, 4).Select(index => VoltageAnswer.Learn(frame, voltages, index, isTurned))];
    }

    /// <summary>Rows in which a clamp may read too much, and so teach too loudly; null where there are none, or too few others.</summary>
    private static bool[]? AtOtherRatios(CurrentHistory?[] currents, int rows)
    {
        var isOther = new bool[rows];
        for (var row = 0; row < rows; row++)
            isOther[row] = currents.Take(3).Any(current => current is not null && current.Scales[current.Unproved[row]] > 1);
        var count = isOther.Count(other => other);
        return count == 0 || count > 0.7 * rows ? null : isOther;
    }

    /// <summary>What the current's own leap tells, whatever the voltages answer: ratios of ten and clamps on nothing, and one of five that leaps by as much.</summary>
    private static CurrentHistory?[] Firm(GuardFrame frame, CurrentHistory?[] currents) => [.. currents.Select((current, clamp) =>
    {
        if (current is null) return null;
        var rows = (byte[])current.Rows.Clone();
        for (var row = 0; row < rows.Length; row++)
        {
            var scale = current.Scales[rows[row]];
            if (scale is 0 or 1 or 10 or 0.1) continue;
            var last = row;
            while (last + 1 < rows.Length && rows[last + 1] == rows[row]) last++;
            var isShared = currents.Where((other, index) => other is not null && index != clamp && index < 3 && other.Rows[(row + last) / 2] != 0
                && !IsLouder(scale, other.Scales[other.Rows[(row + last) / 2]])).Any();
            if (isShared || scale is 2 or 0.5 || frame.Options.Check.MayExport || !Leaps(frame.Amperes[clamp]!, row, last, scale)) Array.Clear(rows, row, last - row + 1);
            row = last;
        }

        return current with { Rows = rows };
    })];

    /// <summary>True when a current leaps by the ratio as a stretch begins and as it ends.</summary>
    private static bool Leaps(double[] amperes, int from, int to, double scale)
    {
        if (to - from < 2) return false;
        var edges = 0;
        foreach (var (outside, inside) in new[] { (from - 2, from + 1), (to + 2, to - 1) })
        {
            if (outside < 0 || outside >= amperes.Length) continue;
            if (!(Math.Abs(Math.Log(amperes[inside] / amperes[outside] / scale)) < 0.35 * Math.Abs(Math.Log(scale)))) return false;
            edges++;
        }

        return edges > 0;
    }

    /// <summary>A neutral lead in the air within hours in which a clamp's ratio is wrong is that ratio's doing: all phases answer less to what the clamp shows too much of.</summary>
    private static void DropWithinRatios(VoltageHistory voltages, CurrentHistory?[] currents)
    {
        DropWithinNeutral(voltages, currents);
        foreach (var current in currents.Take(3))
        {
            if (current is null) continue;
            for (var row = 0; row < current.Rows.Length; row++)
            {
                var last = row;
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == current.Rows[row]) last++;
                if (current.Scales[current.Rows[row]] is 2 or 0.5 or 5 or 0.2) ClearNeutral(row, last);
                row = last;
            }
        }

        void ClearNeutral(int from, int to)
        {
            bool IsNeutral(int row) => row >= 0 && row < voltages.Rows.Length && voltages.At(row) is { Kind: VoltageStateKind.Leads, Line: 3 };
            for (var row = from; row <= to; row++)
            {
                if (!IsNeutral(row)) continue;
                var last = row;
                while (last < to && IsNeutral(last + 1)) last++;
                if (!IsNeutral(row - 1) && !IsNeutral(last + 1) && (row > from + 1 || last < to - 1)) Array.Clear(voltages.Rows, row, last - row + 1);
                row = last;
            }
        }
    }

    /// <summary>Nor is a ratio of two or five for a few hours, in the midst of days with the neutral lead in the air, anything but the weak answers' doing.</summary>
    private static void DropWithinNeutral(VoltageHistory voltages, CurrentHistory?[] currents)
    {
        bool IsNeutral(int row) => voltages.At(row) is { Kind: VoltageStateKind.Leads, Line: 3 };
        for (var row = 0; row < voltages.Rows.Length; row++)
        {
            if (!IsNeutral(row)) continue;
            var last = row;
            while (last + 1 < voltages.Rows.Length && IsNeutral(last + 1)) last++;
            foreach (var current in currents.Take(3))
            {
                for (var at = row + 1; current is not null && at < last; at++)
                {
                    var end = at;
                    while (end < last && current.Rows[end + 1] == current.Rows[at]) end++;
                    if (current.Scales[current.Rows[at]] is 2 or 0.5 or 5 or 0.2 && current.Rows[at - 1] != current.Rows[at] && end < last && MidstOf * (end - at + 1) < last - row + 1) Array.Clear(current.Rows, at, end - at + 1);
                    at = end;
                }
            }

            row = last;
        }
    }

    /// <summary>A lead and the clamp of its line do not let go in the same interval: the line was lost.</summary>
    private static void JoinLostLines(VoltageHistory voltages, CurrentHistory?[] currents)
    {
        for (var row = 0; row < voltages.Rows.Length; row++)
        {
            var state = voltages.At(row);
            if (state.Kind != VoltageStateKind.Leads || state.Line > 2 || state.Leads[state.Line] != -1 || currents[state.Line] is not { } current) continue;
            if (state.Leads.Count(on => on < 0) != 1) continue;
            int last = row, off = 0;
            while (last + 1 < voltages.Rows.Length && voltages.Rows[last + 1] == voltages.Rows[row]) last++;
            for (var at = row; at <= last; at++)
            {
                if (current.Scales[current.Rows[at]] == 0) off++;
            }

            // Both over the same rows, but for one at each end.
            var isBefore = row > 1 && current.Scales[current.Rows[row - 2]] == 0;
            var isAfter = last + 2 < current.Rows.Length && current.Scales[current.Rows[last + 2]] == 0;
            if (off >= last - row - 1 && off > 0 && !isBefore && !isAfter)
            {
                var lost = Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.LineLost && entry.Line == state.Line);
                if (lost >= 0)
                {
                    Array.Fill(voltages.Rows, (byte)lost, row, last - row + 1);
                    for (var at = Math.Max(0, row - 1); at <= Math.Min(current.Rows.Length - 1, last + 1); at++) current.Rows[at] = 0;
                }
            }

            row = last;
        }
    }

    private static bool IsLouder(double scale, double than) => scale == 0 || Math.Abs(Math.Log(scale)) > Math.Abs(Math.Log(than)) + 0.1;

    /// <summary>While one clamp is off, or further off its size, the answers of the others seem wrong by what it does not show: a ratio found there alone is an echo.</summary>
    private static void DropEchoes(CurrentHistory?[] currents)
    {
        foreach (var current in currents)
        {
            if (current is null) continue;
            for (var row = 0; row < current.Rows.Length; row++)
            {
                var state = current.Rows[row];
                if (current.Scales[state] is 0 or 1) continue;
                int last = row, shared = 0;
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == state) last++;
                for (var at = row; at <= last; at++)
                {
                    if (Array.Exists(currents, other => other is not null && other != current && IsLouder(other.Scales[other.Rows[at]], current.Scales[state]))) shared++;
                }

                if (2 * shared > last - row + 1) Array.Clear(current.Rows, row, last - row + 1);
                row = last;
            }
        }

        DropPairs(currents);
    }

    /// <summary>Ratios of two or five of two clamps from one row to another are no hand's work: the voltages did it.</summary>
    private static void DropPairs(CurrentHistory?[] currents)
    {
        var runs = new List<(int Clamp, int From, int To)>();
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (currents[clamp] is not { } current) continue;
            for (var row = 0; row < current.Rows.Length; row++)
            {
                var last = row;
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == current.Rows[row]) last++;
                if (current.Scales[current.Rows[row]] is 2 or 0.5 or 5 or 0.2) runs.Add((clamp, row, last));
                row = last;
            }
        }

        foreach (var (clamp, from, to) in runs)
        {
            if (runs.Exists(other => other.Clamp != clamp && Math.Abs(other.From - from) <= 1 && Math.Abs(other.To - to) <= 1))
                Array.Clear(currents[clamp]!.Rows, from, to - from + 1);
        }
    }

    /// <summary>The pieces in which no chain changes.</summary>
    public List<RowPiece> Pieces()
    {
        var keys = Keys();
        var pieces = new List<RowPiece>();
        for (var row = 0; row < keys.Length;)
        {
            var last = row;
            while (last + 1 < keys.Length && keys[last + 1] == keys[row]) last++;
            pieces.Add(new RowPiece(row, last, keys[row]));
            row = last + 1;
        }

        // An interval in which the change fell belongs to what comes after it, unless that is the sound state again.
        for (var index = pieces.Count - 2; index > 0; index--)
        {
            var (left, middle, right) = (pieces[index - 1], pieces[index], pieces[index + 1]);
            // A clamp is not turned and turned back within one interval.
            if (left.Key == right.Key && middle.Length == 1 && middle.Key.Voltage == left.Key.Voltage)
            {
                pieces[index - 1] = left with { To = right.To };
                pieces.RemoveRange(index, 2);
                index = Math.Min(index, pieces.Count - 1);
                continue;
            }

            if (left.Key == right.Key || middle.Length > 2 || (middle.Length == 2 && !middle.Key.IsBetween(left.Key, right.Key))) continue;
            var toLeft = IsSound(right.Key) && !IsSound(left.Key);
            if (toLeft) pieces[index - 1] = left with { To = middle.To };
            else pieces[index + 1] = right with { From = middle.From };
            pieces.RemoveAt(index);
        }

        return pieces;
    }

    private static bool IsSound(RowKey key) => key is { Voltage: 0, Scales: 0 } && Enumerable.Range(0, 3).All(index => key.Turn(index) is 0 or 15);

    private RowKey[] Keys()
    {
        var keys = new RowKey[Frame.Count];
        var turns = new int[3][];
        for (var channel = 0; channel < 3; channel++) turns[channel] = Filled(Angles[channel]);
        for (var row = 0; row < keys.Length; row++)
        {
            int turn = 0, scale = 0;
            for (var index = 0; index < 3; index++) turn |= turns[index][row] << (4 * index);
            for (var index = 0; index < 4; index++) scale |= (Currents[index] is { } current ? current.Rows[row] : 0) << (4 * index);
            keys[row] = new RowKey(Voltages.Rows[row], (ushort)turn, (ushort)scale);
        }

        return keys;
    }

    /// <summary>Rows that do not tell go with those around them; with what came before where these differ.</summary>
    private int[] Filled(AngleHistory? history)
    {
        var filled = new int[Frame.Count];
        if (history is null)
        {
            Array.Fill(filled, 15);
            return filled;
        }

        var last = -1;
        for (var row = 0; row < filled.Length; row++)
        {
            if (history.Rows[row] >= 0)
            {
                if (last < 0) Array.Fill(filled, history.Rows[row], 0, row);
                last = history.Rows[row];
            }

            filled[row] = last;
        }

        if (last < 0) Array.Fill(filled, 15);
        return filled;
    }
}
