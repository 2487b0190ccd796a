using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>What a key means.</summary>
/// <param name="Arrangement">Where leads and clamps were.</param>
/// <param name="Odds">Log-odds against the strongest other arrangement.</param>
/// <param name="Rival">That other arrangement; null when there is none.</param>
/// <param name="Score">Its log-probability.</param>
internal sealed record Explanation(Arrangement Arrangement, double Odds, Arrangement? Rival, double Score)
{
    /// <summary>By how much the voltages' answers to the currents speak for it against the anchor's own arrangement, nats; 0 where they can't tell.</summary>
    public double Answered { get; init; }

    /// <summary>Another arrangement with the same faults by name that nothing tells from it, as which of two leads on one conductor was moved; null when there is none.</summary>
    public Arrangement? Twin { get; init; }
}

/// <summary>Finds the fewest movements of leads and clamps that turn the hook-up of one key into that of another, held against every relation
/// that the rows show.</summary>
internal sealed class KeyExplainer
{
    private const double Broken = -14;
    private const double RuledOut = 12;
    private const double VoltageAlikeSpread = 4e-4;

    /// <summary>Every second mishap, as a guess, has its beginning or its end in the recording.</summary>
    private const double Mended = -0.7;
    private readonly Chained _chained;
    private readonly GuardFrame _frame;
    private readonly RowKey _anchorKey;
    private readonly Arrangement _anchor;
    private readonly double _currentAlikeSpread;

    private readonly List<RowPiece> _anchorPieces;
    private readonly PanelReadings? _likeness;
    private readonly UsualLevels _levels;

    private readonly AnswerTest _answers;
    private readonly AnswerTest.Sums? _anchorSums;

    public KeyExplainer(Chained chained, AnswerTest answers, RowKey anchorKey, Arrangement anchor, List<RowPiece> anchorPieces)
    {
        _answers = answers;
        _anchorSums = _answers.Of(anchorKey, anchorPieces);
        _anchorPieces = anchorPieces;
        if (chained.Frame.HasVolts && chained.Frame.HasAmperes) _likeness = AnchorJudge.ReadingsOf(chained.Frame, anchorPieces[0].From);
        (_chained, _frame, _anchorKey, _anchor) = (chained, chained.Frame, anchorKey, anchor);
        _currentAlikeSpread = 0.006;
        _levels = new UsualLevels(_frame, anchor, anchorPieces);
    }

    /// <summary>Learns from the anchor, as this explainer has it, how strongly each voltage answers; before anything is explained.</summary>
    public void Learn() => _answers.Learn(_anchor, _anchorSums);

