namespace Leadwright.Core.Practice;

/// <summary>A figure that is told with an exercise, such as what a nameplate says.</summary>
/// <param name="Name">Its word, such as <c>heater-watts</c>.</param>
/// <param name="Value">Its value.</param>
/// <param name="Unit">Its unit: <c>W</c>, <c>V</c>, <c>A</c>; empty for a plain number such as a power factor.</param>
public sealed record ExerciseFigure(string Name, double Value, string Unit);
