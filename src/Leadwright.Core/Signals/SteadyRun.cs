namespace Leadwright.Core.Signals;

/// <summary>A run of cycles in which nothing happens.</summary>
/// <param name="Stretch">The stretch that it lies in.</param>
/// <param name="FromSeconds">Its begin, after the recording's start.</param>
/// <param name="Cycles">Its length in cycles.</param>
internal readonly record struct SteadyRun(Stretch Stretch, double FromSeconds, int Cycles);
