using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Phasors;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds when the neutral lead was in the air on services where the sizes of the voltages do not tell.</summary>
/// <remarks>With the lead off, the inputs' star point takes away what the lines have in common: a phase's voltage then answers to its own
/// current with a fraction of what it did (wye: half the line's resistance, against the line's and one and a half times the neutral's), and on
/// a split service with nothing. The answers of all phases to all steps are weighed together.</remarks>
internal static class NeutralLeadChain
{
    private static readonly double[] s_enter = [5, 11, 11, 11, 11];

    /// <summary>An edge alone is no proof: a load that goes to nothing makes one too.</summary>
    private const double LeastProof = 6;
    private const double LeastOfOne = -1;

    private const int TooOften = 3;
    private const double KnownToAFifth = 0.04;
    private const double ClearStep = 3;
    private const int LeastSteps = 6;
    private const double OfSteps = 0.8;

    /// <summary>Beyond so many spreads lies one value in five (1 - <see cref="OfSteps"/>) of noise alone.</summary>
    private const double OfNoise = 0.84;
    private const double MostAnswered = 0.55;
    private const double MostOfMean = 2.5;
    private const double LeastWithoutVars = 30;
    private const double ClearMean = 4;
    private const double ClearProof = 150;
    private const double SmallPart = 0.02;
    private const double LeastOfGenerating = 1.5;
    private const double SecondsOfPassing = 3600;
    private const double MostlyTheSame = 0.6;

    /// <summary>So many rows in which a voltage does not move may be chance.</summary>
    private const int MostStill = 4;

