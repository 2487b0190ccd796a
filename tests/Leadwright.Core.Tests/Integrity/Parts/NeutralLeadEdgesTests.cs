using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Four days of ten-minute volts and amperes of two legs behind 0.08 ohm each and as much in the neutral. In one night they answer to no current: from ten in the evening to six.</summary>
public sealed class NeutralLeadEdgesTests
{
    private const int Rows = 576, From = 144 + 132, End = 144 + 180;

    // With the lead in the air both inputs read the half of what is between the legs.
    [Fact]
    public void Two_legs_that_read_the_halves_of_one_voltage_all_night_have_their_neutral_lead_in_the_air()
    {
        var span = Assert.Single(Guard(_ => 0).Spans);
        Assert.Equal((SpanKind.NeutralOpen, Lead.VN), (span.Kind, Assert.Single(span.Leads)));
        Assert.InRange(span.From, At(From), At(From + 3));
        Assert.InRange(span.To, At(End - 3), At(End));
    }

    // Half a percent there and back: halves never leave each other by more than the inputs do, a fiftieth of that.
    [Fact]
    public void Two_legs_that_drift_apart_by_half_a_percent_meanwhile_have_it_on() =>
        Assert.Equal([], Guard(row => 0.005 * Math.Sin(Math.PI * (row - From) / (End - From))).Spans.Select(span => span.Kind));

    // 18 A beside 6 A hold the legs 0.24 · 12 V apart: 0.08 ohm of each leg's own, and twice as much of the neutral. A lead that lets go lets go of that too.
    [Fact]
    public void Two_legs_that_their_standing_currents_keep_holding_apart_have_it_on() => Assert.Equal([], Guard(_ => 0, 6).Spans.Select(span => span.Kind));

    private static DateTime At(int row) => PartLog.Start.AddMinutes(10 * row);

    private static GuardReport Guard(Func<int, double> drift, double apart = 0)
    {
        var random = new SeededRandom(71);
        double[][] volts = [new double[Rows], new double[Rows]], amperes = [new double[Rows], new double[Rows]];
        double[] level = [1, 1];
        for (var row = 0; row < Rows; row++)
        {
            var common = 120 * (1 + (0.01 * Math.Sin(row / 30.0)));
            for (var leg = 0; leg < 2; leg++)
            {
                if (random.Chance(0.4)) level[leg] = random.Uniform(0.4, 1.6);
                // Steady beside the edges; where the legs stand apart, with a little about that by night.
                var isBeside = Math.Abs(row - From) < 3 || Math.Abs(row - End) < 3;
                amperes[leg][row] = isBeside || (apart != 0 && row is >= From and < End) ? 12 + (leg == 0 ? apart : -apart) + (isBeside ? 0 : 3 * (level[leg] - 1)) : 12 * level[leg];
            }

            var isSilent = row is >= From and < End;
            for (var leg = 0; leg < 2; leg++)
            {
                var drop = (0.08 * amperes[leg][row]) + (0.08 * (amperes[leg][row] - amperes[1 - leg][row]));
                var own = isSilent ? common - (0.04 * (amperes[0][row] + amperes[1][row])) + ((leg == 0 ? 1 : -1) * ((60 * drift(row)) - (0.24 * apart))) : common - drop;
                volts[leg][row] = own + (0.005 * random.Gaussian());
            }
        }

        var log = new PartLog(ServiceKind.Split).Volts(0, volts[0]).Volts(1, volts[1]).Amperes(0, amperes[0]).Amperes(1, amperes[1]).ToLog();
        return IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Split, Nominal = new NominalVoltage(120, 240) }, TestContext.Current.CancellationToken);
    }
}
