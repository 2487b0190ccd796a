using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending.Maps;
using Leadwright.Core.Mending.Models;

namespace Leadwright.Core.Mending.Answers;

/// <summary>Says what was done, and what can't be known.</summary>
internal sealed class CorrectionFinder(RawSeries raw, LineSeries lines, GuardReport guard, Circuits.ServiceKind service)
{
    private readonly List<Correction> _corrections = [];
    private readonly List<Unmendable> _unmendable = [];

    public (ImmutableArray<Correction> Corrections, ImmutableArray<Unmendable> Unmendable) Find(ReadOnlySpan<HookupMap> maps, IReadOnlyList<FilledHole> holes)
    {
        if (!raw.IsTotal)
        {
            foreach (var map in maps) OfPiece(map);
        }
        else if (guard.Spans.Any(span => span.Kind <= SpanKind.ServiceMismatch))
        {
            foreach (var map in maps) OfRatios(map);
            _unmendable.Add(new(UnmendableReason.TotalsOnly, [], [], guard.From, guard.To));
        }

        foreach (var hole in holes) OfHole(hole);
        OfKirchhoff();
        foreach (var span in guard.Spans.Where(span => !span.IsDoubtful)) OfSpan(span);
        if (OpenSide.Find(guard, raw) is { } open) _unmendable.Add(new(UnmendableReason.RatioSideOpen, [], [.. raw.IsTotal ? raw.TotalClamps.Select(clamp => (Clamp)clamp) : raw.Elements.Select(clamp => (Clamp)clamp)], open.First.From, open.Last.To));
        if (!raw.HasPower)
        {
            _unmendable.Add(new(UnmendableReason.NoPower, [], [], guard.From, guard.To));
            // No hole is filled that would say it.
            foreach (var span in guard.Spans.Where(span => span is { Kind: SpanKind.NoData, IsDoubtful: false })) _unmendable.Add(new(UnmendableReason.RecorderOff, [], [], span.From, span.To));
        }

        return ([.. Merged().OrderBy(correction => correction.From).ThenBy(correction => correction.Kind)],
            [.. _unmendable.Distinct().OrderBy(entry => entry.From).ThenBy(entry => entry.Reason)]);
    }

    private void OfPiece(HookupMap map)
    {
        var (from, to) = (map.Piece.From, map.Piece.To);
        var first = _corrections.Count;
        if (map.Piece.Confidence < GuardSpan.SureFrom && !map.Piece.Alternatives.IsEmpty) _unmendable.Add(new(UnmendableReason.HookupOpen, [], [], from, to));
        ImmutableArray<Clamp> clamps = [.. Enumerable.Range(0, 4).Where(clamp => map.Piece.Hookup.Clamps.ContainsKey((Clamp)clamp)).Select(clamp => (Clamp)clamp)];
        var turned = clamps.Where(clamp => map.Clamps[(int)clamp] >= 0 && map.Signs[(int)clamp] < 0 && (map.Clamps[(int)clamp] < 3 || clamp == Clamp.IN)).ToImmutableArray();
        // What a line's clamp read on the neutral is put back nowhere: the line's own current is had from all others, where it is at all.
        var moved = clamps.Where(clamp => map.Clamps[(int)clamp] >= 0 && map.Clamps[(int)clamp] != (int)clamp && (map.Clamps[(int)clamp] < 3 || map.Clamps[3] is >= 0 and < 3)).ToImmutableArray();
        var off = clamps.Where(clamp => map.Clamps[(int)clamp] < 0).ToImmutableArray();
        var hasVars = raw.Elements.All(element => raw.Vars[element] is not null);
        // Half a cycle apart needs no vars.
        var isHalfTurn = service == Circuits.ServiceKind.Split;
        var turnBasis = hasVars || isHalfTurn ? CorrectionBasis.Exact : CorrectionBasis.Modelled;
        if (!turned.IsEmpty) Add(CorrectionKind.ClampReversed, [], turned, CorrectionBasis.Exact);
        if (!moved.IsEmpty) Add(moved.Length == 3 ? CorrectionKind.ClampsRotated : CorrectionKind.ClampsExchanged, [], moved, turnBasis);
        foreach (var clamp in clamps.Where(clamp => Math.Abs(map.Signs[(int)clamp]) != 1 && map.Clamps[(int)clamp] >= 0))
            _corrections.Add(new Correction(CorrectionKind.RatioWrong, [], [clamp], from, to, CorrectionBasis.Exact) { Factor = Math.Abs(map.Signs[(int)clamp]) });
        var astray = Enumerable.Range(0, raw.Lines).Where(lead => map.Leads[lead] != lead).Select(lead => (Lead)lead).ToImmutableArray();
        var lost = astray.Where(lead => map.Leads[(int)lead] < 0 || map.Leads[(int)lead] == map.Leads[3] || (map.Leads[(int)lead] == 3 && map.Leads[3] == 3)
            || Enumerable.Range(0, raw.Lines).Any(other => other != (int)lead && map.Leads[other] == map.Leads[(int)lead])).ToImmutableArray();
        var exchanged = astray.Except(lost).ToImmutableArray();
        if (!lost.IsEmpty)
        {
            Add(CorrectionKind.LeadOpen, lost, [], CorrectionBasis.Modelled);
            _unmendable.Add(new(UnmendableReason.VoltageQuality, lost, [], from, to));
        }

        if (!exchanged.IsEmpty) Add(CorrectionKind.LeadsExchanged, exchanged, [], turnBasis);
        if (!raw.IsThreeWire && map.Leads[3] != 3) Add(CorrectionKind.NeutralLead, [Lead.VN], [], map.Leads[3] < 0 ? CorrectionBasis.Modelled : turnBasis);
        if (!off.IsEmpty) _unmendable.Add(new(UnmendableReason.CurrentQuality, [], off, from, to));
        if (!hasVars && !isHalfTurn && raw.HasPower && (!moved.IsEmpty || !exchanged.IsEmpty)) _unmendable.Add(new(UnmendableReason.NoVars, exchanged, moved, from, to));
        TellOfExact(first, map.Piece);

        void Add(CorrectionKind kind, ImmutableArray<Lead> leads, ImmutableArray<Clamp> which, CorrectionBasis basis) =>
            _corrections.Add(new Correction(kind, leads, which, from, to, basis));
    }

