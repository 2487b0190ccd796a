namespace Leadwright.Core.Logs;

/// <summary>A place where the recorder's clock was set, and the times as written were moved so that they go on from one interval to the next.</summary>
/// <param name="Row">The first row after the clock was set.</param>
/// <param name="Ticks">By how much the clock was set back, ticks (100 ns); below zero when it was set forward, as at the start of daylight saving; never zero.
/// To have times as written, subtract it from this row on.</param>
public readonly record struct ClockStep(int Row, long Ticks);
