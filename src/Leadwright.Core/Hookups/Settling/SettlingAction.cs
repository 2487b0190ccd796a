namespace Leadwright.Core.Hookups.Settling;

/// <summary>One thing that a person can do to settle what the readings leave open.</summary>
/// <param name="Kind">What is done.</param>
public sealed record SettlingAction(SettlingKind Kind)
{
    /// <summary>The lead that it is done with; null where it concerns none.</summary>
    public Lead? AtLead { get; init; }

    /// <summary>The other lead, of a voltage from lead to lead; null where there is none.</summary>
    public Lead? ToLead { get; init; }

    /// <summary>The clamp that is looked at; null where it concerns none.</summary>
    public Clamp? AtClamp { get; init; }

    /// <summary>The conductor that is measured or switched; null where it concerns none.</summary>
    public Circuits.Conductor? AtConductor { get; init; }

    /// <summary>The other line of a load between two lines; null for a load from line to neutral.</summary>
    public Circuits.Conductor? ToConductor { get; init; }

    /// <summary>Its name on the command line and in files: <c>rotation</c>, <c>meter:V2-B</c>, <c>switched:A</c>.</summary>
    public string Id => SettlingText.IdOf(this);
}
