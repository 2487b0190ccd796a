using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A week of ten-minute values in which clamps, or leads, of two lines were exchanged for a day. Loads that come and go by the row leave the edges nothing to say;
/// on a supply of either order exchanged clamps turn the powers as exchanged leads do on the other. The lines' own levels tell.</summary>
public sealed class UsualLevelsTests
{
    private const int Count = 1008, From = 400, To = 543;

    [Theory]
    [InlineData(Rotation.Abc, true)]
    [InlineData(Rotation.Acb, true)]
    [InlineData(Rotation.Abc, false)]
    [InlineData(Rotation.Acb, false)]
    public void What_was_exchanged_is_told_by_what_each_line_usually_reads(Rotation rotation, bool areClamps)
    {
        var report = IntervalGuard.Judge(Week(rotation, areClamps).ToLog(), new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans);
        Assert.Equal(areClamps ? SpanKind.ClampsExchanged : SpanKind.LeadsExchanged, span.Kind);
        Assert.Equal("1 2", string.Join(' ', areClamps ? span.Clamps.Select(clamp => (int)clamp + 1) : span.Leads.Select(lead => (int)lead + 1)));
        Assert.Equal((PartLog.Start.AddMinutes(10 * From), PartLog.Start.AddMinutes(10 * (To + 1))), (span.From, span.To));
        Assert.True(span.Confidence > 0.95, $"{span.Confidence}");
    }

    private static PartLog Week(Rotation rotation, bool areClamps)
    {
        var random = new SeededRandom(11);
        double[][] volts = Three(), amperes = Three(), watts = Three(), vars = Three();
        for (var row = 0; row < Count; row++)
        {
            Phasor[] potentials = [.. Enumerable.Range(0, 3).Select(line => Phasor.FromDegrees(230 + (0.5 * line) + (0.4 * random.Gaussian()), line * (rotation == Rotation.Acb ? 120 : -120)))];
            // Each line carries what it likes from row to row, the second by a quarter more than the first.
            Phasor[] currents = [.. Enumerable.Range(0, 3).Select(line => Phasor.FromDegrees((20 + (5 * line)) * random.Uniform(0.5, 1.5), potentials[line].AngleDegrees - 20 + random.Uniform(-4, 4)))];
            for (var channel = 0; channel < 3; channel++)
            {
                var other = row is >= From and <= To && channel < 2 ? 1 - channel : channel;
                var (volt, ampere) = (potentials[areClamps ? channel : other], currents[areClamps ? other : channel]);
                var power = volt * ampere.Conjugate;
                (volts[channel][row], amperes[channel][row], watts[channel][row], vars[channel][row]) = (volt.Magnitude, ampere.Magnitude, power.Real, power.Imaginary);
            }
        }

        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Volts(line, volts[line]).Amperes(line, amperes[line]).Watts(line, watts[line]).Vars(line, vars[line]);
        return log;
    }

    private static double[][] Three() => [new double[Count], new double[Count], new double[Count]];
}