    public static VoltageHistory Override(
        GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] angles, CurrentHistory?[] currents,
        CancellationToken cancellation)
    {
        if (frame.IsPairs || frame.Service.Kind is not (ServiceKind.Wye or ServiceKind.Split)) return voltages;
        if (NeutralOfSplit.IsOffThroughout(frame, voltages)) return AllOff(voltages);
        for (var index = 0; index < frame.Lines; index++)
        {
            if (!answers[index].IsKnown) return voltages;
        }

        if (!answers.Take(frame.Lines).Any(answer => answer.IsSharp))
        {
            // Answers that do not stand out from their own error are chance, and tell of nothing; but for those of two laws taken together. By amperes alone exchanged clamps make two laws as well.
            if (frame.Watts.Take(frame.Lines).Any(column => column is null) || AnswerBreak.Find(frame, voltages, cancellation)?.Weak(frame.Count) is not { } weak) return voltages;
            answers = [.. Enumerable.Range(0, answers.Length).Select(index => VoltageAnswer.Learn(frame, voltages, index, weak))];
            if (!answers.Take(frame.Lines).All(answer => answer.IsKnown)) return voltages;
        }

        // A clamp that never shows anything leaves the answers to it unknown: the other leg's alone say nothing of the neutral.
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Amperes[index] is { } amperes && Robust.Quantile(amperes, 0.99) < voltages.Floors[index]) return voltages;
        }

        var state = StateOf(voltages);
        var isSplit = frame.Service.Kind == ServiceKind.Split;
        var levels = isSplit ? new NeutralLevels.Levels(1, 0.25, false) : NeutralLevels.Find(frame, voltages, answers, currents);
        if (levels.IsOffThroughout) return AllOff(voltages);
        double[] steps = [.. Enumerable.Range(0, frame.Lines).Select(index => Robust.Step(frame.Volts[index]!))];
        var leastSteps = frame.Log.IntervalSeconds <= VoltageAnswer.LongestOfSteps ? Enumerable.Range(0, frame.Lines).Select(index => VoltageAnswer.LeastStep(answers[index].Standing, frame.Count)).ToArray() : [];
        var still = new int[frame.Lines];
        var chain = new LinkedChain(s_enter, frame.Count);
        var weight = (frame.Lines - 1.0) / frame.Lines;
        var says = new double[s_enter.Length];
        // What the rows themselves say for the lead being off, without the steps at the edges.
        double[][] within = [.. Enumerable.Range(0, frame.Lines).Select(_ => new double[frame.Count])];
        for (var row = 0; row < frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            Array.Clear(says);
            double change = 0, falls = 0, comes = 0;
            var tells = row > 0 && voltages.Rows[row] == 0 && voltages.Rows[row - 1] == 0
                && Array.TrueForAll(angles, angle => angle is null || (angle.Rows[row] <= 0 && angle.Rows[row - 1] <= 0))
                && Array.TrueForAll(currents, current => current is null || (current.Rows[row] == 0 && current.Rows[row - 1] == 0));
            for (var index = 0; tells && index < frame.Lines; index++)
            {
                var answer = answers[index];
                var others = answer.Others(row);
                var own = answer.Own(row) - answer.Own(row - 1);
                var moved = answer.Change(row);
                if (double.IsNaN(own) || double.IsNaN(others) || double.IsNaN(moved)) continue;
                var all = own + others;
                // A voltage that stands between two values that can be written hides what is less than the way to the next, row after row.
                still[index] = Math.Abs(moved) < 0.01 * steps[index] ? still[index] + 1 : 0;
                if (still[index] > MostStill && Math.Abs(levels.On * all) < 0.5 * steps[index]) continue;
                var square = answer.Spread * answer.Spread;
                if (leastSteps.Length > 0)
                {
                    // In rows of seconds most hold no step at all: what the currents' own noise seems to do to a voltage goes unanswered, a little in each of thousands of rows. And what a
                    // motor of three lines does to a phase by its own current and by the others' cancels, each known to a fifth.
                    if (Math.Abs(all) < leastSteps[index]) continue;
                    square += KnownToAFifth * levels.On * levels.On * ((own * own) + (others * others));
                }

                var on = weight * Say(moved - (levels.On * all), Math.Sqrt(square + (0.09 * levels.On * levels.On * all * all)));
                says[0] += on;

                // Split: both halves read the same but for the inputs' errors. Wye: a fraction of the answer is left.
                var off = weight * (isSplit
                    ? Say(moved, Math.Max(4e-4, 0.5 * answer.Spread))
                    : Say(moved - (levels.Off * all), Math.Sqrt(square + (0.2 * levels.Off * levels.On * all * all))));
                says[1] += off;
                within[index][row] = off - on;
                change += weight * Say(moved, Math.Max(0.006, 2 * answer.Spread));

                // As the lead lets go, what the standing currents hold the phases apart by goes with it, and comes back with the lead.
                double then = answer.Standing(row - 1), now = answer.Standing(row), share = isSplit ? 0 : levels.Off;
                falls += weight * SayStep(moved, (share * now) - (levels.On * then), square);
                comes += weight * SayStep(moved, (levels.On * now) - (share * then), square);

                // A clamp turned round: its own answer comes with the other sign, and the others' are blurred.
                for (var turned = 0; turned < 3; turned++)
                {
                    says[2 + turned] += weight * (turned == index
                        ? Say(moved - (levels.On * (others - own)), Math.Sqrt(square + (0.09 * all * all)))
                        : Say(moved - (levels.On * all), Math.Sqrt(square + (0.09 * all * all) + (0.3 * others * others))));
                }
            }

            for (var before = 0; before < s_enter.Length; before++)
            {
                for (var to = 0; to < s_enter.Length; to++) chain.Links[(before * s_enter.Length) + to] = before == to ? says[to] : change;
            }

            if (tells)
            {
                chain.Links[1] = Math.Max(change, falls);
                chain.Links[s_enter.Length] = Math.Max(change, comes);
            }

            chain.Take(row > 0);
        }

        var history = chain.History();
        var rows = (byte[])voltages.Rows.Clone();
        var stretches = new List<(int From, int To)>();
        var floating = Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.SupplyNeutralLost);
        for (var row = 0; row < rows.Length; row++)
        {
            if (history[row] != 1 || rows[row] != 0) continue;
            var last = row;
            while (last + 1 < rows.Length && history[last + 1] == 1 && rows[last + 1] == 0) last++;
            // Beside rows in which the supply's own neutral is lost it is that one still.
            var isSupply = (row > 0 && rows[row - 1] == floating) || (last + 1 < rows.Length && rows[last + 1] == floating);
            if (isSplit && !isSupply && last - row >= 2 && Turned(frame, row, last) is { } leg && angles[leg] is { } powers && Array.IndexOf(powers.Turns, 180.0) is > 0 and var opposite)
            {
                Array.Fill(powers.Rows, (sbyte)opposite, row, last - row + 1);
                row = last;
                continue;
            }

            // Two legs alike while one power stands turned: one leg read twice, a single mishap.
            if (isSplit && !isSupply && !frame.Options.Check.MayExport && AreOpposite(angles, row, last))
            {
                row = last;
                continue;
            }

            double[] proofs = Array.ConvertAll(within, odds => odds.AsSpan(row + 1, last - row).ToArray().Sum());
            if (!isSupply && RatioTest.Gain(frame, answers, levels.On, row, last) > proofs.Sum())
            {
                row = last;
                continue;
            }

            // All phases must bear it out: where one does not, the currents are not what they seem.
            if (isSupply) Array.Fill(rows, (byte)floating, row, last - row + 1);
            else if (last - row >= 3 && proofs.Sum() > LeastProof && NeutralLeadEdges.Allow(frame, answers, levels, row, last) && IsBorneOut(row, last, proofs)) stretches.Add((row, last));
            row = last;
        }

        // What comes and goes time and again is a load that the answers do not fit.
        if (stretches.Count < TooOften)
        {
            foreach (var (from, to) in stretches) Array.Fill(rows, (byte)state, from, to - from + 1);
        }

        // By day on a site with generation the angles are silent: this is where a turned clamp shows all the same.
        byte[] turns = [.. history.Select(entry => entry < 2 || !frame.Options.Check.MayExport ? (byte)0 : entry)];
        BriefMovements.Drop(turns, frame.Log.IntervalSeconds);
        for (var row = 0; row < rows.Length; row++)
        {
            if (turns[row] == 0 || angles[turns[row] - 2] is not { } angle) continue;
            if (angle.Rows[row] == 0 && Array.IndexOf(angle.Turns, 180.0) is > 0 and var half) angle.Rows[row] = (sbyte)half;
        }

        return voltages with { Rows = rows };

        bool IsBorneOut(int from, int to, double[] proofs)
        {
            // Where the mean of the voltages answers less as well, it is the currents that read otherwise.
            var mean = isSplit ? 0 : MeanAnswer.OddsOfRatio(frame, voltages, answers, from, to, levels.On / levels.Off);
            var isClear = mean < -ClearMean && proofs.Sum() > ClearProof;
            var least = isClear ? Math.Min(LeastOfOne, -SmallPart * proofs.Sum()) : LeastOfOne;
            // Without vars the answers are ill known, and a little in each of many rows adds up.
            if (Array.TrueForAll(frame.Vars, column => column is null) && proofs.Sum() < Math.Min(LeastWithoutVars, to - from)) return false;
            // What a generator draws or gives turns with the sun: answers known so roughly add up a little in each of many rows as well.
            if (frame.Options.Check.MayExport && proofs.Sum() < LeastOfGenerating * (to - from) * Math.Sqrt(frame.Log.IntervalSeconds / 600)) return false;
            return mean < MostOfMean && Array.TrueForAll(proofs, proof => proof > least) && (isSplit || AnswersLess(frame, answers, levels, from, to, isClear ? OfNoise : 0));
        }
    }

    /// <summary>The voltages with the neutral lead off where the way in which they answer to all currents says so; null where it does not.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="floated">The same with what each phase's own answers say.</param>
    /// <param name="moved">What the law of all voltages and currents says.</param>
    public static VoltageHistory? With(GuardFrame frame, VoltageHistory voltages, VoltageHistory floated, List<PhasorStretch> moved)
    {
        if (!moved.Exists(stretch => stretch.Arrangement.Leads[3] < 0)) return null;
        var rows = (byte[])voltages.Rows.Clone();
        var state = (byte)StateOf(voltages);
        foreach (var stretch in moved.Where(stretch => stretch.Arrangement.Leads[3] < 0))
        {
            var (from, to) = Dated(floated, state, stretch);
            for (var row = from; row <= to; row++)
            {
                var last = row;
                while (last < to && rows[last + 1] == rows[row]) last++;
                // Against a star point that the loads move, a line stands for minutes as it would without its lead.
                var isPassing = voltages.States[rows[row]].Kind is VoltageStateKind.Leads or VoltageStateKind.SupplyNeutralLost && (last - row + 1) * frame.Log.IntervalSeconds < SecondsOfPassing;
                if (rows[row] == 0 || isPassing) Array.Fill(rows, state, row, last - row + 1);
                row = last;
            }
        }

        return voltages with { Rows = rows };
    }

    /// <summary>The rows of a stretch as each phase's own answers date it, where they make one of it as well.</summary>
    private static (int From, int To) Dated(VoltageHistory floated, byte state, PhasorStretch stretch)
    {
        List<(int From, int To)> own = [];
        for (var row = 0; row < floated.Rows.Length; row++)
        {
            if (floated.Rows[row] != state) continue;
            var last = row;
            while (last + 1 < floated.Rows.Length && floated.Rows[last + 1] == state) last++;
            if (last >= stretch.From && row <= stretch.To) own.Add((row, last));
            row = last;
        }

        if (own is not [var (from, to)]) return (stretch.From, stretch.To);
        var both = Math.Min(to, stretch.To) - Math.Max(from, stretch.From) + 1;
        return both > MostlyTheSame * (to - from + 1) && both > MostlyTheSame * (stretch.To - stretch.From + 1) ? (from, to) : (stretch.From, stretch.To);
    }

    /// <summary>With the lead off nearly all steps go unanswered alike. Loads whose angles are not known, as those between two lines without the sign of their vars, are answered now more and now less than they seem.</summary>
    private static bool AnswersLess(GuardFrame frame, VoltageAnswer[] answers, NeutralLevels.Levels levels, int from, int to, double ofNoise)
    {
        var shares = new List<double>();
        for (var index = 0; index < frame.Lines; index++)
        {
            var answer = answers[index];
            for (var row = from + 1; row < to; row++)
            {
                var all = levels.On * (answer.Own(row) - answer.Own(row - 1) + answer.Others(row));
                if (Math.Abs(all) > ClearStep * answer.Spread && answer.Change(row) / all is var share && double.IsFinite(share)) shares.Add(share - (ofNoise * answer.Spread / Math.Abs(all)));
            }
        }

        return shares.Count < LeastSteps || Robust.Quantile([.. shares], OfSteps) < MostAnswered;
    }

    private static int StateOf(VoltageHistory voltages) => Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.Leads && entry.Line == 3);

    private static VoltageHistory AllOff(VoltageHistory voltages)
    {
        var all = (byte[])voltages.Rows.Clone();
        for (var row = 0; row < all.Length; row++) all[row] = all[row] == 0 ? (byte)StateOf(voltages) : all[row];
        return voltages with { Rows = all };
    }

    private static bool AreOpposite(AngleHistory?[] angles, int from, int to)
    {
        if (angles[0] is not { } one || angles[1] is not { } other) return false;
        double first = Middle(one), second = Middle(other);
        return (Math.Abs(first) > 100 && Math.Abs(second) < 80) || (Math.Abs(first) < 80 && Math.Abs(second) > 100);
        double Middle(AngleHistory angle) => Robust.Median([.. angle.Degrees.AsSpan(from, to - from + 1).ToArray().Select(Math.Abs)]);
    }

    /// <summary>The leg whose power stands opposite to the other leg's while both voltages are alike; null for none. With the neutral lead off each leg's power keeps its direction; with both leads on
    /// one leg the other's is turned. By day on a site with generation nothing else says so.</summary>
    private static int? Turned(GuardFrame frame, int from, int to)
    {
        if (!frame.Options.Check.MayExport || frame.Watts[0] is not { } oneWatts || frame.Watts[1] is not { } otherWatts) return null;
        var hasVars = frame.Vars[0] is not null && frame.Vars[1] is not null;
        double Along(double[] one, double[] other, int row) => one[row] * other[row];
        int along = 0, rows = 0, alongVars = 0;
        for (var row = 0; row < frame.Count; row++)
        {
            if ((row >= from - 1 && row <= to + 1) || frame.From(row).Hour is < 5 or >= 21 || double.IsNaN(Along(oneWatts, otherWatts, row))) continue;
            rows++;
            along += Along(oneWatts, otherWatts, row) > 0 ? 1 : 0;
            alongVars += hasVars && Along(frame.Vars[0]!, frame.Vars[1]!, row) > 0 ? 1 : 0;
        }

        if (rows < 30) return null;
        double Weigh(double product, int count)
        {
            var share = (count + 1.0) / (rows + 2);
            return double.IsNaN(product) || product == 0 ? 0 : product > 0 ? Math.Log((1 - share) / share) : Math.Log(share / (1 - share));
        }

        double odds = 0;
        for (var row = from + 1; row < to; row++) odds += 0.5 * (Weigh(Along(oneWatts, otherWatts, row), along) + (hasVars ? Weigh(Along(frame.Vars[0]!, frame.Vars[1]!, row), alongVars) : 0));
        if (odds < 3) return null;
        // The one that leaps to its opposite at the edges.
        var columns = hasVars ? frame.Vars : frame.Watts;
        double[] leaps = new double[2];
        foreach (var (outside, inside) in new[] { (from - 2, from + 1), (to + 2, to - 1) })
        {
            if (outside < 0 || outside >= frame.Count) continue;
            for (var leg = 0; leg < 2; leg++)
            {
                double then = columns[leg]![outside], now = columns[leg]![inside];
                if (Math.Abs(then) + Math.Abs(now) > 0) leaps[leg] += Math.Abs(now - then) / (Math.Abs(then) + Math.Abs(now));
            }
        }

        return leaps[0] > leaps[1] ? 0 : 1;
    }

    /// <summary>The supply's own unbalance goes and comes as well: a third of a percent.</summary>
    internal static double SayStep(double moved, double expected, double square) => Say(moved - expected, Math.Sqrt((2 * square) + (0.04 * expected * expected) + 1e-5));

    /// <summary>Log-density of what is off by so much: Student's law of four degrees of freedom, for the supply has heavy tails.</summary>
    internal static double Say(double off, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (off * off / (4 * spread * spread))));
}
