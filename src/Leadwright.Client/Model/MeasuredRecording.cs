using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>What was measured from a recording.</summary>
/// <param name="Readings">The readings; null when none could be measured.</param>
/// <param name="Remarks">What to know about how they were read and measured, in sentences.</param>
/// <param name="Refusal">Why there are none and what to do; empty when there are.</param>
public sealed record MeasuredRecording(PanelReadings? Readings, ImmutableArray<string> Remarks, string Refusal);
