using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>Where a trainee says a clamp is, as far as it was said.</summary>
/// <param name="HasPlace">True when the conductor, or none, was said.</param>
/// <param name="On">The conductor; null for none.</param>
/// <param name="Reversed">Which way it faces; null while that was not said.</param>
/// <param name="Scale">What its reading must be divided by; 1 unless said.</param>
public readonly record struct ClampDraft(bool HasPlace, Conductor? On, bool? Reversed, double Scale)
{
    /// <summary>Nothing said yet.</summary>
    public static ClampDraft Unsaid { get; } = new(false, null, null, 1);

    /// <summary>The place; null while something of it was not said.</summary>
    public ClampPlace? Place => !HasPlace ? null
        : On is null ? new ClampPlace(null, false, 1)
        : Reversed is { } reversed ? new ClampPlace(On, reversed, Scale) : null;
}
