using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Four days of minutes of a current written to a hundredth, whose crests are short and seldom: a range that was set too low for a day cuts them at one value.</summary>
public sealed class HeldTopOfDayTests
{
    private const int Rows = 5760, Day = 1440, From = Day, To = 2 * Day;
    private const double End = 25;

    [Fact]
    public void Crests_that_all_end_at_one_value_within_a_day_are_over_range_within_that_day_only()
    {
        var amperes = Crests();
        var held = 0;
        for (var row = From; row < To; row++)
        {
            if (amperes[row] < End) continue;
            amperes[row] = End;
            held++;
        }

        var log = Log(amperes);
        var spans = Judge(log);
        Assert.NotEmpty(spans);
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, Clamp.I1), (span.Kind, Assert.Single(span.Clamps))));
        Assert.All(spans, span => Assert.True(span.From >= log.At(From) && span.To <= log.At(To), $"{span.From} to {span.To}"));
        Assert.Equal(held, spans.Sum(span => span.Length.TotalMinutes));
    }

    [Fact]
    public void Crests_that_end_where_they_like_are_loads() => Assert.Empty(Judge(Log(Crests())));

    // A heater of 5.75 kW draws 25 A at 230 V, and with its voltage more or less: half a percent is twelve steps of a hundredth either way (Ohm's law).
    [Fact]
    public void A_heater_comes_back_to_its_level_only_as_closely_as_its_voltage_does()
    {
        var amperes = Crests();
        var random = new SeededRandom(3);
        for (var row = From; row < To; row++)
        {
            if (amperes[row] >= End) amperes[row] = Math.Round(End * (1 + (0.005 * random.Gaussian())), 2);
        }

        Assert.Empty(Judge(Log(amperes)));
    }

    /// <summary>A base of two or three amperes, and crests of some minutes, each of a height of its own.</summary>
    private static double[] Crests()
    {
        var random = new SeededRandom(41);
        var (left, height) = (0, 0.0);
        return PartLog.Rows(Rows, _ =>
        {
            if (left-- <= 0) (left, height) = random.Chance(0.05) ? (random.Below(6), random.Uniform(12, 40)) : (0, 0);
            return Math.Round(random.Uniform(2, 3) + (height * random.Uniform(0.9, 1.1)), 2);
        });
    }

    private static PartLog Log(double[] amperes)
    {
        var random = new SeededRandom(6);
        var volts = PartLog.Rows(Rows, row => Math.Round(230 + Math.Sin(row / 200.0) - (0.05 * amperes[row]) + (0.2 * random.Gaussian()), 2));
        return new PartLog(ServiceKind.Single, 60) { Nominal = new NominalVoltage(230, 230) }
            .Volts(0, volts).Amperes(0, amperes).Watts(0, PartLog.Rows(Rows, row => Math.Round(0.98 * volts[row] * amperes[row], 1)));
    }

    private static GuardSpan[] Judge(PartLog log)
    {
        var frame = log.ToFrame();
        return [.. IntervalGuard.Judge(frame.Log, frame.Options, TestContext.Current.CancellationToken).Spans.Where(span => !span.IsDoubtful)];
    }
}
