using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;

namespace Leadwright.Core.Tests.Mending;

/// <summary>While the supply is gone no power flows, even where a lead has fallen off before.</summary>
public sealed class OutageMendTests
{
    private const int Rows = 600;
    private const int OffFrom = 200;
    private const int OutFrom = 400;
    private const int OutTo = 440;

    [Fact]
    public void Nothing_flows_in_an_outage_although_a_lead_was_off()
    {
        var log = Week();
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
        var off = right with { Leads = right.Leads.SetItem(Lead.V3, null) };
        var guard = GuardAnswer.Of(
            log,
            [new HookupPiece(log.From, At(OffFrom), right, Rotation.Abc, 1), new HookupPiece(At(OffFrom), log.To, off, Rotation.Abc, 1)],
            new GuardSpan(SpanKind.LeadOpen, [Lead.V3], [], At(OffFrom), log.To, 1, new SpanFinding(default, 5)),
            new GuardSpan(SpanKind.Outage, [Lead.V1, Lead.V2, Lead.V3], [], At(OutFrom), At(OutTo), 1, new SpanFinding(default, 5)));

        var report = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);

        for (var column = 6; column < 9; column++)
        {
            var values = report.Log.Values(column);
            for (var row = OutFrom; row < OutTo; row++) Assert.Equal(0, values[row]);
            Assert.NotEqual(0, values[OutFrom - 1]);
            Assert.NotEqual(0, values[OutTo]);
        }
    }

    private static DateTime At(int row) => new DateTime(2026, 3, 2).AddMinutes(row);

    private static IntervalLog Week()
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        foreach (var quantity in (LogQuantity[])[LogQuantity.Voltage, LogQuantity.Current, LogQuantity.ActivePower, LogQuantity.ReactivePower])
        {
            for (var phase = 0; phase < 3; phase++)
            {
                var line = phase;
                columns.Add(new LogColumn($"{quantity}{phase}", quantity, LogPlace.Phase1 + phase));
                values.Add([.. Enumerable.Range(0, Rows).Select(row => Value(quantity, line, row))]);
            }
        }

        return new IntervalLog(columns.ToImmutable(), [.. Enumerable.Range(0, Rows).Select(row => At(row).Ticks)], [.. values], 60);
    }

    private static double Value(LogQuantity quantity, int line, int row)
    {
        var isOpen = line == 2 && row >= OffFrom;
        if (row is >= OutFrom and < OutTo) return quantity == LogQuantity.Voltage && isOpen ? 7 : 0;
        var volts = isOpen ? 4 : 230 - line;
        var amperes = 10 + line + Math.Sin(row / 20.0);
        var factor = 0.9 + (0.05 * Math.Sin(row / 37.0));
        return quantity switch
        {
            LogQuantity.Voltage => volts,
            LogQuantity.Current => amperes,
            LogQuantity.ActivePower => factor * volts * amperes,
            _ => Math.Sqrt(1 - (factor * factor)) * volts * amperes,
        };
    }
}
