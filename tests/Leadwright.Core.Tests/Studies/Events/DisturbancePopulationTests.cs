using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Panels.Disturbances;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Core.Tests.Studies.Events;

/// <summary>Virtual sites with known truth, measured as a recording is. The bounds lie below what docs/methods/events-study.md tables for hundreds of sites.</summary>
public sealed class DisturbancePopulationTests
{
    private const int Sites = 24;

    [Theory]
    [InlineData(DisturbanceKind.SupplyDip, EventSide.Upstream)]
    [InlineData(DisturbanceKind.NeighbourFault, EventSide.Upstream)]
    [InlineData(DisturbanceKind.NeighbourMotorStart, EventSide.Upstream)]
    [InlineData(DisturbanceKind.NeighbourTransformer, EventSide.Upstream)]
    [InlineData(DisturbanceKind.FeederFault, EventSide.Downstream)]
    [InlineData(DisturbanceKind.MotorStart, EventSide.Downstream)]
    [InlineData(DisturbanceKind.TransformerEnergising, EventSide.Downstream)]
    public void Dips_come_from_their_side_or_from_none(DisturbanceKind kind, EventSide truth)
    {
        var seen = Seen(kind).Select(pair => pair.Shape.Origin).OfType<DipOrigin>().ToList();
        Assert.True(seen.Count >= 3);
        Assert.All(seen, origin => Assert.True(origin.Side == truth || origin.Side == EventSide.Undecided, string.Join(", ", origin.Votes)));
        Assert.True(seen.Count(origin => origin.Side == truth) >= 0.5 * seen.Count);
    }

    [Theory]
    [InlineData(DisturbanceKind.SupplyDip, EventCauseKind.Fault)]
    [InlineData(DisturbanceKind.FeederFault, EventCauseKind.Fault)]
    [InlineData(DisturbanceKind.MotorStart, EventCauseKind.MotorStart)]
    [InlineData(DisturbanceKind.NeighbourMotorStart, EventCauseKind.MotorStart)]
    [InlineData(DisturbanceKind.TransformerEnergising, EventCauseKind.TransformerEnergising)]
    [InlineData(DisturbanceKind.NeighbourTransformer, EventCauseKind.TransformerEnergising)]
    public void Dips_look_like_what_they_are_or_like_nothing(DisturbanceKind kind, EventCauseKind truth)
    {
        var seen = Seen(kind).Select(pair => pair.Shape.Cause!).ToList();
        Assert.All(seen, cause => Assert.True(cause.Kind == truth || cause.Kind == EventCauseKind.Unknown, cause.Says));
        Assert.True(seen.Count(cause => cause.Kind == truth) >= 0.7 * seen.Count);
    }

    [Fact]
    public void Types_of_supply_dips_are_named_with_their_phase() => Assert.All(Seen(DisturbanceKind.SupplyDip), pair =>
    {
        var type = pair.Shape.Type!.Value;
        Assert.Equal((pair.Site.Letter, pair.Site.Letter == 'A' ? 0 : pair.Site.Phase + 1), (type.Letter, type.Phase));
    });

    [Theory]
    [InlineData(DisturbanceKind.CapacitorAhead, EventSide.Upstream)]
    [InlineData(DisturbanceKind.CapacitorBehind, EventSide.Downstream)]
    public void Capacitors_are_found_on_their_side(DisturbanceKind kind, EventSide truth) =>
        Assert.All(Seen(kind), pair => Assert.True(pair.Shape.Capacitor!.Value.Side == truth || pair.Shape.Capacitor.Value.Side == EventSide.Undecided));

    // A steady circuit of impedances is a closed form: V = E Z/(Zs + Z).
    [Fact]
    public void The_simulation_settles_where_phasors_say()
    {
        var site = new DisturbanceSite(DisturbanceKind.CapacitorAhead)
        {
            Source = (0.05, 0.1), Feeder = (0.02, 0.01), Neighbour = (1e6, 0), Load = [(2, 1), (2, 1), (2, 1)], Bank = (1e6, 1), StartSeconds = 10, Seconds = 0.5, Noise = 0,
        };
        var frames = DisturbanceRecorder.Record(site);
        var load = new Phasor(2.02, 1.01);
        var current = new Phasor(230, 0) / (load + new Phasor(0.05, 0.1));
        var expected = current * load;
        Assert.Equal(expected.Magnitude, RmsOf(frames, 0), 2e-3 * expected.Magnitude);
        Assert.Equal(current.Magnitude, RmsOf(frames, Lane.VoltageCount), 2e-3 * current.Magnitude);
    }

    [Fact]
    public void The_same_seed_gives_the_same_samples() =>
        Assert.Equal(DisturbanceRecorder.Record(new DisturbancePopulation(3).Site(DisturbanceKind.MotorStart, 1)), DisturbanceRecorder.Record(new DisturbancePopulation(3).Site(DisturbanceKind.MotorStart, 1)));

    private static double RmsOf(float[] frames, int lane)
    {
        const int Cycle = 128;
        var (sum, count) = (0.0, frames.Length / Lane.Count);
        for (var frame = count - Cycle; frame < count; frame++) sum += frames[(frame * Lane.Count) + lane] * (double)frames[(frame * Lane.Count) + lane];
        return Math.Sqrt(sum / Cycle);
    }

    private static IEnumerable<(DisturbanceSite Site, EventShape Shape)> Seen(DisturbanceKind kind)
    {
        var population = new DisturbancePopulation(5);
        for (var index = 0; index < Sites; index++)
        {
            var site = population.Site(kind, index);
            if (ShapeOf(site) is { } shape) yield return (site, shape);
        }
    }

    private static EventShape? ShapeOf(DisturbanceSite site)
    {
        var plan = new MeasuringPlan { RateHertz = site.RateHertz, NominalHertz = site.NominalHertz, Service = ServiceKind.Wye, Lanes = 0x77, DeclaredVolts = 230, Interval = new(0, 60) };
        var sink = new Sink(plan, site);
        using var engine = new MeasuringEngine(plan, sink);
        engine.Push(DisturbanceRecorder.Record(site));
        engine.Complete();
        return sink.Shape;
    }

    private sealed class Sink(MeasuringPlan plan, DisturbanceSite site) : IMeasurementSink
    {
        private readonly VoltageEventKind _wanted =
            site.Kind is DisturbanceKind.CapacitorAhead or DisturbanceKind.CapacitorBehind ? VoltageEventKind.Transient : VoltageEventKind.Dip;

        public EventShape? Shape { get; private set; }

        public void TakeWaveform(CapturedWaveform waveform)
        {
            if (Shape is null && waveform.Event.Event.Kind == _wanted && Math.Abs(waveform.Event.StartSeconds - site.StartSeconds) < 0.05) Shape = EventShape.Of(waveform, plan);
        }

        public void TakeInterval(IntervalValues values)
        {
        }

        public void TakeEvent(TimedEvent found)
        {
        }

        public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags)
        {
        }

        public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags)
        {
        }
    }
}
