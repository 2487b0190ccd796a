using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Integrity.Totals;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Puts into the judged pieces what stretches of like readings, and the total, show beside the angles.</summary>
/// <param name="chained">What the chains found.</param>
/// <param name="judged">The pieces, changed in place.</param>
/// <param name="anchor">The hook-up of the longest piece.</param>
internal sealed class StretchPlacer(Chained chained, List<JudgedPiece> judged, Hookup anchor)
{
    private const double SecondsOfSame = 5400;
    private const double SecondsOfHands = 1200;
    private const double LeastAgainst = 1;
    private const double AsUsual = 0.85;
    private readonly GuardFrame _frame = chained.Frame;

    /// <summary>Puts in what two readings that were one show, where the angles were silent.</summary>
    public void PutAlike()
    {
        foreach (var stretch in AlikeFinder.Find(_frame, chained.Voltages))
        {
            if (!anchor.IsRight || judged.Exists(piece => piece.From <= stretch.To && piece.To >= stretch.From && IsNamed(piece, stretch, anchor))) continue;
            if (!stretch.IsLead && IsRuledOutByTotal(stretch)) continue;
            var hookup = anchor;
            if (stretch.IsLead) hookup = hookup with { Leads = hookup.Leads.SetItem((Lead)stretch.Moved, (Conductor)stretch.On) };
            else hookup = hookup with { Clamps = hookup.Clamps.SetItem((Clamp)stretch.Moved, ClampPlace.Right((Conductor)stretch.On)) };
            Put(stretch.From, stretch.To, hookup, 1 / (1 + Math.Exp(-stretch.Odds / 8)), stretch.Odds);
        }
    }

    /// <summary>True where the total is more than two clamps on one conductor could show: a load between the lines draws alike on both.</summary>
    private bool IsRuledOutByTotal(AlikeStretch stretch)
    {
        if (TotalByLine.Of(_frame, chained.Voltages) is not { } total) return false;
        var ways = TotalHookup.Of(_frame, total.Clamps).Where(hookup => hookup.OnOne == (stretch.Moved, stretch.On) || hookup.OnOne == (stretch.On, stretch.Moved)).Select(total.Turns).ToList();
        // A clamp on another line turns what it adds by 120 degrees (60 with two elements): the total would show plainly less of the volt-amperes than at other times. Where power may flow back it shows anything.
        double inside = Robust.Median([.. Shown(stretch.From, stretch.To)]), outside = Robust.Median([.. Shown(0, stretch.From - 2), .. Shown(stretch.To + 2, _frame.Count - 1)]);
        if (!_frame.Options.Check.MayExport && inside > AsUsual * outside) return true;
        int against = 0, rows = 0;
        for (var row = stretch.From; row <= stretch.To; row++)
        {
            if (total.Shares[row] is not { } shares) continue;
            rows++;
            if (ways.TrueForAll(turns => TotalBound.Against(total.Values[row].Real, TotalBound.Most(shares, turns, 0)) > LeastAgainst)) against++;
        }

        return 2 * against > rows;

        IEnumerable<double> Shown(int from, int to) => Enumerable.Range(from, Math.Max(0, to - from + 1)).Where(row => total.Shares[row] is not null).Select(row => total.Values[row].Real);
    }

    /// <summary>Puts in what two readings that are the same to their last digit show, where nothing else was found.</summary>
    public void PutSame()
    {
        foreach (var told in SameReadings.OfLines(_frame, chained.Voltages).Concat(SameReadings.OfNeutral(_frame, chained.Voltages)))
        {
            var stretch = TurnedLeg(told) is { } turned ? told with { Moved = turned, On = 1 - turned } : told;
            var on = (Conductor)stretch.On;
            if ((stretch.To - stretch.From + 1) * _frame.Log.IntervalSeconds < SecondsOfSame || (!(on == Conductor.N && IsMost(stretch)) && StandsAsUsual(stretch.Moved, stretch.From, stretch.To))) continue;
            if (!stretch.IsLead && on != Conductor.N && IsRuledOutByTotal(stretch)) continue;
            PutWhereSound(stretch.From, stretch.To, stretch.Odds, stretch.IsLead
                ? anchor with { Leads = anchor.Leads.SetItem((Lead)stretch.Moved, on) }
                : anchor with { Clamps = anchor.Clamps.SetItem((Clamp)stretch.Moved, ClampPlace.Right(on)) });
        }

        // What is so for most of the recording is what the rest would be held against.
        bool IsMost(AlikeStretch stretch) => 2 * (stretch.To - stretch.From) > _frame.Count;

        // A lead or clamp on another line would have turned its power.
        bool StandsAsUsual(int channel, int from, int to)
        {
            if (_frame.Options.Check.MayExport || chained.Angles[channel] is not { } angles) return false;
            var usual = 0;
            for (var row = from; row <= to; row++) usual += angles.Rows[row] == 0 && Math.Abs(Angle.WrapDegrees(angles.Degrees[row] - angles.UsualDegrees)) < 60 ? 1 : 0;
            return 2 * usual > to - from + 1;
        }

        foreach (var (from, to, odds) in SameReadings.OfLegs(_frame, chained.Voltages)) PutWhereSound(from, to, odds, anchor with { Leads = anchor.Leads.SetItem(Lead.VN, null) });
    }

