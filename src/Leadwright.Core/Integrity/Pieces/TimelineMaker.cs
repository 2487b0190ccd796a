using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>A stretch of rows with its hook-up.</summary>
internal sealed record JudgedPiece(int From, int To, RowKey Key, Hookup Hookup, double Confidence, double Odds, ImmutableArray<HookupChance> Alternatives)
{
    /// <summary>True where the total power alone shows it.</summary>
    public bool IsByTotal { get; init; }

    /// <summary>What the lines' loads usually draw, where the total told it.</summary>
    public LineFactors? Factors { get; init; }
}

/// <summary>A hook-up of the longest piece, how likely, what it makes of all others, and how well in that order of the lines.</summary>
internal sealed record Told(HookupChance Chance, double Score, Dictionary<RowKey, Explanation> Meant, Rotation Rotation, double ByWay);

/// <summary>Judges the pieces of a recording and makes the hook-up's timeline and the spans of its faults.</summary>
internal sealed class TimelineMaker
{
    /// <summary>Neutral leads in the air by volts and amperes alone: 43 to 195 nats (outside weeks).</summary>
    private const double ClearlyOwn = 10;
    private const int AnchorRows = 5;
    private const double SecondsOfDark = 4 * 3600;
    private const double LeastOfAWay = -40;
    private const double OfIdle = 0.25;
    private readonly Chained _chained;
    private readonly GuardFrame _frame;
    private readonly CancellationToken _cancellation;
    private readonly HashSet<Clamp> _clamps;
    private readonly double[] _sizes;
    private Rotation _rotation;

    public TimelineMaker(Chained chained, CancellationToken cancellation)
    {
        (_chained, _frame, _cancellation) = (chained, chained.Frame, cancellation);
        _sizes = Sizes(_frame);
        _clamps = [.. Enumerable.Range(0, 4).Where(index => _frame.Amperes[index] is not null || (index < 3 && _frame.Watts[index] is not null)).Select(index => (Clamp)index)];
    }

    /// <summary>The currents of all clamps in each row, over those of the busiest hours; empty where none were written.</summary>
    private static double[] Sizes(GuardFrame frame)
    {
        double[][] columns = [.. frame.Amperes.Take(frame.Lines).OfType<double[]>()];
        if (columns.Length == 0) return [];
        double[] sums = [.. Enumerable.Range(0, frame.Count).Select(row => columns.Sum(column => double.IsFinite(column[row]) ? column[row] : 0))];
        var busy = Robust.Quantile(sums, 0.95);
        return busy > 0 ? Array.ConvertAll(sums, sum => sum / busy) : [];
    }

    /// <summary>True when the hook-up of the longest piece could not be settled.</summary>
    public bool IsUndecided { get; private set; }

