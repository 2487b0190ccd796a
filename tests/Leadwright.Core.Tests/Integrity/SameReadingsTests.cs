using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Two inputs that show the same to their last digit although both move.</summary>
public sealed class SameReadingsTests
{
    private const int Count = 1008;

    [Fact]
    public void Two_leads_on_one_conductor_all_week_are_told_by_volts_alone()
    {
        var (volts, amperes) = Site(3);
        volts[2] = [.. volts[1]];
        var span = Assert.Single(Judge(Log(volts, amperes)));
        Assert.Equal((SpanKind.LeadsOnSameConductor, "V2 V3"), (span.Kind, string.Join(' ', span.Leads)));
        Assert.False(span.IsDoubtful);
    }

    [Fact]
    public void Voltages_of_three_lines_that_are_their_own_are_left_alone()
    {
        var (volts, amperes) = Site(4);
        Assert.Empty(Judge(Log(volts, amperes)));
    }

    [Theory]
    [InlineData(300, 360, 1)]
    // The gains of two clamps, and for most of the recording: the rows outside still tell.
    [InlineData(300, 360, 1.006)]
    [InlineData(200, 800, 1.006)]
    public void A_clamp_that_reads_what_the_neutrals_does_is_on_the_neutral(int from, int to, double gain)
    {
        var (volts, amperes) = Site(5);
        var neutral = PartLog.Rows(Count, row => Math.Round(Left(amperes, row), 2));
        for (var row = from; row < to; row++) amperes[1][row] = Math.Round(gain * neutral[row], 2);
        var spans = Judge(Log(volts, amperes).With(LogQuantity.Current, LogPlace.Neutral, neutral)).Where(span => !span.IsDoubtful).ToList();
        var span = Assert.Single(spans);
        Assert.Equal((SpanKind.ClampOnNeutral, "I2"), (span.Kind, string.Join(' ', span.Clamps)));
        Assert.Equal((PartLog.Start.AddMinutes(10 * from), PartLog.Start.AddMinutes(10 * to)), (span.From, span.To));
    }

    [Fact]
    public void A_line_that_alone_carries_something_is_what_the_neutral_brings_back()
    {
        var (volts, amperes) = Site(6);
        for (var row = 300; row < 360; row++) (amperes[0][row], amperes[2][row]) = (0.4, 0.4);
        var neutral = PartLog.Rows(Count, row => row is >= 300 and < 360 ? amperes[1][row] : Math.Round(Left(amperes, row), 2));
        Assert.DoesNotContain(Judge(Log(volts, amperes).With(LogQuantity.Current, LogPlace.Neutral, neutral)), span => span.Kind == SpanKind.ClampOnNeutral);
    }

    private static double Left(double[][] amperes, int row)
    {
        double one = amperes[0][row], two = amperes[1][row], three = amperes[2][row];
        return Math.Sqrt((one * one) + (two * two) + (three * three) - (one * two) - (two * three) - (three * one));
    }

    private static System.Collections.Immutable.ImmutableArray<GuardSpan> Judge(PartLog log) =>
        IntervalGuard.Judge(log.ToLog(), new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken).Spans;

    private static PartLog Log(double[][] volts, double[][] amperes)
    {
        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Volts(line, volts[line]).Amperes(line, amperes[line]);
        return log;
    }

    /// <summary>Three lines whose loads step now and then, and pull their voltages down.</summary>
    private static (double[][] Volts, double[][] Amperes) Site(uint seed)
    {
        var random = new SeededRandom(seed);
        double[][] volts = [new double[Count], new double[Count], new double[Count]], amperes = [new double[Count], new double[Count], new double[Count]];
        double[] loads = [20, 26, 33];
        for (var row = 0; row < Count; row++)
        {
            var supply = 231 + (1.5 * Math.Sin(row / 40.0)) + (0.3 * random.Gaussian());
            for (var line = 0; line < 3; line++)
            {
                if (random.Uniform(0, 1) < 0.2) loads[line] = (15 + (5 * line)) * random.Uniform(0.6, 1.6);
                amperes[line][row] = Math.Round(loads[line] * (1 + (0.01 * random.Gaussian())), 2);
                volts[line][row] = Math.Round(supply - (0.06 * amperes[line][row]) + (0.2 * line) + (0.05 * random.Gaussian()), 1);
            }
        }

        return (volts, amperes);
    }
}