    /// <summary>Explains the rows of one key.</summary>
    public Explanation Explain(RowKey key, List<RowPiece> pieces)
    {
        if (key == _anchorKey) return new Explanation(_anchor, 20, null, 0);
        var observed = Observed(key, pieces);
        var voltsAlike = Alike(_frame.IsPairs ? new double[]?[3] : _frame.Volts, pieces, VoltageAlikeSpread, true);
        var ampsAlike = Alike(_frame.Amperes, pieces, _currentAlikeSpread, false);
        var bounds = Continuity.Bounds(pieces, _anchorPieces, _frame.Count);
        // A load that was switched at an edge says nothing of what was moved there.
        var unmoved = Math.Min(0, Continuity.Say(_frame, _chained.Voltages, _anchor, _anchor, bounds));
        var levels = _levels.Hear(pieces, [.. Enumerable.Range(0, 3).Select(clamp => key.Scale(clamp) != _anchorKey.Scale(clamp))]);
        var mostLikely = double.NegativeInfinity;
        var weighed = new List<(Arrangement Arrangement, double Score)>();
        // What a clamp on nothing, or at another ratio, does not show is missing in all answers.
        var sums = _chained.Currents.Where((currents, clamp) => currents is not null && (currents.Scales[key.Scale(clamp)] == 0 || key.Scale(clamp) != _anchorKey.Scale(clamp))).Any()
            ? null : _answers.Of(key, pieces);
        var top = double.NegativeInfinity;
        var origin = _anchor with { LogPrior = 0 };
        foreach (var leads in Movements.OfLeads(_frame, origin))
        {
            if (!FitsVoltages(leads, key)) continue;
            Weigh(leads);
            foreach (var clamps in Movements.OfClamps(_frame, leads)) Weigh(clamps);
        }

        if (top < -12)
        {
            // Two movements of clamps at once.
            foreach (var leads in Movements.OfLeads(_frame, origin))
            {
                if (!FitsVoltages(leads, key) || !leads.Leads.AsSpan().SequenceEqual(origin.Leads)) continue;
                foreach (var first in Movements.OfClamps(_frame, leads))
                {
                    foreach (var both in Movements.OfClamps(_frame, first)) Weigh(both);
                }
            }
        }

        // Levels and answers choose among what the other relations leave; they make nothing possible that those rule out.
        var atMost = weighed.Where(entry => entry.Score > top - RuledOut).Select(entry => levels.Say(entry.Arrangement)).DefaultIfEmpty(0).Max();
        weighed = [.. weighed.Select(entry => (entry.Arrangement, entry.Score + (entry.Score > top - RuledOut ? levels.Say(entry.Arrangement) : Math.Min(levels.Say(entry.Arrangement), atMost)) - mostLikely))];
        if (weighed.Count > 1 && sums is not null)
        {
            double[] gains = [.. weighed.Select(entry => _answers.Speaks(entry.Arrangement) ? _answers.Gain(entry.Arrangement, sums) : double.NaN)];
            // What the other relations rule out is none to be held against.
            var likeliest = weighed.Max(entry => entry.Score);
            var most = gains.Where((gain, index) => !double.IsNaN(gain) && weighed[index].Score > likeliest - RuledOut).DefaultIfEmpty(0).Max();
            weighed = [.. weighed.Select((entry, index) => (entry.Arrangement, entry.Score + (double.IsNaN(gains[index]) ? 0 : AnswerTest.Less(gains[index], most))))];
        }

        var best = weighed.Count == 0 ? default : weighed.MaxBy(entry => entry.Score);

        // Of two that read alike the one in which nothing is wrong any more.
        if (weighed.Where(entry => entry.Arrangement.IsRight && best.Score - entry.Score < 2).Select(entry => entry.Arrangement).FirstOrDefault() is { } right
            && !right.IsLike(best.Arrangement) && IsSame(right, best.Arrangement)) best = (right, best.Score);

        var twin = Twin();

        // What no movement explains is no movement, but for what the voltages' proportions show by themselves.
        if (weighed.Count == 0 || top < -14)
        {
            var state = _chained.Voltages.States[key.Voltage];
            var isLead = state.Kind == VoltageStateKind.Leads;
            return new Explanation(isLead ? _anchor with { Leads = state.Leads } : _anchor, isLead ? 2 : 0, null, -14);
        }

        // What reads the same whatever the load is no rival.
        foreach (var rival in weighed.OrderByDescending(entry => entry.Score))
        {
            if (rival.Arrangement.IsLike(best.Arrangement) || IsSame(rival.Arrangement, best.Arrangement) || NamesOf(rival.Arrangement).SetEquals(NamesOf(best.Arrangement))) continue;
            return new Explanation(best.Arrangement, best.Score - rival.Score, rival.Arrangement, best.Score) { Answered = Answered(), Twin = twin };
        }

        return new Explanation(best.Arrangement, 10, null, best.Score) { Answered = Answered(), Twin = twin };

        // Of those that are named alike the one whose powers turn at the edges as it says.
        Arrangement? Twin()
        {
            if (weighed.Count < 2) return null;
            var names = NamesOf(best.Arrangement);
            var alike = weighed.Where(entry => best.Score - entry.Score < 4 && NamesOf(entry.Arrangement).SetEquals(names))
                .Select(entry => (entry.Arrangement, Score: entry.Score + TurnsAtEdges(entry.Arrangement, bounds))).OrderByDescending(entry => entry.Score).ToArray();
            if (alike.Length < 2) return null;
            best = (alike[0].Arrangement, best.Score);
            return alike[0].Score - alike[1].Score < 4 && !IsSame(alike[0].Arrangement, alike[1].Arrangement) ? alike[1].Arrangement : null;
        }

        double Answered() => sums is not null && _answers.Speaks(best.Arrangement) && _answers.Speaks(_anchor) ? Math.Clamp(_answers.Gain(best.Arrangement, sums) - _answers.Gain(_anchor, sums), -AnswerTest.Most, AnswerTest.Most) : 0;

        void Weigh(Arrangement arrangement)
        {
            // Where the anchor is wrong, rows in which nothing is are those before it was or after it was mended, and need no second mishap.
            if (arrangement.IsRight && !_anchor.IsRight) arrangement = arrangement with { LogPrior = Mended };
            mostLikely = Math.Max(mostLikely, levels.Say(arrangement));
            var score = Score(arrangement, key, observed, voltsAlike, ampsAlike);
            if (score < -30) return;
            score += Continuity.Say(_frame, _chained.Voltages, _anchor, arrangement, bounds) - unmoved;
            top = Math.Max(top, score);
            weighed.Add((arrangement, score));
        }
    }

