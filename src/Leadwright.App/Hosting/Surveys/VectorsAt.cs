using System.Collections.Immutable;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The vector diagram of one interval of a log.</summary>
internal static class VectorsAt
{
    private static readonly LogPlace[] s_phases = [LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3];
    private static readonly LogPlace[] s_pairs = [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];

    /// <summary>The diagram of the interval at a time; null when it has no voltages.</summary>
    /// <param name="log">The log.</param>
    /// <param name="service">The service.</param>
    /// <param name="at">Milliseconds as in a frame.</param>
    public static VectorSheet? Of(IntervalLog log, ServiceKind service, double at)
    {
        var row = log.Starts.Span.BinarySearch(ColumnFrame.TimeOf(at).Ticks);
        if (row < 0) row = ~row - 1;
        if (row < 0 || row >= log.Count) return null;
        var phasors = ImmutableSortedDictionary.CreateBuilder<Channel, Phasor>();
        var isAssumed = false;
        var isLeadToLead = log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1) < 0;
        for (var phase = 0; phase < 3; phase++)
        {
            var place = isLeadToLead ? s_pairs[phase] : s_phases[phase];
            var rms = Value(log, LogQuantity.Voltage, place, row);
            if (!double.IsFinite(rms)) continue;
            var angle = Value(log, LogQuantity.VoltageAngle, place, row);
            isAssumed |= !double.IsFinite(angle);
            phasors[(isLeadToLead ? Channel.V12 : Channel.V1) + phase] = Phasor.FromDegrees(rms, double.IsFinite(angle) ? angle : Usual(service, phase));
        }

        if (phasors.Count == 0) return null;
        for (var phase = 0; phase < 3; phase++)
        {
            var amperes = Value(log, LogQuantity.Current, s_phases[phase], row);
            if (!double.IsFinite(amperes)) continue;
            var angle = Value(log, LogQuantity.CurrentAngle, s_phases[phase], row);
            if (!double.IsFinite(angle) && phasors.TryGetValue(Channel.V1 + phase, out var own))
            {
                var (watts, vars) = (Value(log, LogQuantity.ActivePower, s_phases[phase], row), Value(log, LogQuantity.ReactivePower, s_phases[phase], row));
                angle = own.AngleDegrees - (Math.Atan2(vars, watts) * 180 / Math.PI);
            }

            if (double.IsFinite(angle)) phasors[Channel.I1 + phase] = Phasor.FromDegrees(amperes, angle);
        }

        var vectors = phasors.ToImmutable();
        return new VectorSheet(
            new DateTime(log.Starts.Span[row]), VectorDiagram.Svg(vectors, service, "cursor"), VectorDiagram.Description(vectors, service),
            isAssumed ? "The log has no angles: voltages are drawn where the service has them, currents by their watts and vars." : "");
    }

    private static double Usual(ServiceKind service, int phase) => service switch
    {
        ServiceKind.Split => 180 * phase,
        ServiceKind.HighLeg => phase switch { 0 => 0, 1 => -90, _ => 180 },
        _ => -120 * phase,
    };

    private static double Value(IntervalLog log, LogQuantity quantity, LogPlace place, int row) =>
        log.IndexOf(quantity, place) is >= 0 and var column ? log.Values(column)[row] : double.NaN;
}
