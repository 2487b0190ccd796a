namespace Leadwright.Client.Model;

/// <summary>One number on the instrument's screen that a person types.</summary>
/// <param name="Key">Its key in the draft, such as <c>V1.rms</c>.</param>
/// <param name="Label">What to type, in a word, such as <c>volts</c>.</param>
/// <param name="Unit">The unit beside it; empty when it has none.</param>
/// <param name="IsSigned">True when it may be negative.</param>
/// <param name="Highest">The largest size that can be meant, in its unit.</param>
public sealed record ReadingField(string Key, string Label, string Unit, bool IsSigned, double Highest);
