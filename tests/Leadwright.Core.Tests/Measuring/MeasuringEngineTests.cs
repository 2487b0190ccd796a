using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;

namespace Leadwright.Core.Tests.Measuring;

public sealed class MeasuringEngineTests
{
    private const double Rate = 10240;

    private static PanelWave Usual(double hertz = 50.02) => new PanelWave(Rate) { NoiseRms = 0.05 }
        .WithThree(0, hertz, 230, 20, time => time is > 6.02 and < 6.13 ? 0.7 : 1).WithThree(0, 5 * hertz, 9, 40)
        .WithThree(4, hertz, 40, -10).WithThree(4, 3 * hertz, 8, 0);

    [Theory]
    [InlineData(1, false)]
    [InlineData(333, false)]
    [InlineData(12288, false)]
    [InlineData(100000, true)]
    [InlineData(777, true)]
    public void Blocks_of_any_size_and_two_threads_give_the_same_bits(int block, bool isParallel)
    {
        var frames = Usual().Frames(12.34);
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.ThreeSeconds);
        var expected = PanelWave.Measure(plan, frames);
        var found = PanelWave.Measure(plan with { IsParallel = isParallel }, frames, block);

        Assert.Equal(expected.Rows.Count, found.Rows.Count);
        foreach (var (first, second) in expected.Rows.Zip(found.Rows))
        {
            Assert.Equal(first.Rms.Select(BitConverter.DoubleToInt64Bits), second.Rms.Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(first.Scalars.Select(BitConverter.DoubleToInt64Bits), second.Scalars.Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(first.Spectrum.SelectMany(row => row).Select(BitConverter.DoubleToInt64Bits), second.Spectrum.SelectMany(row => row).Select(BitConverter.DoubleToInt64Bits));
        }

        Assert.Equal(expected.Events, found.Events);
        Assert.NotEmpty(expected.Events);
    }

    [Fact]
    public void A_recording_of_whole_windows_gives_them_all()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50, 230, 0).Frames(10);
        Assert.Equal(50, PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), frames).Rows.Count);
        frames = new PanelWave(Rate).WithThree(0, 60, 120, 0).Frames(10);
        Assert.Equal(50, PanelWave.Measure(PanelWave.Plan(Rate, 60, MeasuringInterval.Cycles), frames).Rows.Count);
    }

    // The three-phase set S4 of tests/vectors/power as waveforms: what the standard's formulas give, through sampling and resampling.
    [Fact]
    public void Powers_of_a_distorted_unbalanced_load_are_those_of_the_worked_set()
    {
        var rows = RepositoryFile.Table("vectors/power/ieee1459_examples.csv").Where(row => row["example"] == "S4").ToList();
        var wave = new PanelWave(Rate);
        foreach (var row in rows.Where(row => row["kind"] == "input"))
            wave.With((row["quantity"] == "V" ? 0 : 4) + row["phase"][0] - 'A', 50.1 * row.Number("order"), row.Number("value"), row.Number("angle_deg"));
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.ThreeSeconds) with { Lanes = 0x77 };
        var found = PanelWave.Measure(plan, wave.Frames(4)).Rows[0];
        string[] names = ["P", "P1", "Q1sum", "Se", "Se1", "SeN", "N", "P1plus", "Q1plus", "S1plus", "SU1", "SA"];
        for (var index = 0; index < names.Length; index++)
        {
            var expected = rows.Single(row => row["kind"] == "result" && row["quantity"] == names[index]).Number("value");
            Assert.Equal(expected, found.Scalars[Scalars.Total + index], 2e-5 * Math.Abs(expected));
        }
    }

    [Fact]
    public void Three_wire_powers_from_line_to_line_voltages_are_those_to_the_star_point()
    {
        // Set S3: 480 V lines, 16 Ω between A and B; P = 14,400 W (derived, tests/vectors/power).
        var wave = new PanelWave(Rate).WithThree(0, 60, 480, 30).With(4, 60, 30, 30).With(5, 60, 30, -150);
        var plan = PanelWave.Plan(Rate, 60, MeasuringInterval.ThreeSeconds, ServiceKind.Delta) with { DeclaredVolts = 480 };
        var row = PanelWave.Measure(plan, wave.Frames(4)).Rows[0];
        Assert.Equal(14400, row.Scalars[Scalars.Total], 0.3);
        Assert.Equal(20364.6753, row.Scalars[Scalars.Total + 3], 0.5);
        Assert.Equal(14400, row.Scalars[Scalars.Total + 10], 0.5);
        Assert.Equal(277.128, row.Scalars[Scalars.Phase + 3] / 30, 0.01);
    }

    // Class A: 0.15 % absolute; IEC 61000-4-30 clause 5.7, values of set P in tests/vectors/sequence (derived).
    [Fact]
    public void Unbalance_is_that_of_the_phasors()
    {
        var wave = new PanelWave(Rate).With(0, 50.3, 230, 0).With(1, 50.3, 225, -121).With(2, 50.3, 234, 119).WithThree(0, 251.5, 12, 10);
        var row = PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.ThreeSeconds), wave.Frames(4)).Rows[0];
        Assert.Equal(0.5528, 100 * row.Scalars[Scalars.Unbalance], 2e-4);
        Assert.Equal(1.7152, 100 * row.Scalars[Scalars.Unbalance + 1], 2e-4);
    }

    // IEC 61000-4-30 clause 4.5 (from memory): two-hour values are made from ten-minute values, not from the windows within them. Two of them suffice to tell.
    [Fact]
    public void Rows_of_more_than_ten_minutes_are_made_from_ten_minute_values()
    {
        const double Slow = 1600;
        var plan = PanelWave.Plan(Slow, 50, new MeasuringInterval(0, 1200));
        var sink = new CollectingSink();
        using (var engine = new MeasuringEngine(plan, sink))
        {
            for (var second = 0; second < 1200; second += 60)
            {
                var frames = new PanelWave(Slow).WithThree(0, 50, second < 600 ? 200 : 260, 0).Frames(60, second);
                // Half of the second ten minutes is lost on V1: its value still counts as much as the first.
                if (second >= 900)
                {
                    for (var frame = 0; frame < frames.Length; frame += Lane.Count) frames[frame] = float.NaN;
                }

                engine.Push(frames);
            }

            engine.Complete();
        }

        var row = Assert.Single(sink.Rows);
        var expected = Math.Sqrt(((200.0 * 200) + (260.0 * 260)) / 2);
        Assert.Equal(6000, row.WindowCount);
        Assert.Equal(ValueMarks.Gap, row.Flags & (ValueMarks.Gap | ValueMarks.Partial));
        Assert.Equal(expected, row.Rms[0], 0.02);
        Assert.Equal(expected, row.Rms[1], 0.02);
        // From the windows it would be the mean over 4,500 of them.
        Assert.NotEqual(Math.Sqrt(((2 * 200.0 * 200) + (260.0 * 260)) / 3), row.Rms[0], 1.0);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_pass_that_another_engine_goes_on_with_gives_the_same_bits(bool isParallel)
    {
        var frames = Usual().Frames(12.34);
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.ThreeSeconds) with { IsParallel = isParallel, SecondsAfterTick = 595 };
        var expected = PanelWave.Measure(plan, frames);
        var sink = new CollectingSink();
        var engine = new MeasuringEngine(plan, sink);
        var rest = frames.AsSpan();
        foreach (var seconds in (double[])[0.0, 0.01, 1.3, 1.2, 2.0, 1.6, 0.05, 3.0])
        {
            var count = (int)(seconds * Rate) * Lane.Count;
            engine.Push(rest[..count]);
            rest = rest[count..];
            var carrier = new StateCarrier();
            engine.Carry(carrier);
            engine.Dispose();
            engine = new MeasuringEngine(plan, sink);
            engine.Carry(new StateCarrier(carrier.Bytes.ToArray()));
        }

        engine.Push(rest);
        engine.Complete();
        engine.Dispose();
        Assert.Equal(expected.Events, sink.Events);
        Assert.Equal(expected.Rows.Count, sink.Rows.Count);
        foreach (var (first, second) in expected.Rows.Zip(sink.Rows))
        {
            Assert.Equal(first.Rms.Select(BitConverter.DoubleToInt64Bits), second.Rms.Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(first.Scalars.Select(BitConverter.DoubleToInt64Bits), second.Scalars.Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(first.Spectrum.SelectMany(row => row).Select(BitConverter.DoubleToInt64Bits), second.Spectrum.SelectMany(row => row).Select(BitConverter.DoubleToInt64Bits));
        }
    }

    [Fact]
    public void Missing_samples_cost_their_lane_and_window_alone()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50, 230, 0).WithThree(4, 50, 10, 0).Frames(4);
        frames[(20600 * Lane.Count) + 1] = float.NaN;
        var sink = PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), frames);

        var lost = sink.Rows.Where(row => double.IsNaN(row.Rms[1])).ToList();
        var window = Assert.Single(lost);
        Assert.True(window.Flags.HasFlag(ValueMarks.Gap));
        Assert.InRange(20600 / Rate, window.StartSeconds, window.EndSeconds);
        Assert.Equal(230, window.Rms[0], 0.01);
        Assert.True(double.IsNaN(window.Scalars[Scalars.Total]));
        Assert.All(sink.Rows.Except(lost), row => Assert.Equal(230, row.Rms[1], 0.01));
    }

    [Fact]
    public void A_gap_in_time_stays_a_gap()
    {
        var wave = new PanelWave(Rate).WithThree(0, 50, 230, 0);
        var sink = new CollectingSink();
        using (var engine = new MeasuringEngine(PanelWave.Plan(Rate, 50, new MeasuringInterval(0, 10)), sink))
        {
            engine.Push(wave.Frames(12));
            engine.Break(33);
            engine.Push(wave.Frames(12, 33));
            engine.Complete();
            Assert.Equal(45, engine.Seconds, 9);
        }

        Assert.Equal([0.0, 10, 30, 40], sink.Rows.Select(row => row.StartSeconds));
        Assert.Equal([false, true, true, true], sink.Rows.Select(row => row.Flags.HasFlag(ValueMarks.Partial)));
        Assert.Equal([50, 10, 35, 25], sink.Rows.Select(row => row.WindowCount));
        Assert.Empty(sink.Events);
    }

    // IEC 61000-4-30 clause 4.5: the window that a ten-minute tick falls into runs on, and the next starts at the tick.
    [Fact]
    public void Windows_start_afresh_at_the_ten_minute_tick()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50.07, 230, 0).Frames(8);
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles) with { SecondsAfterTick = 597 };
        var rows = PanelWave.Measure(plan, frames).Rows;
        var first = rows.First(row => Math.Abs(row.StartSeconds - 3) < 1e-6);
        var before = rows[rows.IndexOf(first) - 1];
        Assert.True(before.StartSeconds < 3 && before.EndSeconds > 3, $"{before.StartSeconds} to {before.EndSeconds}");

        var aggregated = PanelWave.Measure(plan with { Interval = MeasuringInterval.TenMinutes }, frames).Rows;
        Assert.Equal([0.0, 3], aggregated.Select(row => row.StartSeconds));
        Assert.Equal(3, aggregated[0].EndSeconds, 6);
    }

    [Fact]
    public void Rows_are_the_root_of_the_mean_square_of_their_windows()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50, 230, 0, time => 1 + (0.1 * Math.Sin(2 * Math.PI * 0.3 * time))).Frames(9.001);
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles);
        var windows = PanelWave.Measure(plan, frames).Rows;
        var row = PanelWave.Measure(plan with { Interval = MeasuringInterval.ThreeSeconds }, frames).Rows[1];
        Assert.Equal(Math.Sqrt(windows.Skip(15).Take(15).Average(window => window.Rms[0] * window.Rms[0])), row.Rms[0], 1e-9);
    }

    // Clause 5.10: the nearest bin, or the four nearest.
    [Fact]
    public void Mains_signalling_is_found_at_its_frequency()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50, 230, 0).With(0, 316.7, 6, 0).Frames(4);
        var plan = PanelWave.Plan(Rate, 50, MeasuringInterval.ThreeSeconds) with { SignallingHertz = 316.7 };
        // Between two bins a tone spreads: bin 62 to 65 of 63.34 hold Σ sinc² of its square (rectangular window, closed form).
        var share = Enumerable.Range(62, 4).Sum(bin => Math.Pow(Math.Sin(Math.PI * (63.34 - bin)) / (Math.PI * (63.34 - bin)), 2));
        Assert.Equal(6 * Math.Sqrt(share), PanelWave.Measure(plan, frames).Rows[0].Spectrum[SpectrumRow.Signalling][0], 0.02);
    }

    [Theory]
    [InlineData(3200, 28)]
    [InlineData(6400, 50)]
    [InlineData(12800, 50)]
    [InlineData(25600, 50)]
    [InlineData(50000, 50)]
    public void Every_usual_rate_measures_as_well(double rate, int highest)
    {
        var wave = new PanelWave(rate).WithThree(0, 49.9, 230, 0).WithThree(0, 49.9 * 5, 10, 40).WithThree(0, 49.9 * 25, 5, 70);
        var sink = PanelWave.Measure(PanelWave.Plan(rate, 50, MeasuringInterval.ThreeSeconds), wave.Frames(4));
        var row = sink.Rows[0];
        Assert.Equal(new SpectrumRow(highest).Count, row.Spectrum.Length);
        Assert.Equal(Math.Sqrt((230 * 230) + 125), row.Rms[1], 0.01);
        Assert.Equal(10, row.Spectrum[SpectrumRow.Subgroup(5)][1], 0.01);
        Assert.Equal(5, row.Spectrum[SpectrumRow.Subgroup(25)][1], 0.02);
        Assert.Equal(49.9, row.Scalars[Scalars.Frequency], 0.0005);
    }
}
