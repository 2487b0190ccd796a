namespace Leadwright.Core.Studies.Findings;

/// <summary>A figure that rules look at.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Value">Its value; NaN when not known.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="At">When it was so; null for figures of the whole record.</param>
/// <param name="Subject">What it is about where there can be several, such as the name of a tolerance curve.</param>
public readonly record struct StudyMetric(string Name, double Value, string Unit = "", DateTime? At = null, string Subject = "");
