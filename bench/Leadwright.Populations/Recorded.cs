using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Populations;

/// <summary>Readings of a case from a recording of some seconds instead of from a screen.</summary>
internal static class Recorded
{
    private const double RateHertz = 3200;

    /// <summary>Records a case, with loads that switch, on a supply that wanders and now and then changes.</summary>
    public static PanelReadings Readings(PanelCase panel, double seconds, int steps, int index)
    {
        var random = new SeededRandom(0x57E9UL + (ulong)index);
        var changes = random.Chance(0.5)
            ? ImmutableArray.Create(new SupplyChange(random.Uniform(0.2, 0.8) * seconds, random.Uniform(-0.015, 0.015)))
            : [];
        var history = new SupplyHistory(changes, random.LogUniform(5e-5, 5e-4), 0.2);
        var recording = panel.Samples(new SamplingPlan(RateHertz, seconds), steps, history, onEveryBranch: true);
        var map = recording.Channels.Select((channel, at) => (Enum.Parse<Channel>(channel.Name), at)).ToDictionary(pair => pair.Item1, pair => pair.at);
        var snapshot = PanelSnapshot.Measure(recording, map, new SnapshotOptions(), out _)
            ?? throw new InvalidOperationException($"Case {index} can't be measured.");
        return snapshot.ToReadings(panel.Panel.Service, panel.Panel.Source.Nominal);
    }

    /// <summary>Logs a case in intervals, with loads that switch, on a supply that wanders.</summary>
    public static PanelReadings Logged(PanelCase panel, double intervalSeconds, int rows, int steps, int index)
    {
        var random = new SeededRandom(0x10666UL + (ulong)index);
        var log = panel.Log(new LoggingPlan(intervalSeconds, rows, steps, random.LogUniform(3e-5, 3e-4), random.LogUniform(1e-4, 1e-3)));
        return PanelLog.Read(log, 0, log.Count, panel.Panel.Service, panel.Panel.Source.Nominal)
            ?? throw new InvalidOperationException($"Case {index} can't be read.");
    }
}
