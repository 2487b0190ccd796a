using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Balanced panels behind a stiff supply, read by an instrument without errors.</summary>
internal static class Ideal
{
    public static readonly NominalVoltage Nominal = new(100, 100 * Math.Sqrt(3));

    public static PanelSource Source(NominalVoltage? nominal = null, Rotation rotation = Rotation.Abc) =>
        new() { Nominal = nominal ?? Nominal, FrequencyHertz = 50, Rotation = rotation };

    public static Hookup Expected(ServiceKind kind) => Hookup.Expected(Service.Of(kind).Leads, Service.Of(kind).Clamps);

    /// <summary>A balanced load of 3 kW at a lagging power factor.</summary>
    public static PanelSolution Balanced(ServiceKind kind, double powerFactor, Rotation rotation = Rotation.Abc) =>
        new VirtualPanel(kind, Source(rotation: rotation), PanelLoad.Linear(kind, Nominal, 3000, powerFactor)).Solve();

    public static PanelReadings Read(PanelSolution solution, Hookup hookup) => Instrument.Ideal.Read(solution, hookup, 1);

    public static double Watts(PanelReadings readings) => readings.Phases.Values.Sum(phase => phase.Watts!.Value);

    public static Phasor Of(PanelReadings readings, Channel channel) =>
        Phasor.FromDegrees(readings.Channels[channel].Rms!.Value, readings.Channels[channel].AngleDegrees!.Value);

    public static Hookup WithClamps(this Hookup hookup, params (Clamp Clamp, Conductor? On, bool Reversed)[] places) =>
        hookup with
        {
            Clamps = hookup.Clamps.SetItems(places.Select(place =>
                KeyValuePair.Create(place.Clamp, new ClampPlace(place.On, place.Reversed, 1)))),
        };

    public static Hookup WithLeads(this Hookup hookup, params (Lead Lead, Conductor? On)[] places) =>
        hookup with { Leads = hookup.Leads.SetItems(places.Select(place => KeyValuePair.Create(place.Lead, place.On))) };

    /// <summary>All six orders of three things.</summary>
    public static ImmutableArray<int[]> Orders { get; } = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
}
