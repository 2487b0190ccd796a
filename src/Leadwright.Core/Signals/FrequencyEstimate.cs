namespace Leadwright.Core.Signals;

/// <summary>A measured fundamental frequency.</summary>
/// <param name="Hertz">The frequency, hertz.</param>
/// <param name="StandardErrorHertz">One standard error, from how far the phases of the blocks lie off a straight line;
/// real changes of the frequency within the recording add to it.</param>
/// <param name="Cycles">Whole cycles it was measured over.</param>
public readonly record struct FrequencyEstimate(double Hertz, double StandardErrorHertz, int Cycles);