    // A total is divided by the mean of its clamps' ratios: exactly where they are one.
    private void OfRatios(HookupMap map)
    {
        var (from, to, first) = (map.Piece.From, map.Piece.To, _corrections.Count);
        int[] wrong = [.. raw.TotalClamps.Where(clamp => map.Clamps[clamp] >= 0 && Math.Abs(map.Signs[clamp]) != 1)];
        var sum = 0.0;
        var isMended = false;
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (raw.Grid.From(slot) < from || raw.Grid.From(slot) >= to || lines.States[0][slot] != PowerState.Mended) continue;
            isMended = true;
            sum += Change(0, slot);
        }

        if (!isMended) return;
        var isOne = wrong.Length == raw.TotalClamps.Length && wrong.All(clamp => map.Signs[clamp] == map.Signs[wrong[0]]);
        foreach (var clamp in wrong)
            _corrections.Add(new Correction(CorrectionKind.RatioWrong, [], [(Clamp)clamp], from, to, isOne ? CorrectionBasis.Exact : CorrectionBasis.Modelled) { Factor = Math.Abs(map.Signs[clamp]) });
        if (wrong.Length == 1) _corrections[first] = _corrections[first] with { WattHours = sum, UncertaintyWattHours = LineSeries.FactorsApart * Math.Sqrt(lines.SharesMoved.Sum(moved => moved * moved)) };
    }

    // What was recorded there goes out as what was mended comes in.
    private double Change(int element, int slot) =>
        ((double.IsNaN(lines.Watts[element][slot]) ? 0 : lines.Watts[element][slot]) - (RawSeries.At(raw.Watts[element], slot) is var read && double.IsFinite(read) ? read : 0)) * raw.Grid.Hours;

    // Where one thing was put right by arithmetic, what it changed is its own; of several it is not told apart.
    private void TellOfExact(int from, HookupPiece piece)
    {
        if (!raw.HasPower || _corrections.Count != from + 1 || _corrections[from].Basis != CorrectionBasis.Exact) return;
        var sum = 0.0;
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            if (raw.Grid.From(slot) < piece.From || raw.Grid.From(slot) >= piece.To) continue;
            foreach (var element in raw.Elements.Where(element => lines.States[element][slot] == PowerState.Mended)) sum += Change(element, slot);
        }

        _corrections[from] = _corrections[from] with { WattHours = sum };
    }

    private void OfHole(FilledHole hole)
    {
        ImmutableArray<Clamp> clamps = raw.IsTotal ? [] : [.. raw.Elements.Where(hole.Key.IsMissing).Select(element => (Clamp)element)];
        for (var first = 0; first < hole.Slots.Length;)
        {
            var isMissing = raw.Grid.Rows[hole.Slots[first]] < 0;
            var last = first;
            while (last + 1 < hole.Slots.Length && hole.Slots[last + 1] - hole.Slots[last] == 1 && raw.Grid.Rows[hole.Slots[last + 1]] < 0 == isMissing) last++;
            var energy = 0.0;
            for (var index = first; index <= last; index++)
            {
                foreach (var element in raw.Elements.Where(hole.Key.IsMissing)) energy += Change(element, hole.Slots[index]);
            }

            var kind = isMissing ? CorrectionKind.NoData
                : raw.Elements.Any(element => hole.Key[element] == PowerState.AtLeast) ? CorrectionKind.OverRange
                : raw.Elements.Any(element => hole.Key[element] == PowerState.NeedsShare) ? CorrectionKind.PowerFromShare : CorrectionKind.PowerFromCurrent;
            var (from, to) = (raw.Grid.From(hole.Slots[first]), raw.Grid.To(hole.Slots[last]));
            var part = (double)(last - first + 1) / hole.Slots.Length;
            _corrections.Add(new Correction(kind, [], isMissing ? [] : clamps, from, to, CorrectionBasis.Modelled)
            {
                Intervals = last - first + 1, WattHours = energy, UncertaintyWattHours = hole.Deviation(part), Trials = hole.Trials, IsGuess = !hole.IsLearnt,
            });
            if (isMissing) _unmendable.Add(new(UnmendableReason.RecorderOff, [], [], from, to));
            // How far beyond a range there was more is told by other lines and by what was shown: no hole is made for it, and that it was beyond is said by its span.
            if (hole.Trials == 0 && kind != CorrectionKind.OverRange) _unmendable.Add(new(hole.IsLearnt ? UnmendableReason.TooLongToTry : UnmendableReason.NothingToLearnFrom, [], isMissing ? [] : clamps, from, to));
            first = last + 1;
        }
    }

    private void OfKirchhoff()
    {
        if (raw.IsTotal) return;
        foreach (var line in raw.Elements)
        {
            var (first, count) = (-1, raw.Grid.Count);
            for (var slot = 0; slot <= count; slot++)
            {
                var isOne = slot < count && lines.States[line][slot] == PowerState.Mended && lines.ClampOf[line][slot] < 0;
                if (isOne && first < 0) first = slot;
                if (isOne || first < 0) continue;
                _corrections.Add(new Correction(CorrectionKind.CurrentFromOthers, [], [(Clamp)line], raw.Grid.From(first), raw.Grid.To(slot - 1), CorrectionBasis.Exact)
                {
                    Intervals = slot - first,
                });
                first = -1;
            }
        }
    }

    // The noise of a clamp on nothing may look like the end of a range.
    private bool IsOn(Clamp clamp, DateTime time) =>
        guard.Timeline.Pieces.IsEmpty || !guard.Timeline.At(time).Hookup.Clamps.TryGetValue(clamp, out var place) || place.On is not null;

    private void OfSpan(GuardSpan span)
    {
        if (span.Kind == SpanKind.ClockJump) _corrections.Add(new Correction(CorrectionKind.ClockJump, [], [], span.From, span.To, CorrectionBasis.Exact));
        if (span.Kind == SpanKind.OverRange && span.Clamps.Any(clamp => IsOn(clamp, span.From))) _unmendable.Add(new(UnmendableReason.BeyondRange, [], span.Clamps, span.From, span.To));
        if (span.Kind == SpanKind.ClampOpen && !span.Gain.IsEmpty)
            _corrections.Add(new Correction(CorrectionKind.ClampOpening, [], span.Clamps, span.From, span.To, CorrectionBasis.Modelled) { Factor = span.Gain[^1].Factor });
        if (span.Kind == SpanKind.Stuck && !span.Leads.IsEmpty) _unmendable.Add(new(UnmendableReason.VoltageQuality, span.Leads, [], span.From, span.To));
        if (span.Kind == SpanKind.Stuck && !span.Clamps.IsEmpty) _unmendable.Add(new(UnmendableReason.CurrentQuality, [], span.Clamps, span.From, span.To));
    }

    // The same correction of pieces that follow each other is one.
    private List<Correction> Merged()
    {
        var merged = new List<Correction>();
        foreach (var correction in _corrections.OrderBy(correction => correction.Kind).ThenBy(correction => correction.From))
        {
            var at = merged.FindLastIndex(other => other.Kind == correction.Kind && other.To == correction.From && other.Intervals == 0
                && other.Leads.SequenceEqual(correction.Leads) && other.Clamps.SequenceEqual(correction.Clamps) && other.Factor.Equals(correction.Factor));
            if (at >= 0) merged[at] = merged[at] with { To = correction.To, WattHours = merged[at].WattHours + correction.WattHours };
            else merged.Add(correction);
        }

        return merged;
    }
}