    /// <summary>Puts in where a clamp was on the neutral, by how the voltages answer to its current: its power stands anywhere, and is told as this and that while it wanders.</summary>
    public void PutMoved()
    {
        foreach (var stretch in chained.Moved.Stretches)
        {
            if (Array.IndexOf(stretch.Arrangement.Clamps, 3, 0, 3) is var clamp && clamp < 0) continue;
            // Two clamps that read the same leave a line without an answer as well.
            var alike = judged.Where(piece => piece.Confidence >= GuardSpan.SureFrom && piece.Hookup.Clamps[(Clamp)clamp].On is { } on && on != Conductor.N && (int)on != clamp).Sum(piece => Math.Max(0, Math.Min(piece.To, stretch.To) - Math.Max(piece.From, stretch.From) + 1));
            if (5 * alike > stretch.To - stretch.From) continue;
            PutWhereSound(stretch.From, stretch.To, stretch.Odds, anchor with { Clamps = anchor.Clamps.SetItem((Clamp)clamp, new ClampPlace(Conductor.N, stretch.Arrangement.Reversed[clamp], 1)) });
        }
    }

    /// <summary>Puts in what the total alone shows, beside a right hook-up.</summary>
    public void PutTotals(CancellationToken cancellation)
    {
        var stretches = TotalsFinder.Find(_frame, chained.Voltages, cancellation);
        // No hands exchange and put back within twenty minutes.
        stretches.RemoveAll(stretch => (stretch.To - stretch.From + 1) * _frame.Log.IntervalSeconds < SecondsOfHands && stretch.From > 0 && stretch.To + 1 < _frame.Count);
        // A clamp that reads nothing leaves the total of the others, which may stand where another hook-up has it.
        stretches.RemoveAll(stretch => 2 * judged.Where(IsOff).Sum(piece => Math.Max(0, Math.Min(piece.To, stretch.To) - Math.Max(piece.From, stretch.From) + 1)) > stretch.To - stretch.From);
        // What two readings that are one show stands: half of it explains the total too. Where the total says the same it dates it as well.
        stretches.RemoveAll(stretch => 2 * judged.Where(piece => IsOnOne(piece, anchor) && !IsWithin(piece, stretch)).Sum(piece => Math.Max(0, Math.Min(piece.To, stretch.To) - Math.Max(piece.From, stretch.From) + 1)) > stretch.To - stretch.From);
        foreach (var stretch in stretches)
        {
            var hookup = stretch.Hookup.On(anchor);
            if (OneLeg.IsRead(_frame, [new RowPiece(stretch.From, stretch.To, default)])) hookup = OneLeg.Instead(hookup);
            Put(stretch.From, stretch.To, hookup, stretch.Confidence, stretch.Odds, isByTotal: true);
            var at = judged.FindIndex(piece => piece.From == stretch.From);
            judged[at] = judged[at] with { Factors = stretch.Factors, Alternatives = [.. stretch.Rivals.Select(rival => new HookupChance(rival.Hookup.On(anchor), rival.Probability) { Factors = rival.Factors })] };
        }
    }

    /// <summary>Puts a stretch in where no more than a fifth of it is told as something else.</summary>
    private void PutWhereSound(int from, int to, double odds, Hookup hookup)
    {
        var taken = judged.Where(piece => piece.Hookup != anchor && piece.Confidence >= GuardSpan.SureFrom && !IsOtherNameFor(piece.Hookup, hookup)).Sum(piece => Math.Max(0, Math.Min(piece.To, to) - Math.Max(piece.From, from) + 1));
        if (5 * taken < to - from + 1) Put(from, to, hookup, 1 / (1 + Math.Exp(-odds / 8)), odds);
    }

