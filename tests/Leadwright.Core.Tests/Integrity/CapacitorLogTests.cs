using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Four days of ten-minute values on a wye service of 230/400 V whose capacitors of 1.5 kvar a line are left on at night, when little else is.</summary>
public sealed class CapacitorLogTests
{
    private const int Days = 4, Day = 144, Rows = Days * Day;

    // By day 4.6 kW and 1.5 kvar lagging a line, which the capacitors just make up for; by night some 0.2 kW against 1.5 kvar: 80 degrees ahead of the day.
    [Fact]
    public void Capacitors_that_lead_at_night_in_all_lines_are_no_moved_clamps()
    {
        var report = Guard(_ => false);
        Assert.Equal([], report.Spans.Where(span => !span.IsDoubtful).Select(span => span.Kind));
    }

    [Fact]
    public void Clamps_that_are_exchanged_by_day_are_named()
    {
        var span = Assert.Single(Guard(row => row is >= Day + 60 and < Day + 90).Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.ClampsExchanged, span.Kind);
        Assert.Equal([Clamp.I2, Clamp.I3], span.Clamps);
        Assert.Equal((At(Day + 60), At(Day + 90)), (span.From, span.To));
    }

    // At 82 degrees ahead the one clamp then stands at 38 degrees behind, as any load may, and the other at 158, as none does: it shows in that one's power, from ten in the evening to three.
    [Fact]
    public void Clamps_that_are_exchanged_at_night_show_in_the_power_that_goes_the_wrong_way()
    {
        var report = Guard(row => row is >= Day + 132 and < Day + 162);
        Assert.Contains(report.Spans, span => !span.IsDoubtful && span.Clamps.Contains(Clamp.I3) && span.From == At(Day + 132) && span.To == At(Day + 162));
    }

    private static DateTime At(int row) => new DateTime(2026, 3, 2).AddMinutes(10 * row);

    private static GuardReport Guard(Func<int, bool> areExchanged)
    {
        var random = new SeededRandom(23);
        double[][] volts = Three(), amperes = Three(), watts = Three(), vars = Three();
        double[] level = [0, 0, 0];
        for (var row = 0; row < Rows; row++)
        {
            var hour = row % Day / 6.0;
            var isDay = hour is >= 6 and < 20;
            var currents = new Phasor[3];
            var potentials = new Phasor[3];
            for (var line = 0; line < 3; line++)
            {
                if (random.Chance(0.3)) level[line] = random.Uniform(0.6, 1.4);
                var inPhase = isDay ? 20 * level[line] : 0.9 * level[line];
                // Loads lag by 18 degrees; 6.5 A of capacitors.
                currents[line] = new Phasor(inPhase, (-0.325 * inPhase) + 6.5);
            }

            var common = 230 + (1.5 * Math.Sin(row / 40.0));
            for (var line = 0; line < 3; line++)
            {
                var others = (currents[(line + 1) % 3] + currents[(line + 2) % 3]).Real / 2;
                volts[line][row] = common + (0.4 * line) - (0.06 * (currents[line].Real - others)) + (0.03 * random.Gaussian());
                potentials[line] = Phasor.FromDegrees(volts[line][row], -120 * line);
            }

            for (var clamp = 0; clamp < 3; clamp++)
            {
                var line = areExchanged(row) && clamp > 0 ? 3 - clamp : clamp;
                var current = currents[line] * Phasor.FromDegrees(1, -120 * line);
                var power = potentials[clamp] * current.Conjugate;
                (amperes[clamp][row], watts[clamp][row], vars[clamp][row]) = (current.Magnitude, power.Real, power.Imaginary);
            }
        }

        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        for (var line = 0; line < 3; line++)
        {
            var place = LogPlace.Phase1 + line;
            columns.Add(new LogColumn($"V{line}", LogQuantity.Voltage, place));
            columns.Add(new LogColumn($"I{line}", LogQuantity.Current, place));
            columns.Add(new LogColumn($"P{line}", LogQuantity.ActivePower, place));
            columns.Add(new LogColumn($"Q{line}", LogQuantity.ReactivePower, place));
            values.AddRange([volts[line], amperes[line], watts[line], vars[line]]);
        }

        var log = new IntervalLog(columns.ToImmutable(), [.. Enumerable.Range(0, Rows).Select(row => At(row).Ticks)], [.. values], 600);
        return IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
    }

    private static double[][] Three() => [new double[Rows], new double[Rows], new double[Rows]];
}
