namespace Leadwright.Core.Signals;

/// <summary>A channel of a recording that is to be measured.</summary>
/// <param name="Index">Its index among the recording's channels.</param>
/// <param name="Kind">What it measures.</param>
public readonly record struct SignalChoice(int Index, SignalKind Kind);
