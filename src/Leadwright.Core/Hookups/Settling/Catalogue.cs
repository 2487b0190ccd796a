using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>The things that a person can do on a service, with the leads and clamps that the recorder has.</summary>
internal static class Catalogue
{
    public static List<SettlingAction> Of(Service service, Lead[] leads, Clamp[] clamps, PanelReadings readings, CheckOptions options)
    {
        var actions = new List<SettlingAction>();
        if (service.IsThreePhase && options.ToldRotation == Rotation.Unknown) actions.Add(new(SettlingKind.Rotation));
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
            foreach (var conductor in service.Conductors) actions.Add(new(SettlingKind.Meter) { AtLead = lead, AtConductor = conductor });
            foreach (var other in leads.Where(other => other > lead)) actions.Add(new(SettlingKind.Meter) { AtLead = lead, ToLead = other });
        }

        foreach (var conductor in service.Conductors) actions.Add(new(SettlingKind.HandClamp) { AtConductor = conductor });
        Switched(service, actions);
        if (service.IsThreePhase) actions.Add(new(SettlingKind.Motor));
        return actions;
    }

    private static void Switched(Service service, List<SettlingAction> actions)
    {
        var lines = service.Conductors.Where(conductor => conductor != Conductor.N).ToArray();
        if (service.Conductors.Contains(Conductor.N))
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
