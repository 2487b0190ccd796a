using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Makes spans of the faults of judged pieces, and of what the supply did.</summary>
internal static class FaultSpans
{
    public static void OfHookups(Chained chained, List<JudgedPiece> judged, List<GuardSpan> spans)
    {
        var frame = chained.Frame;
        var faults = judged.ConvertAll(piece => FaultFinder.Find(piece.Hookup, frame.Options.Check.ToldRotation)
            .Select(fault => (Fault: fault, Name: Name(fault))).ToList());
        bool Has(int index, string name) => index >= 0 && index < judged.Count && faults[index].Exists(entry => entry.Name == name);

        // A guess, or a single interval, between two sure pieces does not end what both show.
        bool IsBridge(int index, string name) => index > 0 && index + 1 < judged.Count && (judged[index].Confidence < GuardSpan.SureFrom || judged[index].To == judged[index].From)
            && !Has(index, name) && Has(index - 1, name) && Has(index + 1, name)
            && judged[index - 1].Confidence >= GuardSpan.SureFrom && judged[index + 1].Confidence >= GuardSpan.SureFrom;
        for (var index = 0; index < judged.Count; index++)
        {
            foreach (var (fault, name) in faults[index])
            {
                if (Has(index - 1, name) || IsBridge(index - 1, name)) continue;
                var last = index;
                while (Has(last + 1, name) || IsBridge(last + 1, name)) last++;
                if (IsLoadSwitchedOff(chained, judged, index, last, fault)) continue;
                spans.Add(Span(chained, judged, index, last, fault));
            }
        }
    }

    public static void OfSupply(Chained chained, List<RowPiece> pieces, List<GuardSpan> spans)
    {
        var frame = chained.Frame;
        for (var index = 0; index < pieces.Count; index++)
        {
            var state = chained.Voltages.States[pieces[index].Key.Voltage];
            if (state.Kind is VoltageStateKind.Sound or VoltageStateKind.Leads) continue;
            var last = index;
            while (last + 1 < pieces.Count && pieces[last + 1].Key.Voltage == pieces[index].Key.Voltage) last++;
            int from = pieces[index].From, to = pieces[last].To;
            ImmutableArray<Lead> leads = state.Kind switch
            {
                VoltageStateKind.Outage => [.. frame.Service.Leads.Where(lead => lead != Lead.VN)],
                VoltageStateKind.LineLost => [(Lead)state.Line],
                VoltageStateKind.SupplyNeutralLost => [Lead.VN],
                // With A or C on the phase that stayed all three lines of a high-leg service lose part of their voltage.
                _ when frame.Service.Kind == ServiceKind.HighLeg && !frame.IsPairs && state.Line != 1 => [.. frame.Service.Leads.Where(lead => lead != Lead.VN)],
                _ => [.. frame.Service.Leads.Where(lead => lead != Lead.VN && (int)lead != state.Line)],
            };
            var relation = state.Kind switch
            {
                VoltageStateKind.UpstreamPhaseLost => SpanRelation.UpstreamPhaseLost,
                VoltageStateKind.SupplyNeutralLost => SpanRelation.NeutralOfSupplyLost,
                _ => SpanRelation.VoltageAndCurrentWent,
            };
            var channel = leads[0] == Lead.VN ? 0 : (int)leads[0];
            spans.Add(new GuardSpan(SpanKind.Outage, leads, [], frame.From(from), frame.To(to), 0.96, new SpanFinding(relation, 6)
            {
                Rival = SpanKind.LeadOpen, Before = Mean(frame.Volts[channel], from - 6, from - 1) * frame.UnitVolts,
                Within = Mean(frame.Volts[channel], from, to) * frame.UnitVolts, Intervals = to - from + 1,
                CurrentRatio = channel < 3 ? Mean(frame.Amperes[channel], from, to) / Mean(frame.Amperes[channel], from - 6, from - 1) : double.NaN,
            }));
            index = last;
        }
    }

