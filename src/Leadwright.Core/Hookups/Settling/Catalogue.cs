using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>The things that a person can do, with the leads and clamps that the recorder has, on every service that may be at hand.</summary>
internal static class Catalogue
{
    /// <summary>The actions.</summary>
    /// <param name="services">The services: nothing is asked for that needs a conductor which one of them does not have.</param>
    /// <param name="leads">The leads that the recorder has.</param>
    /// <param name="clamps">Its clamps.</param>
    /// <param name="readings">Say what was stated of the instrument.</param>
    /// <param name="options">Say what is known of the site.</param>
    public static List<SettlingAction> Of(
        IReadOnlyList<Service> services, Lead[] leads, Clamp[] clamps, PanelReadings readings, CheckOptions options)
    {
        var conductors = services[0].Conductors.Where(conductor => services.All(service => service.Conductors.Contains(conductor))).ToArray();
        var isThreePhase = services.All(service => service.IsThreePhase);
        var actions = new List<SettlingAction>();
        if (isThreePhase && options.ToldRotation == Rotation.Unknown) actions.Add(new(SettlingKind.Rotation));
        if (readings.PowerSign == PowerSign.NotStated) actions.Add(new(SettlingKind.Watts));
        if (readings.AngleSign == AngleSign.NotStated) actions.Add(new(SettlingKind.Angles));
        actions.Add(new(SettlingKind.Export));
        foreach (var clamp in clamps)
        {
            actions.Add(new(SettlingKind.Arrow) { AtClamp = clamp });
            actions.Add(new(SettlingKind.Clamp) { AtClamp = clamp });
        }

        foreach (var lead in leads)
        {
            actions.Add(new(SettlingKind.Lead) { AtLead = lead });
            actions.Add(new(SettlingKind.Contact) { AtLead = lead });
            foreach (var conductor in conductors) actions.Add(new(SettlingKind.Meter) { AtLead = lead, AtConductor = conductor });
            foreach (var other in leads.Where(other => other > lead)) actions.Add(new(SettlingKind.Meter) { AtLead = lead, ToLead = other });
        }

        foreach (var conductor in conductors) actions.Add(new(SettlingKind.HandClamp) { AtConductor = conductor });
        Switched(conductors, actions);
        if (isThreePhase) actions.Add(new(SettlingKind.Motor));
        return actions;
    }

    private static void Switched(Conductor[] conductors, List<SettlingAction> actions)
    {
        var lines = conductors.Where(conductor => conductor != Conductor.N).ToArray();
        if (conductors.Contains(Conductor.N))
        {
            foreach (var line in lines) actions.Add(new(SettlingKind.Switched) { AtConductor = line });
            return;
        }

        foreach (var line in lines)
        {
            foreach (var other in lines.Where(other => other > line))
                actions.Add(new(SettlingKind.Switched) { AtConductor = line, ToConductor = other });
        }
    }
}