    /// <summary>Log-likelihood that the powers turn at the edges as an arrangement says, in either order of the lines; 0 without vars.</summary>
    private double TurnsAtEdges(Arrangement arrangement, List<(int Anchor, int Piece)> bounds)
    {
        double one = 0, other = 0;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            if (_frame.Watts[channel] is not { } watts || _frame.Vars[channel] is not { } vars || arrangement.Turn(_frame, _anchor, channel) is not { } expected) continue;
            foreach (var (anchor, piece) in bounds)
            {
                var turned = (Math.Atan2(vars[piece], watts[piece]) - Math.Atan2(vars[anchor], watts[anchor])) * 180 / Math.PI;
                if (double.IsNaN(turned)) continue;
                one += Near(Circuits.Angle.WrapDegrees(turned - expected));
                other += Near(Circuits.Angle.WrapDegrees(turned + expected));
            }
        }

        return Math.Max(one, other);

        static double Near(double off) => -2.5 * Math.Log(1 + (off * off / (4 * 12 * 12)));
    }

    /// <summary>The faults by name: which of two leads on one conductor is the stranger is no other fault.</summary>
    private HashSet<string> NamesOf(Arrangement arrangement) =>
        [.. Hookups.Answers.FaultFinder.Find(ToHookup(arrangement)).Select(fault => $"{fault.Kind} {string.Join(",", fault.Leads)} {string.Join(",", fault.Clamps)}")];

    private bool IsSame(Arrangement one, Arrangement other)
    {
        if (_likeness is null) return false;
        return ReadsAlike.Check(_likeness, ToHookup(one), _frame.Rotation, ToHookup(other), _frame.Rotation);
    }

    private Hookup ToHookup(Arrangement arrangement) => new(
        _frame.Service.Leads.ToImmutableSortedDictionary(lead => lead, lead => arrangement.Leads[(int)lead] < 0 ? null : (Circuits.Conductor?)arrangement.Leads[(int)lead]),
        Enumerable.Range(0, _frame.Lines).Where(clamp => _frame.Amperes[clamp] is not null).ToImmutableSortedDictionary(
            clamp => (Clamp)clamp,
            clamp => arrangement.Clamps[clamp] < 0 ? new ClampPlace(null, false, 1) : new ClampPlace((Circuits.Conductor)arrangement.Clamps[clamp], arrangement.Reversed[clamp], 1)));

    /// <summary>By how much the lines' voltages answer to the currents that the anchor's hook-up says are theirs, nats; NaN where they can't tell.</summary>
    public double AnchorAnswers() => _answers.Speaks(_anchor) ? _answers.BestGain(_anchor, _anchorSums) : double.NaN;

    /// <summary>Log-odds that the rows of the anchor itself bear its hook-up out: two leads or two clamps alike where it has them on one conductor.</summary>
    public double AnchorAlike()
    {
        double odds = 0;
        for (var one = 0; one < _frame.Lines; one++)
        {
            for (var other = one + 1; other < _frame.Lines; other++)
            {
                if (!_frame.IsPairs && _anchor.Leads[one] >= 0 && _anchor.Leads[one] == _anchor.Leads[other])
                    odds += AlikeTest.Odds(_frame.Volts[one], _frame.Volts[other], _anchorPieces, VoltageAlikeSpread, OthersSpread(one, other)) + AlikeTest.LevelOdds(_frame.Volts[one], _frame.Volts[other], _anchorPieces);
                if (_anchor.Clamps[one] >= 0 && _anchor.Clamps[one] == _anchor.Clamps[other])
                    odds += AlikeTest.Odds(_frame.Amperes[one], _frame.Amperes[other], _anchorPieces, _currentAlikeSpread) + StandStill(_frame.Amperes[one], _frame.Amperes[other]);
            }
        }

        return odds;
    }

    /// <summary>Two currents that keep one ratio from first to last, though they themselves change, are one current, or those of one motor: a few nats.</summary>
    private double StandStill(double[]? one, double[]? other) =>
        one is not null && other is not null && AlikeTest.Spread(one, other) < 1.5 * _currentAlikeSpread && AlikeTest.Moves(one) > 5 * _currentAlikeSpread ? 4 : 0;

    /// <summary>How much the third line's voltage moves against either of two.</summary>
    private double OthersSpread(int one, int other)
    {
        if (_frame.Lines < 3 || _frame.Volts[3 - one - other] is not { } third) return 0;
        return Math.Min(AlikeTest.Spread(_frame.Volts[one]!, third), AlikeTest.Spread(_frame.Volts[other]!, third));
    }

    private double?[] Observed(RowKey key, List<RowPiece> pieces)
    {
        var observed = new double?[3];
        for (var channel = 0; channel < 3; channel++)
        {
            if (_chained.Angles[channel] is not { } angles || key.Turn(channel) == 15 || _anchorKey.Turn(channel) == 15) continue;
            if (!Tells(angles, pieces)) continue;
            observed[channel] = Circuits.Angle.WrapDegrees(angles.Turns[key.Turn(channel)] - angles.Turns[_anchorKey.Turn(channel)]);
        }

        return observed;
    }

    /// <summary>Degrees between two turns; of the sizes of angles where there are no vars. In a hook-up that is wrong a usual angle may lie on either side.</summary>
    private double Off(AngleHistory angles, double turn, double expected)
    {
        if (angles.HasVars) return Math.Abs(Circuits.Angle.WrapDegrees(turn - expected));
        var seen = Math.Abs(Circuits.Angle.WrapDegrees(angles.UsualDegrees + turn));
        var off = Math.Abs(seen - Math.Abs(Circuits.Angle.WrapDegrees(angles.UsualDegrees + expected)));
        return _anchor.IsRight ? off : Math.Min(off, Math.Abs(seen - Math.Abs(Circuits.Angle.WrapDegrees(angles.UsualDegrees - expected))));
    }

    private static bool Tells(AngleHistory angles, List<RowPiece> pieces)
    {
        int rows = 0, known = 0;
        foreach (var piece in pieces)
        {
            rows += piece.Length;
            for (var row = piece.From; row <= piece.To; row++)
            {
                if (angles.Rows[row] >= 0) known++;
            }
        }

        return 5 * known > rows;
    }

    private bool FitsVoltages(Arrangement arrangement, RowKey key)
    {
        if (!_frame.HasVolts) return arrangement.Leads.AsSpan().SequenceEqual(_anchor.Leads);
        var state = _chained.Voltages.States[key.Voltage];
        if (state.Kind is not (VoltageStateKind.Sound or VoltageStateKind.Leads)) return arrangement.Leads.AsSpan().SequenceEqual(_anchor.Leads);
        if (_frame.Lines > 1 && !_frame.Service.IsThreeWire && arrangement.Leads[3] < 0 != state.Leads[3] < 0) return false;
        var pattern = VoltageStates.Pattern(_frame, arrangement.Leads);
        for (var index = 0; index < _frame.Lines; index++)
        {
            var (expected, found) = (pattern[index], state.Pattern[index]);
            if (double.IsNaN(expected) != double.IsNaN(found)) return false;
            if (!double.IsNaN(expected) && Math.Abs(expected - found) > 0.03) return false;
        }

        return true;
    }

    private double Score(Arrangement arrangement, RowKey key, double?[] observed, double[,] voltsAlike, double[,] ampsAlike)
    {
        var score = arrangement.LogPrior;
        for (var channel = 0; channel < _frame.Lines; channel++)
        {
            var isOff = arrangement.Clamps[channel] < 0;
            if (_chained.Currents[channel] is { } currents && isOff != (currents.Scales[key.Scale(channel)] == 0)) score += Broken;
            if (observed[channel] is not { } turn || isOff) continue;
            if (arrangement.Turn(_frame, _anchor, channel) is { } expected)
            {
                var off = Off(_chained.Angles[channel]!, turn, expected);
                if (off > 12) score += off < 32 && !_chained.Angles[channel]!.HasVars ? -2 : Broken;
            }
            else if (arrangement.Clamps[channel] == 3)
            {
                score -= _frame.Options.Check.MayExport ? 9 : 3.5;
            }
        }

        for (var one = 0; one < _frame.Lines; one++)
        {
            for (var other = one + 1; other < _frame.Lines; other++)
            {
                if (arrangement.Leads[one] >= 0 && arrangement.Leads[one] == arrangement.Leads[other]) score += voltsAlike[one, other];
                if (arrangement.Clamps[one] >= 0 && arrangement.Clamps[one] == arrangement.Clamps[other]) score += ampsAlike[one, other];
            }

            if (arrangement.Clamps[one] == 3 && _frame.Amperes[3] is not null) score += ampsAlike[one, 3];
        }

        return score;
    }

    /// <summary>Where all three voltages go together it is the supply's doing, and no pair's.</summary>
    private static void ByPair(double[,] odds)
    {
        double first = odds[0, 1], second = odds[0, 2], third = odds[1, 2];
        odds[0, 1] = first - Math.Clamp(Math.Max(second, third), 0, Math.Max(0, first));
        odds[0, 2] = second - Math.Clamp(Math.Max(first, third), 0, Math.Max(0, second));
        odds[1, 2] = third - Math.Clamp(Math.Max(first, second), 0, Math.Max(0, third));
    }

    private double[,] Alike(double[]?[] columns, List<RowPiece> pieces, double spread, bool isVolts)
    {
        var odds = new double[4, 4];
        for (var one = 0; one < columns.Length; one++)
        {
            for (var other = one + 1; other < columns.Length; other++)
            {
                odds[one, other] = AlikeTest.Odds(columns[one], columns[other], pieces, spread, activity: isVolts ? AlikeTest.Activity(_frame.Amperes[one], _frame.Amperes[other], pieces) : 1);
                if (odds[one, other] > 0) odds[one, other] += isVolts ? AlikeTest.LevelOdds(columns[one], columns[other], pieces) : AlikeTest.CurrentLevelOdds(columns[one], columns[other], pieces);
                if (!isVolts && AlikeTest.StandApart(columns[one], columns[other], pieces)) odds[one, other] = Broken;
            }
        }

        if (isVolts && _frame.Lines == 3) ByPair(odds);
        return odds;
    }
}
