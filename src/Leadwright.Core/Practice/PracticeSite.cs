using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice;

/// <summary>A simulated panel as the trainee meets it: what hangs on it, and what comes of reading and switching there.</summary>
/// <remarks>Everything is really switched and read on the simulated panel; nothing of the check of hook-ups is used.</remarks>
internal sealed class PracticeSite
{
    private const double SwitchedShare = 0.06;
    private const double MovedShare = 0.1;

    /// <param name="panel">The panel.</param>
    /// <param name="instrument">The instrument.</param>
    /// <param name="hookup">How leads and clamps really are.</param>
    /// <param name="seed">Makes the noise.</param>
    /// <param name="readings">What it shows at first; null to read it.</param>
    public PracticeSite(VirtualPanel panel, Instrument instrument, Hookup hookup, ulong seed, PanelReadings? readings = null)
    {
        (Panel, Instrument, Hookup, Seed) = (panel, instrument, hookup, seed);
        Readings = readings ?? instrument.Read(panel.Solve(), hookup, seed);
    }

    public VirtualPanel Panel { get; }

    public Instrument Instrument { get; }

    public Hookup Hookup { get; }

    public ulong Seed { get; }

    public PanelReadings Readings { get; }

    /// <summary>The motor that <see cref="SettlingKind.Motor"/> starts; null for one of a size that suits the clamps.</summary>
    public PanelLoad? Motor { get; init; }

    private double HeaterWatts => SwitchedShare * Instrument.ClampRatingAmperes * Panel.Source.Nominal.LineToNeutralVolts;

    /// <summary>What a person may do at a panel of a service without following a lead or clamp by eye.</summary>
    public static ImmutableArray<SettlingAction> ActionsOn(ServiceKind kind)
    {
        var service = Service.Of(kind);
        var lines = service.Conductors.Where(conductor => conductor < Conductor.N).ToArray();
        var actions = ImmutableArray.CreateBuilder<SettlingAction>();
        if (service.IsThreePhase) actions.Add(new SettlingAction(SettlingKind.Rotation));
        foreach (var lead in service.Leads)
        {
            foreach (var conductor in service.Conductors)
                actions.Add(new SettlingAction(SettlingKind.Meter) { AtLead = lead, AtConductor = conductor });
        }

        foreach (var conductor in service.Conductors) actions.Add(new SettlingAction(SettlingKind.HandClamp) { AtConductor = conductor });
        if (service.IsThreeWire)
        {
            foreach (var (from, to) in PanelLoad.BranchesOf(kind))
            {
                actions.Add(new SettlingAction(SettlingKind.Switched)
                {
                    AtConductor = from < to ? from : to, ToConductor = from < to ? to : from,
                });
            }
        }
        else
        {
            foreach (var line in lines) actions.Add(new SettlingAction(SettlingKind.Switched) { AtConductor = line });
        }

        if (service.IsThreePhase) actions.Add(new SettlingAction(SettlingKind.Motor));
        return actions.ToImmutable();
    }

    /// <summary>Does something and says what is found.</summary>
    /// <exception cref="ArgumentException">The action is not one that this site answers.</exception>
    public TakenReading Take(SettlingAction action) => action.Kind switch
    {
        SettlingKind.Rotation => new(action, Panel.Source.Rotation == Rotation.Acb ? "acb" : "abc"),
        SettlingKind.Meter => new(action, Volts(action)),
        SettlingKind.HandClamp => new(action, SettlingText.Size(RmsOf(action.AtConductor!.Value))),
        SettlingKind.Switched => Switch(action, SwitchedLoad(action)),
        SettlingKind.Motor => Start(action),
        _ => throw new ArgumentException($"'{action.Id}' is not done in practice.", nameof(action)),
    };

    // A meter of low input resistance: a lead in the air shows nothing.
    private string Volts(SettlingAction action)
    {
        var first = Hookup.Leads[action.AtLead!.Value];
        var second = action.ToLead is { } lead ? Hookup.Leads[lead] : action.AtConductor;
        if (first is not { } from || second is not { } to || from == to) return "0";
        var solution = Panel.Solve();
        var square = 0.0;
        foreach (var order in solution.Orders) square += (solution.Potential(from, order) - solution.Potential(to, order)).SquaredMagnitude;
        return Math.Sqrt(square).ToString("0.#", CultureInfo.InvariantCulture);
    }

    private double RmsOf(Conductor conductor)
    {
        var solution = Panel.Solve();
        var square = 0.0;
        foreach (var order in solution.Orders) square += solution.Current(conductor, order).SquaredMagnitude;
        return Math.Sqrt(square);
    }

    private PanelLoad SwitchedLoad(SettlingAction action) => action.ToConductor is { } other
        ? PanelLoad.LineToLine(Panel.Service, Panel.Source.Nominal, action.AtConductor!.Value, other, HeaterWatts, 1)
        : PanelLoad.SinglePhase(Panel.Source.Nominal, action.AtConductor!.Value, HeaterWatts, 1);

    private TakenReading Switch(SettlingAction action, PanelLoad load)
    {
        var moved = ChangesWith(load).Where(change => Math.Abs(change.Watts) > MovedShare * HeaterWatts)
            .Select(change => KeyValuePair.Create(change.Clamp, Math.Sign(change.Watts)));
        return new(action, SettlingText.Moved(moved), ReadWith(load));
    }

    private TakenReading Start(SettlingAction action)
    {
        var watts = 3 * HeaterWatts;
        var load = Motor ?? PanelLoad.Motor(Panel.Source.Nominal, watts, 0.75);
        var changes = ChangesWith(load).ToList();
        var answer = changes.TrueForAll(change => change.Watts > 0.02 * watts) ? "up"
            : changes.TrueForAll(change => change.Watts < -0.02 * watts) ? "down" : "mixed";
        return new(action, answer, ReadWith(load));
    }

    private VirtualPanel With(PanelLoad load) => new(Panel.Service, Panel.Source, Panel.Loads.Add(load));

    private PanelReadings ReadWith(PanelLoad load) => Instrument.Read(With(load).Solve(), Hookup, Seed);

    /// <summary>By how much the power that each line clamp goes into moves, told without the noise of two single readings: a person
    /// watches the screen for a while.</summary>
    private IEnumerable<(Clamp Clamp, double Watts)> ChangesWith(PanelLoad load)
    {
        var quiet = Instrument with
        {
            CurrentNoiseFraction = 0,
            VoltageNoiseFraction = 0,
            OverloadFactor = 100,
            Display = InstrumentDisplay.Everything,
        };
        var before = quiet.Read(Panel.Solve(), Hookup, Seed);
        var after = quiet.Read(With(load).Solve(), Hookup, Seed);
        foreach (var clamp in Hookup.Clamps.Keys.Where(clamp => clamp != Clamp.IN))
        {
            var phase = (int)clamp + 1;
            if (before.Phases.TryGetValue(phase, out var earlier) && earlier.Watts is { } watts && after.Phases[phase].Watts is { } later)
                yield return (clamp, later - watts);
        }
    }
}
