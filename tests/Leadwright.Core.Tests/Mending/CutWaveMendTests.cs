using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Mending;

/// <summary>What a clamp whose waves were cut still tells of its current.</summary>
public sealed class CutWaveMendTests
{
    private const double End = 20;

    // Line 2 draws 4 to 44 A of 800 minutes and shows a wave cut at 20 A: a quarter of its energy is gone.
    [Fact]
    public void The_energy_that_was_cut_off_is_brought_back_from_the_shape_of_the_wave()
    {
        var random = new SeededRandom(9);
        var log = new SourceLog(true, (_, line) => line == 1 ? random.Uniform(4, 44) : random.Uniform(10, 30));
        var whole = Energy(log);
        for (var row = 0; row < SourceLog.Rows; row++) log.Scale(row, 1, End * CutWave.Shown(log.Amperes[1][row] / End) / log.Amperes[1][row]);
        var shown = Energy(log);
        Assert.InRange(shown, 0.75 * whole, 0.93 * whole);
        var frame = log.ToFrame();
        var guard = IntervalGuard.Judge(frame.Log, frame.Options, TestContext.Current.CancellationToken);
        var report = IntervalMender.Mend(frame.Log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = frame.Nominal }, TestContext.Current.CancellationToken);
        var energy = report.Energy!;
        Assert.Equal(shown, energy.RecordedWattHours, 1e-6 * shown);
        // Nineteen twentieths of what was missing are back, and the interval begins above what was shown.
        Assert.InRange(energy.MendedWattHours, whole - (0.05 * (whole - shown)), whole + (0.05 * (whole - shown)));
        Assert.InRange(whole, energy.LowWattHours, energy.HighWattHours);
        Assert.InRange(energy.LowWattHours, shown, whole);
        // What is estimated sets no peak; what was shown flowed at the least.
        Assert.True(report.After.PeakIsAtLeast);
        Assert.Equal(report.Before.PeakWatts, report.After.PeakWatts, 1.0);
    }

    private static double Energy(SourceLog log)
    {
        double sum = 0;
        for (var line = 0; line < 3; line++)
        {
            for (var row = 0; row < SourceLog.Rows; row++) sum += log.Volts[line][row] * log.InPhase[line][row] / 60;
        }

        return sum;
    }
}
