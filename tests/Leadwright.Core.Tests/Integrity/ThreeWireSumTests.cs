using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Three wires of a source so stiff that its voltage answers to nothing: what remains is Kirchhoff's current law.</summary>
public sealed class ThreeWireSumTests
{
    private const int Rows = 432;
    private static readonly DateTime s_start = new(2026, 3, 2);

    [Fact]
    public void A_ratio_of_two_for_two_hours_shows_in_the_sum_of_the_currents()
    {
        var report = Guard((row, clamp) => clamp == 1 && row is >= 200 and < 212 ? 2 : 1);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((At(200), At(212)), (span.From, span.To));
        Assert.Equal(2, report.Timeline.At(At(205)).Hookup.Clamps[Clamp.I2].Scale);
    }

    [Fact]
    public void A_ratio_wrong_from_the_first_to_the_last_interval_shows_too()
    {
        var report = Guard((_, clamp) => clamp == 2 ? 0.5 : 1);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((report.From, report.To), (span.From, span.To));
        Assert.Equal(0.5, report.Timeline.At(At(100)).Hookup.Clamps[Clamp.I3].Scale);
    }

    [Fact]
    public void A_jaw_that_opens_slowly_is_found_with_the_course_of_its_gain()
    {
        var report = Guard((row, clamp) => clamp != 0 || row is < 150 or >= 330 ? 1 : 1 - (0.4 * (row - 150) / 180.0));
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampOpen, Clamp.I1, SpanRelation.CurrentDrifted), (span.Kind, Assert.Single(span.Clamps), span.Finding.Relation));
        Assert.InRange(span.Gain[^1].Factor, 0.5, 0.7);
        Assert.InRange(Math.Abs((span.From - At(150)).TotalHours), 0, 5);
    }

    [Fact]
    public void A_clamp_turned_at_noon_where_power_may_flow_back_shows_in_the_sum()
    {
        var report = Guard((row, clamp) => clamp == 2 && row is >= 210 and < 234 ? -1 : 1, mayExport: true);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((At(210), At(234)), (span.From, span.To));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Currents_that_add_up_are_left_alone(bool mayExport) =>
        Assert.DoesNotContain(Guard((_, _) => 1, mayExport).Spans, span => !span.IsDoubtful);

    private static DateTime At(int row) => s_start.AddMinutes(10 * row);

    private static GuardReport Guard(Func<int, int, double> factor, bool mayExport = false)
    {
        var random = new SeededRandom(5);
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        double[][] values = [.. Enumerable.Range(0, 12).Select(_ => new double[Rows])];
        for (var phase = 0; phase < 3; phase++)
        {
            columns.Add(new LogColumn($"U{phase}", LogQuantity.Voltage, LogPlace.Pair12 + phase));
            columns.Add(new LogColumn($"I{phase}", LogQuantity.Current, LogPlace.Phase1 + phase));
            columns.Add(new LogColumn($"P{phase}", LogQuantity.ActivePower, LogPlace.Phase1 + phase));
            columns.Add(new LogColumn($"Q{phase}", LogQuantity.ReactivePower, LogPlace.Phase1 + phase));
        }

        var level = new double[3];
        for (var row = 0; row < Rows; row++)
        {
            var volts = 230 + (1.5 * Math.Sin(row / 40.0)) + (0.1 * random.Gaussian());
            // Loads between each two lines, each for itself: the three line currents then add up to nothing.
            var between = new Phasor[3];
            for (var pair = 0; pair < 3; pair++)
            {
                if (random.Chance(0.25)) level[pair] = random.Uniform(0, 9);
                var amperes = 4 + pair + level[pair] + (4 * Math.Max(0, Math.Sin((row % 144 / 144.0 * 2 * Math.PI) - 1.5)));
                between[pair] = Phasor.FromDegrees(amperes, Angle(pair) + 30 - 24 - (2 * random.Gaussian()));
            }

            for (var phase = 0; phase < 3; phase++)
            {
                // Clamps of one kind differ by a part in two hundred.
                var current = factor(row, phase) * (1 + (0.005 * (phase - 1))) * (between[phase] - between[(phase + 2) % 3]);
                var power = Phasor.FromDegrees(volts, Angle(phase)) * current.Conjugate;
                values[4 * phase][row] = Math.Sqrt(3) * volts * (1 + (0.0001 * random.Gaussian()));
                values[(4 * phase) + 1][row] = current.Magnitude;
                values[(4 * phase) + 2][row] = power.Real;
                values[(4 * phase) + 3][row] = power.Imaginary;
            }
        }

        var log = new IntervalLog(columns.ToImmutable(), [.. Enumerable.Range(0, Rows).Select(row => At(row).Ticks)], values, 600);
        return IntervalGuard.Judge(
            log, new GuardOptions { Service = ServiceKind.Delta, Nominal = new NominalVoltage(230, 400), Check = new CheckOptions { MayExport = mayExport } },
            TestContext.Current.CancellationToken);
    }

    private static double Angle(int phase) => phase switch { 0 => 0, 1 => -120, _ => 120 };
}