    /// <summary>Judges every piece.</summary>
    public List<JudgedPiece> Judge(List<RowPiece> pieces)
    {
        var groups = pieces.GroupBy(piece => piece.Key).ToDictionary(group => group.Key, group => group.ToList());
        var anchorKey = groups.MaxBy(group => Weight(group.Key, group.Value)).Key;
        var (anchor, meant) = Anchor(anchorKey, groups);
        var scales = AnchorScales.Find(_chained, anchorKey, anchor.Hookup, groups);
        var judged = new List<JudgedPiece>();
        foreach (var piece in pieces)
        {
            var explanation = meant[piece.Key];
            var state = _chained.Voltages.States[piece.Key.Voltage];
            var isSupply = state.Kind is not (VoltageStateKind.Sound or VoltageStateKind.Leads);
            // While the supply is gone nothing tells of leads and clamps: they are where they were.
            if (isSupply && judged.Count > 0)
            {
                judged.Add(judged[^1] with { From = piece.From, To = piece.To, Key = piece.Key });
                continue;
            }

            var hookup = ToHookup(explanation.Arrangement, piece.Key, anchorKey, scales);
            // A ratio is the same whichever lead or clamp may be elsewhere besides.
            var isOfRatio = explanation.Arrangement.IsRight && hookup.Clamps.Any(pair => pair.Value is { On: not null, Scale: not 1 });
            var confidence = (isOfRatio ? 1 : anchor.Probability) * (1 / (1 + Math.Exp(-Math.Clamp(explanation.Odds, -6, 6))));
            // Watts alone, where power may flow back, tell a turned clamp from sunshine by chance only.
            var isGuess = _frame.Options.Check.MayExport && !HasNight(piece) && !IsShown(explanation.Arrangement, Arrangement.Of(anchor.Hookup), state) && explanation.Answered < 6
                && Enumerable.Range(0, 3).Any(channel => _chained.Angles[channel] is { HasVars: false } && piece.Key.Turn(channel) is > 0 and < 15);
            if (isGuess || IsTwiceMoved(explanation.Arrangement, Arrangement.Of(anchor.Hookup))) confidence = Math.Min(confidence, 0.6);
            if (!_frame.HasWatts && IsByAnswers(piece, anchorKey, state)) confidence = Math.Min(confidence, 0.6);
            var rivals = explanation.Rival is { } rival && explanation.Odds < 4
                ? [new HookupChance(ToHookup(rival, piece.Key, anchorKey, scales), anchor.Probability - confidence)]
                : ImmutableArray<HookupChance>.Empty;
            if (explanation.Twin is { } twin) rivals = rivals.Add(new HookupChance(ToHookup(twin, piece.Key, anchorKey, scales), 0.5 * confidence));
            judged.Add(new JudgedPiece(piece.From, piece.To, piece.Key, hookup, confidence, explanation.Odds, rivals));
        }

        if (_frame.Options.ProvedHookup is null) OppositeLegs.Name(_frame, judged);
        JoinTenths(judged, scales);
        JoinedPieces.Join(_chained, judged, anchor.Hookup);
        IdleUnderMoved.Carry(_chained, judged, anchor.Hookup);
        // With vars the angles date every edge, but by day on a site with generation.
        if (_frame.Options.Check.MayExport || Array.TrueForAll(_frame.Vars, column => column is null)) AlikeEdges.Refine(_frame, judged);
        var placer = new StretchPlacer(_chained, judged, anchor.Hookup);
        if (_frame.Options.Check.MayExport || Array.TrueForAll(_frame.Watts, column => column is null)) placer.PutAlike();
        if (anchor.Hookup.IsRight)
        {
            placer.PutSame();
            placer.PutMoved();
            placer.PutTotals(_cancellation);
            if (_frame.Rotation == Rotation.Acb) _rotation = Rotation.Acb;
        }

        AlikeEnds.Extend(_frame, judged);
        DoubtfulPieces.Lower(_chained, judged, anchor.Hookup);
        if (_frame.Options.Check.ToldRotation == Rotation.Unknown && _frame.Service.Kind != ServiceKind.HighLeg && _frame.Options.ProvedHookup is null && Relabelled.Name(judged, _frame.Lines))
            _rotation = _rotation switch { Rotation.Abc => Rotation.Acb, Rotation.Acb => Rotation.Abc, _ => _rotation };
        return judged;
    }

    /// <summary>True where a piece goes on through the dark: no sunshine turned a power that long.</summary>
    private bool HasNight(RowPiece piece)
    {
        var dark = 0;
        for (var row = piece.From; row <= piece.To; row++) dark += _frame.From(row).Hour is < 5 or >= 21 ? 1 : 0;
        return dark * _frame.Log.IntervalSeconds >= SecondsOfDark;
    }

    /// <summary>True for what the voltages' answers alone say, ratios of two or five and the neutral lead: without powers clamps on other lines make the same, unless each phase answers to its own.</summary>
    private bool IsByAnswers(RowPiece piece, RowKey anchorKey, VoltageState state) =>
        (_frame.Service.Kind is Circuits.ServiceKind.Wye or Circuits.ServiceKind.Split && state.Kind == VoltageStateKind.Leads && state.Line == 3 && !(AnsweredClamps.OwnOverOthers(_frame, piece.From, piece.To) > ClearlyOwn))
        || Enumerable.Range(0, 3).Any(clamp => piece.Key.Scale(clamp) != anchorKey.Scale(clamp) && _chained.Currents[clamp] is { } currents
            && currents.Scales[piece.Key.Scale(clamp)] is 2 or 0.5 or 5 or 0.2);

