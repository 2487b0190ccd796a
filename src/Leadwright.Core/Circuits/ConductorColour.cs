namespace Leadwright.Core.Circuits;

/// <summary>The colour of a conductor's insulation or marking.</summary>
/// <param name="Word">The spoken word, in lower case, such as <c>brown</c> or <c>green-yellow</c>. Always show it beside
/// the colour: screens, lamps and eyes differ.</param>
/// <param name="CssHex">A display colour, <c>#rrggbb</c>. Chosen for screens; no standard fixes it.</param>
/// <param name="StripeCssHex">The second colour of a striped marking; null when it is plain.</param>
public sealed record ConductorColour(string Word, string CssHex, string? StripeCssHex = null);
