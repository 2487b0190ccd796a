namespace Leadwright.Core.Logs;

/// <summary>A place where the times as written went back, and were moved so that they rise.</summary>
/// <param name="Row">The first row after the clock was set.</param>
/// <param name="Ticks">By how much the clock was set back, ticks (100 ns); above zero. To times as written, subtract it from this row on.</param>
public readonly record struct ClockStep(int Row, long Ticks);
