namespace Leadwright.Reports.Hookups;

/// <summary>Where one lead or clamp is, in words.</summary>
/// <param name="Channel">The lead or clamp, such as <c>I2</c>.</param>
/// <param name="Says">Where it is and which way it faces, in a sentence.</param>
/// <param name="IsRight">True when it is on its own conductor, the right way round, at the right ratio.</param>
public sealed record PlaceEntry(string Channel, string Says, bool IsRight);