    public static double Mean(double[]? values, int from, int to)
    {
        if (values is null) return double.NaN;
        double sum = 0;
        var count = 0;
        for (var row = Math.Max(0, from); row <= Math.Min(values.Length - 1, to); row++)
        {
            if (double.IsNaN(values[row])) continue;
            sum += values[row];
            count++;
        }

        return count == 0 ? double.NaN : sum / count;
    }

    private static string Name(Fault fault) => $"{fault.Kind} {string.Join(",", fault.Leads)} {string.Join(",", fault.Clamps)}";

    /// <summary>All clamps at nothing at once is a site that was switched off behind them, sooner than three clamps that fell.</summary>
    private static bool IsLoadSwitchedOff(Chained chained, List<JudgedPiece> judged, int first, int last, Fault fault)
    {
        if (fault.Kind != FaultKind.ClampOpen) return false;
        if (ReadNothing(chained.Frame, judged[first].From, judged[last].To)) return true;
        for (var index = first; index <= last; index++)
        {
            for (var clamp = 0; clamp < chained.Frame.Lines; clamp++)
            {
                if (chained.Currents[clamp] is { } currents && currents.Scales[judged[index].Key.Scale(clamp)] != 0) return false;
            }
        }

        return chained.Frame.Lines > 1;
    }

    /// <summary>True where all currents of the recording are nothing from first to last.</summary>
    private static bool ReadNothing(GuardFrame frame, int from, int to) =>
        from == 0 && to == frame.Count - 1 && frame.Amperes.Take(3).All(amperes => amperes is null || Array.TrueForAll(amperes, value => !(value > 0)));

    private static GuardSpan Span(Chained chained, List<JudgedPiece> judged, int first, int last, Fault fault)
    {
        var frame = chained.Frame;
        int from = judged[first].From, to = judged[last].To;
        var middle = judged[first];
        var channel = fault.Leads.Length > 0 ? (int)fault.Leads[0] : fault.Clamps.Length > 0 ? (int)fault.Clamps[0] : 0;
        var isLead = fault.Leads.Length > 0;
        var values = isLead ? (channel < 3 ? frame.Volts[channel] : frame.Volts[0]) : frame.Amperes[channel];
        var unit = isLead ? frame.UnitVolts : 1;
        var hasBefore = from > 0;
        var own = channel < 3 ? frame.Amperes[channel] : null;
        var turn = channel < 3 && chained.Angles[channel] is { } angles && middle.Key.Turn(channel) != 15 ? angles.Turns[middle.Key.Turn(channel)] : double.NaN;
        return new GuardSpan(
            (SpanKind)(int)fault.Kind, fault.Leads, fault.Clamps, frame.From(from), frame.To(to), Math.Min(0.99, middle.Confidence),
            new SpanFinding(middle.IsByTotal ? SpanRelation.TotalAway : Relation(fault.Kind, hasBefore || last + 1 < judged.Count), middle.Odds)
            {
                Before = (hasBefore ? Mean(values, from - 6, from - 1) : Mean(values, to + 1, to + 6)) * unit,
                Within = Mean(values, from, to) * unit,
                CurrentRatio = isLead && own is not null ? Mean(own, from, Math.Min(to, from + 5)) / Mean(own, from - 6, from - 1) : double.NaN,
                TurnDegrees = turn,
                Intervals = to - from + 1,
            });
    }

    private static SpanRelation Relation(FaultKind kind, bool isChange) => kind switch
    {
        FaultKind.LeadOpen => isChange ? SpanRelation.VoltageWentCurrentStayed : SpanRelation.VoltageProportions,
        FaultKind.LeadOnNeutral or FaultKind.NeutralExchanged or FaultKind.NeutralOpen => SpanRelation.VoltageProportions,
        FaultKind.LeadsOnSameConductor or FaultKind.ClampsOnSameConductor => SpanRelation.TwoChannelsAlike,
        FaultKind.ClampOpen => isChange ? SpanRelation.CurrentWentVoltageUnmoved : SpanRelation.ReadingsWeighed,
        FaultKind.RatioWrong => isChange ? SpanRelation.CurrentScaled : SpanRelation.ReadingsWeighed,
        _ => isChange ? SpanRelation.PowerAngleTurned : SpanRelation.ReadingsWeighed,
    };
}
