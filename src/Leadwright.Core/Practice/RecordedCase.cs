namespace Leadwright.Core.Practice;

/// <summary>A recording with a known fault.</summary>
/// <param name="Fault">What was wrong, such as <c>clamps-exchanged</c>.</param>
/// <param name="Stored">What the recorder kept: <c>waveforms</c>, <c>watts-and-vars</c>, <c>watts</c> (of each phase), <c>total-watts</c>,
/// <c>volts-and-amperes</c>.</param>
/// <param name="Wanted">What is wanted of it: <c>energy</c>, <c>peak</c>, <c>dip</c>.</param>
public sealed record RecordedCase(string Fault, string Stored, string Wanted);
