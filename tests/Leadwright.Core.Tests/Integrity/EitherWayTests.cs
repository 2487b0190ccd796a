using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Supplies whose lines follow each other as A, B, C and as A, C, B: a slip is the same slip on either.</summary>
public sealed class EitherWayTests
{
    private const int Count = 720, From = 300, To = 419;

    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void Exchanged_leads_are_named_on_either_supply(Rotation rotation) =>
        AssertFound(Wye(rotation, leads: [1, 0, 2], clamps: [0, 1, 2]), SpanKind.LeadsExchanged, "V1 V2", Rotation.Unknown);

    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void A_moved_clamp_is_named_on_either_supply(Rotation rotation) =>
        AssertFound(Wye(rotation, leads: [0, 1, 2], clamps: [1, 1, 2]), SpanKind.ClampsOnSameConductor, "I1 I2", Rotation.Unknown);

    [Fact]
    public void The_timeline_says_which_way_explains_what_happened()
    {
        var report = Judge(Wye(Rotation.Acb, leads: [0, 1, 2], clamps: [1, 1, 2]), ServiceKind.Wye, Rotation.Unknown);
        Assert.All(report.Timeline.Pieces, piece => Assert.Equal(Rotation.Acb, piece.Rotation));
    }

    // Of two elements' total power: clamp 1 turned makes on one supply what clamp 3 turned makes on the other. Only the one that is told tells.
    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void Where_the_rotation_is_told_a_total_names_the_clamp_that_was_turned(Rotation rotation)
    {
        var spans = Judge(TwoClamps(rotation), ServiceKind.DeltaTwoClamp, rotation).Spans.Where(span => !span.IsDoubtful && span.Kind == SpanKind.ClampReversed).ToList();
        Assert.Equal(Clamp.I1, Assert.Single(spans).Clamps.Single());
    }

    [Fact]
    public void Where_it_is_not_told_the_total_is_no_surer_than_that_most_supplies_go_one_way()
    {
        var span = Assert.Single(Judge(TwoClamps(Rotation.Abc), ServiceKind.DeltaTwoClamp, Rotation.Unknown).Spans, span => span.Kind == SpanKind.ClampReversed);
        // One supply in twenty-five: SlipRates.
        Assert.Equal(Clamp.I1, span.Clamps.Single());
        Assert.InRange(span.Confidence, 0.9, 0.98);
    }

    private static void AssertFound(PartLog log, SpanKind kind, string channels, Rotation told)
    {
        var spans = Judge(log, ServiceKind.Wye, told).Spans.Where(span => !span.IsDoubtful).ToList();
        var span = Assert.Single(spans);
        Assert.Equal((kind, channels), (span.Kind, string.Join(' ', span.Leads.Select(lead => lead.ToString()).Concat(span.Clamps.Select(clamp => clamp.ToString())))));
        Assert.Equal((PartLog.Start.AddMinutes(10 * From), PartLog.Start.AddMinutes(10 * (To + 1))), (span.From, span.To));
    }

    private static GuardReport Judge(PartLog log, ServiceKind service, Rotation told) => IntervalGuard.Judge(
        log.ToLog(), new GuardOptions { Service = service, Nominal = new NominalVoltage(230, 400), Check = new CheckOptions { ToldRotation = told } }, TestContext.Current.CancellationToken);

    private static Phasor Source(Rotation rotation, int line) => Phasor.FromDegrees(230 + (0.8 * line), line * (rotation == Rotation.Acb ? 120 : -120));

    /// <summary>Amperes of a line in a row, behind its voltage by an angle of the line's own.</summary>
    private static Phasor Current(Phasor source, SeededRandom random, int line) => Phasor.FromDegrees((20 + (15 * line)) * random.Uniform(0.8, 1.2), source.AngleDegrees - 15 - (6 * line) + random.Uniform(-3, 3));

    private static PartLog Wye(Rotation rotation, int[] leads, int[] clamps)
    {
        var random = new SeededRandom(5);
        double[][] volts = Three(), amperes = Three(), watts = Three(), vars = Three();
        for (var row = 0; row < Count; row++)
        {
            Phasor[] potentials = [.. Enumerable.Range(0, 3).Select(line => (1 + (0.0004 * random.Gaussian())) * Source(rotation, line))];
            Phasor[] currents = [.. Enumerable.Range(0, 3).Select(line => Current(potentials[line], random, line))];
            for (var channel = 0; channel < 3; channel++)
            {
                var isMoved = row is >= From and <= To;
                var (volt, ampere) = (potentials[isMoved ? leads[channel] : channel], currents[isMoved ? clamps[channel] : channel]);
                var power = volt * ampere.Conjugate;
                (volts[channel][row], amperes[channel][row], watts[channel][row], vars[channel][row]) = (volt.Magnitude, ampere.Magnitude, power.Real, power.Imaginary);
            }
        }

        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Volts(line, volts[line]).Amperes(line, amperes[line]).Watts(line, watts[line]).Vars(line, vars[line]);
        return log;
    }

    private static PartLog TwoClamps(Rotation rotation)
    {
        var random = new SeededRandom(6);
        double[][] volts = Three(), amperes = Three();
        double[] watts = new double[Count], vars = new double[Count];
        for (var row = 0; row < Count; row++)
        {
            Phasor[] potentials = [.. Enumerable.Range(0, 3).Select(line => Phasor.FromDegrees(230, line * (rotation == Rotation.Acb ? 120 : -120)))];
            var size = random.Uniform(20, 40);
            Phasor[] currents = [.. potentials.Select(potential => Phasor.FromDegrees(size * random.Uniform(0.99, 1.01), potential.AngleDegrees - 25))];
            var sign = row is >= From and <= To ? -1 : 1;
            var power = (sign * (potentials[0] - potentials[1]) * currents[0].Conjugate) + ((potentials[2] - potentials[1]) * currents[2].Conjugate);
            (watts[row], vars[row]) = (power.Real, power.Imaginary);
            for (var pair = 0; pair < 3; pair++) (volts[pair][row], amperes[pair][row]) = ((potentials[pair] - potentials[(pair + 1) % 3]).Magnitude, currents[pair].Magnitude);
        }

        return new PartLog(ServiceKind.DeltaTwoClamp).Pair(0, volts[0]).Pair(1, volts[1]).Pair(2, volts[2]).Amperes(0, amperes[0]).Amperes(2, amperes[2])
            .With(LogQuantity.ActivePower, LogPlace.Whole, watts).With(LogQuantity.ReactivePower, LogPlace.Whole, vars);
    }

    private static double[][] Three() => [new double[Count], new double[Count], new double[Count]];
}
