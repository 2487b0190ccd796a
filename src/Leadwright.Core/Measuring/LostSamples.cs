namespace Leadwright.Core.Measuring;

/// <summary>Where samples are missing: they were taken as zero, and what overlaps them is lost.</summary>
/// <param name="Lanes">Bits of the lanes.</param>
/// <param name="StartPlace">First missing frame of the segment.</param>
/// <param name="EndPlace">Frame after the last.</param>
internal readonly record struct LostSamples(int Lanes, long StartPlace, long EndPlace);
