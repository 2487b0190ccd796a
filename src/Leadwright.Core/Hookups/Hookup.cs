using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups;

/// <summary>How one clamp sits.</summary>
/// <param name="On">The conductor in its jaws; null when it surrounds nothing (or is not closed).</param>
/// <param name="Reversed">True when its arrow points away from the load. Has no meaning when <paramref name="On"/> is null.</param>
/// <param name="Scale">What its reading must be divided by: 1 when its ratio or range is right, 10 when it reads ten
/// times too much. Above zero.</param>
public readonly record struct ClampPlace(Conductor? On, bool Reversed, double Scale)
{
    /// <summary>A clamp that is where it should be.</summary>
    public static ClampPlace Right(Conductor on) => new(on, false, 1);
}

/// <summary>The state of all leads and clamps at one time.</summary>
/// <param name="Leads">Where each lead that the recorder has is: a conductor, or null for a lead in the air. A lead that
/// the recorder does not have is not in the map.</param>
/// <param name="Clamps">How each clamp that the recorder has sits.</param>
public sealed record Hookup(
    ImmutableSortedDictionary<Lead, Conductor?> Leads,
    ImmutableSortedDictionary<Clamp, ClampPlace> Clamps)
{
    /// <summary>The hook-up that the trade expects: lead and clamp 1 on A, 2 on B, 3 on C, arrows toward the load.</summary>
    /// <param name="leads">The leads that the recorder has.</param>
    /// <param name="clamps">The clamps that the recorder has.</param>
    public static Hookup Expected(IEnumerable<Lead> leads, IEnumerable<Clamp> clamps) => new(
        leads.ToImmutableSortedDictionary(lead => lead, lead => (Conductor?)Service.HomeOf(lead)),
        clamps.ToImmutableSortedDictionary(clamp => clamp, clamp => ClampPlace.Right(Service.HomeOf(clamp))));

    /// <summary>True when every lead and clamp is on its own conductor, the right way round, at the right ratio.</summary>
    public bool IsRight =>
        Leads.All(lead => lead.Value == Service.HomeOf(lead.Key))
        && Clamps.All(clamp => clamp.Value == ClampPlace.Right(Service.HomeOf(clamp.Key)));

    /// <summary>Equal when every lead and clamp is in the same place.</summary>
    public bool Equals(Hookup? other) =>
        other is not null && Leads.SequenceEqual(other.Leads) && Clamps.SequenceEqual(other.Clamps);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var lead in Leads) hash.Add(lead);
        foreach (var clamp in Clamps) hash.Add(clamp);
        return hash.ToHashCode();
    }
}
