using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Hookups.Waves;

/// <summary>A panel recorded for some seconds, as readings of the check.</summary>
internal static class RecordedPanel
{
    private const double Rate = 3200;

    public static PanelReadings Readings(SampledRecording recording, ServiceKind service, NominalVoltage nominal)
    {
        var map = recording.Channels.Select((channel, index) => (Channel: Enum.Parse<Channel>(channel.Name), index))
            .ToDictionary(pair => pair.Channel, pair => pair.index);
        var snapshot = PanelSnapshot.Measure(recording, map, new SnapshotOptions(), out var refusal, TestContext.Current.CancellationToken);
        Assert.Equal(SnapshotRefusal.None, refusal);
        return snapshot!.ToReadings(service, nominal);
    }

    /// <summary>A case of a population, loads switched on one branch after the other, the supply wandering.</summary>
    public static PanelReadings Readings(PanelCase drawn, double seconds, int steps) => Readings(
        drawn.Samples(new SamplingPlan(Rate, seconds), steps, new SupplyHistory([], 1e-4), onEveryBranch: true),
        drawn.Panel.Service, drawn.Panel.Source.Nominal);

    /// <summary>A four-wire board of 230 V behind 20 + 15j milliohms a line, with the hook-up and the loads given.</summary>
    public static PanelReadings Wye(Hookup hookup, double sourceFactor, params ImmutableArray<PanelLoad> loads) =>
        Of(ServiceKind.Wye, new NominalVoltage(230, 400), hookup, sourceFactor, loads);

    /// <summary>The same on any service.</summary>
    public static PanelReadings Of(
        ServiceKind service, NominalVoltage nominal, Hookup hookup, double sourceFactor, params ImmutableArray<PanelLoad> loads)
    {
        var source = new PanelSource
        {
            Nominal = nominal,
            FrequencyHertz = 50.02,
            Line = new Impedance(0.020 * sourceFactor, 0.015 * sourceFactor),
            Neutral = new Impedance(0.025 * sourceFactor, 0.015 * sourceFactor),
            DeviationB = new PhaseDeviation(-0.004, 0.2),
            History = new SupplyHistory([], 1e-4),
        };
        var instrument = Instrument.Ideal with { ClampRatingAmperes = 200, SampleNoiseFraction = 3e-4, OpenClampFraction = 0.001 };
        var recording = instrument.Sample(new VirtualPanel(service, source, loads), hookup, new SamplingPlan(Rate, 6), 3);
        return Readings(recording, service, nominal);
    }
}