    /// <summary>A clamp that reads a tenth all the time shows next to nothing by night: it is where it was.</summary>
    private static void JoinTenths(List<JudgedPiece> judged, double[] scales)
    {
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (!(scales[clamp] < 0.3)) continue;
            for (var index = 0; index < judged.Count; index++)
            {
                var beside = index > 0 ? judged[index - 1] : judged.Find(piece => IsAtTenth(piece, clamp));
                if (beside is null || !IsAtTenth(beside, clamp) || !judged[index].Hookup.Clamps.TryGetValue((Clamp)clamp, out var place) || place.On is not null) continue;
                judged[index] = judged[index] with { Hookup = judged[index].Hookup with { Clamps = judged[index].Hookup.Clamps.SetItem((Clamp)clamp, beside.Hookup.Clamps[(Clamp)clamp]) } };
            }
        }
    }

    private static bool IsAtTenth(JudgedPiece piece, int clamp) =>
        piece.Hookup.Clamps.TryGetValue((Clamp)clamp, out var place) && place is { On: not null, Scale: < 0.3 };

    /// <summary>True when nothing moved but what the sizes of the voltages show by themselves.</summary>
    private static bool IsShown(Arrangement one, Arrangement anchor, VoltageState state) =>
        one.Clamps.AsSpan().SequenceEqual(anchor.Clamps) && one.Reversed.AsSpan().SequenceEqual(anchor.Reversed)
        && (one.Leads.AsSpan().SequenceEqual(anchor.Leads) || (state.Kind == VoltageStateKind.Leads && one.Leads.AsSpan().SequenceEqual(state.Leads)));

    /// <summary>Leads and clamps moved at once, told by the sizes of angles alone: a load of another power factor shows the same.</summary>
    private bool IsTwiceMoved(Arrangement moved, Arrangement anchor) =>
        !moved.Leads.AsSpan().SequenceEqual(anchor.Leads) && !moved.Clamps.AsSpan().SequenceEqual(anchor.Clamps)
        && Array.TrueForAll(_chained.Angles, angles => angles is not { HasVars: true });

    /// <summary>The pieces as a timeline, those with one hook-up joined.</summary>
    public HookupTimeline Timeline(List<JudgedPiece> judged)
    {
        var pieces = ImmutableArray.CreateBuilder<HookupPiece>();
        for (var index = 0; index < judged.Count;)
        {
            var last = index;
            while (last + 1 < judged.Count && judged[last + 1].Hookup.Equals(judged[index].Hookup)) last++;
            var from = _frame.From(judged[index].From);
            var to = last + 1 < judged.Count ? _frame.From(judged[last + 1].From) : _frame.To(judged[last].To);
            pieces.Add(new HookupPiece(from, to, judged[index].Hookup, _rotation, judged[index].Confidence) { Alternatives = judged[index].Alternatives, Factors = judged[index].Factors });
            index = last + 1;
        }

        return new HookupTimeline(pieces.ToImmutable());
    }

    private double Weight(RowKey key, List<RowPiece> pieces)
    {
        var state = _chained.Voltages.States[key.Voltage];
        // What idles is mostly harmonics, and stands anywhere: an hour of work says four times as much.
        double weight = pieces.Sum(piece => Enumerable.Range(piece.From, piece.Length).Sum(row => _sizes.Length == 0 ? 1 : Math.Clamp(_sizes[row], OfIdle, 1)));
        if (state.Kind == VoltageStateKind.Leads) weight /= 20;
        if (state.Kind is not (VoltageStateKind.Sound or VoltageStateKind.Leads)) weight /= 1000;
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (_chained.Currents[clamp] is { } currents && currents.Scales[key.Scale(clamp)] == 0) weight /= 20;
        }

        return weight;
    }

    /// <summary>The hook-up of the longest piece: what the check says of it, together with how well each answer explains the other pieces.</summary>
    private (HookupChance Anchor, Dictionary<RowKey, Explanation> Meant) Anchor(RowKey key, Dictionary<RowKey, List<RowPiece>> groups)
    {
        var chances = Chances(key, groups[key]);
        var silent = Silent();
        if (_frame.Options.ProvedHookup is null) AddSilent(chances, silent);
        var rows = groups[key].Sum(piece => piece.Length);
        var told = new List<Told>();
        var answers = new AnswerTest(_frame, _chained.Voltages, _chained.Moved);
        var checkedAs = _rotation;
        var isTurned = HasPartTurns(key, groups.Keys);
        var rotations = Rotations(isTurned, answers);
        var ways = rotations.Select(rotation =>
        {
            _frame.Take(rotation);
            var own = checkedAs == Rotation.Unknown || rotation == checkedAs ? chances : chances.ConvertAll(chance => chance with { Hookup = MirroredWay.Of(chance.Hookup) });
            var explainers = own.ConvertAll(chance => new KeyExplainer(_chained, answers, key, Arrangement.Of(chance.Hookup), groups[key]));
            return (Rotation: rotation, Chances: own, Explainers: explainers, Gains: explainers.ConvertAll(explainer => explainer.AnchorAnswers()));
        }).ToList();
        var most = ways.SelectMany(way => way.Gains).Where(gain => !double.IsNaN(gain)).DefaultIfEmpty(0).Max();
        foreach (var (rotation, own, explainers, gains) in ways)
        {
            _frame.Take(rotation);
            Tell(own, explainers, gains);
        }

        // Which way the lines follow each other is no question of its own: each hook-up has the way that explains more.
        told = [.. told.GroupBy(entry => entry.Chance.Hookup).Select(OfWays)];
        var best = told.MaxBy(entry => entry.Score)!;
        Settle(best);
        var total = told.Sum(entry => Math.Exp(entry.Score - best.Score));
        var probability = 1 / total;
        if (best.Chance.Hookup.IsRight || probability >= 0.6) return (best.Chance with { Probability = Math.Max(probability, best.Chance.Hookup.IsRight ? 0.5 : 0) }, best.Meant);
        IsUndecided = true;
        var right = told.Find(entry => entry.Chance.Hookup.IsRight);
        if (right is null) return (best.Chance with { Probability = probability }, best.Meant);
        Settle(right);
        return (right.Chance with { Probability = Math.Exp(right.Score - best.Score) / total }, right.Meant);

        void Tell(List<HookupChance> chances, List<KeyExplainer> explainers, List<double> gains)
        {
            for (var number = 0; number < chances.Count; number++)
            {
                var (chance, explainer, answered) = (chances[number], explainers[number], gains[number]);
                // Each chance has its own impedances.
                explainer.Learn();
                var meant = groups.ToDictionary(group => group.Key, group => explainer.Explain(group.Key, group.Value));
                var score = Math.Log(Math.Max(chance.Probability, 1e-6));
                foreach (var (clamp, odds) in silent)
                    score += (chance.Hookup.Clamps.TryGetValue(clamp, out var place) && place.On is null ? 0.5 : -0.5) * odds;

                // Pieces of some length have a say: a few rows have not.
                if (chances.Count > 1)
                {
                    score += explainer.AnchorAlike() + (double.IsNaN(answered) ? 0 : AnswerTest.Less(answered, most));
                    foreach (var (other, pieces) in groups)
                    {
                        if (other != key && pieces.Sum(piece => piece.Length) > Math.Max(4, rows / 50)) score += Math.Max(-14, meant[other].Score);
                    }
                }

                var byWay = groups.Where(group => group.Key != key && group.Value.Sum(piece => piece.Length) > 1).Sum(group => Math.Max(LeastOfAWay, meant[group.Key].Score)) + (_frame.Rotation == Rotation.Acb ? GuardFrame.LogAcb : 0)
                    + ByAnswers(chance.Hookup);
                told.Add(new Told(chance, score, meant, _frame.Rotation, byWay));
            }
        }

        // The answers tell the order of the lines of a right hook-up; what is wrong from first to last was told with an order of its own.
        double ByAnswers(Hookup hookup)
        {
            if (!answers.TellsRotation) return 0;
            if (!hookup.IsRight) return isTurned || checkedAs == Rotation.Unknown || _frame.Rotation == checkedAs || MirroredWay.IsOne(hookup) ? 0 : LeastOfAWay;
            if (ways.Count < 2 || _frame.Rotation != Rotation.Acb) return 0;
            // Rows that are right and all rows must tell the same order.
            var number = chances.FindIndex(chance => chance.Hookup.IsRight);
            var ofRight = ways.Find(way => way.Rotation == Rotation.Acb).Gains[number] - ways.Find(way => way.Rotation == Rotation.Abc).Gains[number];
            return ofRight * _chained.Moved.OddsOfAcb > 0 ? Math.Clamp(_chained.Moved.OddsOfAcb, -AnswerTest.Most, AnswerTest.Most) : 0;
        }

        // What is another movement the other way about is no surer than the way is.
        Told OfWays(IEnumerable<Told> ways)
        {
            Told[] ordered = [.. ways.OrderByDescending(entry => entry.ByWay)];
            if (ordered.Length < 2) return ordered[0];
            var (first, second) = (ordered[0], ordered[1]);
            var gap = first.ByWay - second.ByWay;
            return first with
            {
                Meant = first.Meant.ToDictionary(entry => entry.Key, entry => second.Meant[entry.Key].Arrangement is var other && entry.Value.Odds > gap && !other.IsLike(entry.Value.Arrangement)
                    ? entry.Value with { Odds = gap, Rival = other } : entry.Value),
            };
        }

        void Settle(Told entry)
        {
            _frame.Take(entry.Rotation);
            if (rotations.Length > 1) _rotation = entry.Rotation;
        }
    }

    /// <summary>The orders of the lines that are to be weighed: both where a power stood turned by less than half a cycle, for a turn one way is that of another movement the other way, or where the voltages' answers tell.</summary>
    private Rotation[] Rotations(bool isTurned, AnswerTest answers)
    {
        if (_frame.Options.Check.ToldRotation != Rotation.Unknown) return [_frame.Options.Check.ToldRotation];
        return _frame.Lines == 3 && (answers.TellsRotation || isTurned) ? [Rotation.Abc, Rotation.Acb] : [Rotation.Abc];
    }

    private bool HasPartTurns(RowKey anchor, IEnumerable<RowKey> keys)
    {
        return keys.Any(key => Enumerable.Range(0, 3).Any(channel => IsPartTurn(channel, key) && key.Turn(channel) != anchor.Turn(channel)));

        bool IsPartTurn(int channel, RowKey key) => _chained.Angles[channel] is { } angles && key.Turn(channel) is > 0 and < 15 && angles.Turns[key.Turn(channel)] != 180;
    }

    /// <summary>Clamps that show nothing in all of the recording, with the log-odds, zero or more, that they are on nothing: the voltage of an idle line keeps as still,
    /// beside what the other currents explain, as those of the other lines; that of a line whose clamp is off moves as theirs do before they are explained.</summary>
    private List<(Clamp Clamp, double Odds)> Silent()
    {
        var silent = new List<(Clamp, double)>();
        for (var clamp = 0; clamp < _frame.Lines; clamp++)
        {
            if (_frame.Amperes[clamp] is not { } amperes || !(Robust.Quantile(amperes, 0.99) < _chained.Voltages.Floors[clamp])) continue;
            if (_frame.Lines == 2 && _frame.Service.Kind == Circuits.ServiceKind.Split) silent.Add(((Clamp)clamp, SplitOdds(clamp)));
            if (_frame.Lines < 3) continue;
            var others = Enumerable.Range(0, _frame.Lines).Where(other => other != clamp).Select(other => _chained.Currents[other]?.Answer)
                .Where(answer => answer is { IsKnown: true } && answer.Tail.All > 1.4 * answer.Tail.Left).ToArray();
            if (others.Length == 0 || _chained.Currents[clamp]?.Answer.Tail is not { Left: > 0 } own) continue;
            double all = others.Average(answer => Math.Log(answer!.Tail.All)), rest = others.Average(answer => Math.Log(answer!.Tail.Left));
            silent.Add(((Clamp)clamp, Math.Clamp(16 * ((Math.Log(own.Left) - rest) / (all - rest) - 0.5), 0, 8)));
        }

        return silent;
    }

    /// <summary>Both legs come from one winding: what moves one against the other is a load, and what the other leg's current does not explain is a load of this one.</summary>
    private double SplitOdds(int clamp)
    {
        if (_chained.Currents[clamp]?.Answer is not { Tail.Left: > 0 } answer || _frame.Volts[clamp] is not { } volts) return 0;
        var step = double.PositiveInfinity;
        for (var row = 1; row < volts.Length; row++)
        {
            var change = Math.Abs(volts[row] - volts[row - 1]);
            if (change > 1e-7) step = Math.Min(step, change);
        }

        // Of two voltages written to a step one change in fifty goes beyond 1.3 steps by rounding alone.
        return double.IsInfinity(step) ? 0 : Math.Clamp(4 * Math.Log(answer.Tail.Left / Math.Max(3 * step, 8e-4)), 0, 8);
    }

    private static void AddSilent(List<HookupChance> chances, List<(Clamp Clamp, double Odds)> silent)
    {
        foreach (var (clamp, odds) in silent)
        {
            if (odds <= 0 || chances.Exists(chance => chance.Hookup.Clamps.TryGetValue(clamp, out var place) && place.On is null)) continue;
            var best = chances.MaxBy(chance => chance.Probability)!;
            chances.Add(new HookupChance(best.Hookup with { Clamps = best.Hookup.Clamps.SetItem(clamp, new ClampPlace(null, false, 1)) }, 0.3 * best.Probability));
        }
    }

    private List<HookupChance> Chances(RowKey key, List<RowPiece> pieces)
    {
        var expected = Hookup.Expected(_frame.Service.Leads, _clamps);
        if (_frame.Options.ProvedHookup is { } proved) return [new HookupChance(proved, 0.99)];
        if (!_frame.HasVolts || pieces.Sum(piece => piece.Length) < 3) return [new HookupChance(expected, 0.75)];
        var verdict = AnchorJudge.Judge(_frame, pieces, AnchorRows, _cancellation);
        _rotation = verdict.Rotation;
        var state = _chained.Voltages.States[key.Voltage];
        var chances = SameClamps.WithoutParted(_frame, pieces, verdict.Chances).Where(chance => chance.Probability > 0.03).Take(3).ToList();
        if (state.Kind == VoltageStateKind.Leads)
        {
            // The voltages' proportions over all rows say more of the leads than a few rows do.
            return [.. chances.Select(chance =>
            {
                var leads = chance.Hookup.Leads;
                foreach (var lead in leads.Keys) leads = leads.SetItem(lead, state.Leads[(int)lead] < 0 ? null : (Conductor)state.Leads[(int)lead]);
                return chance with { Hookup = chance.Hookup with { Leads = leads } };
            }).GroupBy(chance => chance.Hookup).Select(group => new HookupChance(group.Key, group.Sum(chance => chance.Probability)))];
        }

        if (!chances.Exists(chance => chance.Hookup.IsRight)) chances.Add(new HookupChance(expected, 0.005));
        if (pieces.Sum(piece => piece.Length) >= _frame.Count / 2 && OneLeg.IsRead(_frame, pieces)) chances = chances.ConvertAll(chance => chance with { Hookup = OneLeg.Instead(chance.Hookup) });
        AlikeLeads.Add(_chained, pieces, chances);
        chances = OppositeLegs.Weigh(_frame, _chained.Voltages, key, pieces, chances);
        return SameClamps.Weigh(_chained, pieces, chances);
    }

    private Hookup ToHookup(Arrangement arrangement, RowKey key, RowKey anchorKey, double[] anchorScales)
    {
        var leads = _frame.Service.Leads.ToImmutableSortedDictionary(
            lead => lead, lead => arrangement.Leads[(int)lead] < 0 ? null : (Conductor?)arrangement.Leads[(int)lead]);
        var clamps = _clamps.ToImmutableSortedDictionary(clamp => clamp, clamp =>
        {
            var number = (int)clamp;
            if (number < 3 && arrangement.Clamps[number] < 0) return new ClampPlace(null, false, 1);
            var currents = _chained.Currents[number];
            var scale = currents?.Scales[key.Scale(number)] ?? 1;
            var anchorScale = currents?.Scales[anchorKey.Scale(number)] ?? 1;
            if (number == 3) return scale == 0 ? new ClampPlace(null, false, 1) : new ClampPlace(Conductor.N, false, scale);
            var ratio = scale == 0 || anchorScale == 0 ? 1 : anchorScales[number] * scale / anchorScale;
            return new ClampPlace((Conductor)arrangement.Clamps[number], arrangement.Reversed[number], Math.Abs(ratio - 1) < 1e-6 ? 1 : ratio);
        });
        return new Hookup(leads, clamps);
    }
}
