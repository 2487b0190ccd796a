using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Core.Tests.Studies.Events;

/// <summary>Waveforms made by closed forms, with known truth.</summary>
public sealed class EventShapeTests
{
    private const double Rate = 6400, Hertz = 50;
    private const int Cycle = 128;

    [Fact]
    public void A_fault_is_rectangular_with_its_type()
    {
        // Phase A at 60 % for five cycles, five cycles in: type B without zero sequence borders on D; with the two others whole it is B.
        var run = Run((frame, phase) => phase == 0 && frame is >= 5 * Cycle and < 10 * Cycle ? 0.6 : 1, (_, _) => 10, _ => 0, 10);
        Assert.Equal(('B', 1), (run.Type()!.Value.Letter, run.Type()!.Value.Phase));
        Assert.Equal(EventCauseKind.Fault, EventCause.Of(run).Kind);
    }

    [Fact]
    public void A_motor_start_is_balanced_and_recovers_slowly()
    {
        double Lack(int frame) => frame < 5 * Cycle ? 0 : 0.15 * Math.Exp(-(frame - (5.0 * Cycle)) / (8 * Cycle));
        var run = Run((frame, _) => 1 - Lack(frame), (frame, _) => 10 * (1 + (35 * Lack(frame))), _ => 0, 20);
        Assert.Equal('A', run.Type()!.Value.Letter);
        Assert.Equal(EventCauseKind.MotorStart, EventCause.Of(run).Kind);
    }

    [Fact]
    public void Energising_shows_second_harmonic_and_unlike_phases()
    {
        double Lack(int frame, int phase) => frame < 5 * Cycle ? 0 : (0.06 + (0.05 * phase)) * Math.Exp(-(frame - (5.0 * Cycle)) / (8 * Cycle));
        var run = Run((frame, phase) => 1 - Lack(frame, phase), (frame, phase) => 10 * (1 + (30 * Lack(frame, phase))), frame => frame < 5 * Cycle ? 0 : 0.4, 20);
        Assert.Equal(EventCauseKind.TransformerEnergising, EventCause.Of(run).Kind);
    }

    [Theory]
    [InlineData(true, EventSide.Downstream)]
    [InlineData(false, EventSide.Upstream)]
    public void A_capacitor_is_found_on_its_side(bool isDownstream, EventSide side)
    {
        // At the instant the capacitor is a short circuit: the voltage falls; the current to a downstream one rises, the load's falls with the voltage for an upstream one.
        var frames = new float[4 * Cycle * Lane.Count];
        for (var frame = 0; frame < 4 * Cycle; frame++)
        {
            for (var phase = 0; phase < 3; phase++)
            {
                var angle = (2 * Math.PI * frame / Cycle) - (2 * Math.PI * phase / 3);
                var after = frame - (2 * Cycle) - 20;
                var ring = after < 0 ? 0 : Math.Exp(-after / 30.0) * Math.Cos(after * 0.5) * Math.Cos(angle - (2 * Math.PI * after / Cycle));
                var volts = (325 * Math.Cos(angle)) - (200 * ring);
                frames[(frame * Lane.Count) + phase] = (float)volts;
                frames[(frame * Lane.Count) + phase + Lane.VoltageCount] = (float)((volts / 20) + (isDownstream ? 60 * ring : 0));
            }
        }

        Assert.Equal(side, CapacitorSide.Judge(frames, Cycle, 325).Side);
        Assert.Equal(EventSide.Undecided, CapacitorSide.Judge(frames.AsSpan(0, 2 * Cycle * Lane.Count), Cycle, 325).Side);
    }

    [Fact]
    public void Events_on_several_channels_at_once_are_one_and_neighbours_in_time_a_group()
    {
        var start = new DateTime(2026, 3, 2, 10, 0, 0);
        var first = new StudyEvent("dip", ["V1"], start, 0.2, 70);
        var second = new StudyEvent("dip", ["V2"], start.AddSeconds(0.1), 0.3, 40);
        var later = new StudyEvent("dip", ["V1"], start.AddSeconds(20), 0.05, 85);
        var last = new StudyEvent("dip", ["V1"], start.AddSeconds(90), 0.05, 85);
        var events = EventGroups.Polyphase([second, first, later, last]);
        Assert.Equal(3, events.Length);
        Assert.Equal(["V1", "V2"], events[0].Channels);
        Assert.Equal((start, 40), (events[0].Start, events[0].ExtremePercent));
        Assert.Equal(0.4, events[0].Seconds, 1e-6);
        var groups = EventGroups.InTime(events, TimeSpan.FromMinutes(1));
        Assert.Equal([2, 1], groups.Select(group => group.Length));
        Assert.Equal(40, EventGroups.Worst(groups[0]).ExtremePercent);
    }

    private static CyclePhasorRun Run(Func<int, int, double> voltage, Func<int, int, double> current, Func<int, double> second, int endCycle)
    {
        const int Count = 20 * Cycle;
        var frames = new float[Count * Lane.Count];
        for (var frame = 0; frame < Count; frame++)
        {
            for (var phase = 0; phase < 3; phase++)
            {
                var angle = (2 * Math.PI * frame / Cycle) - (2 * Math.PI * phase / 3);
                frames[(frame * Lane.Count) + phase] = (float)(325 * voltage(frame, phase) * Math.Cos(angle));
                frames[(frame * Lane.Count) + phase + Lane.VoltageCount] = (float)(current(frame, phase) * (Math.Cos(angle - 0.5) + (second(frame) * Math.Cos(2 * angle))));
            }
        }

        return CyclePhasorRun.Of(frames, Rate, Hertz, 5 * Cycle, endCycle * Cycle, hasCurrents: true)!;
    }
}