    private void Put(int from, int to, Hookup hookup, double confidence, double odds, bool isByTotal = false)
    {
        var at = judged.FindIndex(piece => piece.To >= from);
        var put = judged[at] with { From = from, To = to, Hookup = hookup, Confidence = confidence, Odds = odds, Alternatives = [], IsByTotal = isByTotal };
        var (left, right) = (judged.Where(piece => piece.From < from).ToList(), judged.Where(piece => piece.To > to).ToList());
        if (left.Count > 0) left[^1] = left[^1] with { To = from - 1 };
        if (right.Count > 0) right[0] = right[0] with { From = to + 1 };
        judged.Clear();
        judged.AddRange([.. left, put, .. right]);
    }

    /// <summary>True when a piece already has the two on one conductor, by more than a guess.</summary>
    private static bool IsNamed(JudgedPiece piece, AlikeStretch stretch, Hookup anchor)
    {
        var places = Arrangement.Of(piece.Hookup);
        var on = stretch.IsLead ? places.Leads : places.Clamps;
        // Two clamps on one line leave a line without an answer, which is what the neutral lead in the air does as well.
        return piece.Confidence >= GuardSpan.SureFrom && places.Leads[3] == Arrangement.Of(anchor).Leads[3] && on[stretch.Moved] == on[stretch.On] && 2 * (piece.To - piece.From) > stretch.To - stretch.From;
    }

    /// <summary>The clamp that stands turned for most of a stretch in which both clamps of a split service read the same: on the other leg it shows its power turned.</summary>
    private int? TurnedLeg(AlikeStretch stretch)
    {
        if (_frame.Service.Kind != ServiceKind.Split || stretch.IsLead || stretch.On > 1) return null;
        int[] rows = [.. new[] { Clamp.I1, Clamp.I2 }.Select(clamp => judged.Where(piece => piece.Hookup == WithTurned(clamp)).Sum(piece => Math.Max(0, Math.Min(piece.To, stretch.To) - Math.Max(piece.From, stretch.From) + 1)))];
        var most = rows[0] > rows[1] ? 0 : 1;
        return 2 * rows[most] > stretch.To - stretch.From ? most : null;
    }

    /// <summary>True where two hook-ups show the same powers: on a split service a clamp turned, and the same clamp on the other leg while the legs carry alike; and a clamp on the neutral, whose power stands anywhere, whatever else
    /// was said of that clamp.</summary>
    private bool IsOtherNameFor(Hookup found, Hookup told)
    {
        var moved = told.Clamps.Where(pair => pair.Value != anchor.Clamps[pair.Key]).Select(pair => pair.Key).ToList();
        if (moved is not [var clamp]) return false;
        if (told.Clamps[clamp].On == Conductor.N) return found == anchor with { Clamps = anchor.Clamps.SetItem(clamp, found.Clamps[clamp]) };
        return _frame.Service.Kind == ServiceKind.Split && found == WithTurned(clamp);
    }

    private Hookup WithTurned(Clamp clamp) => anchor with { Clamps = anchor.Clamps.SetItem(clamp, anchor.Clamps[clamp] with { Reversed = !anchor.Clamps[clamp].Reversed }) };

    private static bool IsOff(JudgedPiece piece) => piece.Hookup.Clamps.Any(pair => pair.Key != Clamp.IN && pair.Value.On is null);

    /// <summary>True where the total has the same two clamps on one conductor for as long or longer.</summary>
    private static bool IsWithin(JudgedPiece piece, TotalStretch stretch) =>
        stretch.From <= piece.From && stretch.To >= piece.To && stretch.Hookup.OnOne is var (one, other) && one != other && Arrangement.Of(piece.Hookup).Clamps is var on && on[one] >= 0 && on[one] == on[other];

    /// <summary>True where leads or clamps were surely found on one conductor.</summary>
    private static bool IsOnOne(JudgedPiece piece, Hookup anchor)
    {
        if (piece.Confidence < GuardSpan.SureFrom || piece.Hookup == anchor) return false;
        var leads = piece.Hookup.Leads.Values.Where(on => on is not null).ToList();
        var clamps = piece.Hookup.Clamps.Values.Select(place => place.On).Where(on => on is not null).ToList();
        return leads.Distinct().Count() < leads.Count || clamps.Distinct().Count() < clamps.Count;
    }
}
