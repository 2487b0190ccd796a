namespace Leadwright.Core.Signals.Events;

/// <summary>An rms value over one cycle, refreshed each half cycle: U<sub>rms(1/2)</sub> or I<sub>rms(1/2)</sub>.</summary>
/// <param name="Lane">The lane whose fundamental set the bounds.</param>
/// <param name="StartPlace">Start of its cycle, in frames from the start of the segment.</param>
/// <param name="EndPlace">End of its cycle.</param>
/// <param name="Rms">The value of the lane.</param>
/// <param name="PartnerRms">The value of the current of the same line over the same cycle.</param>
internal readonly record struct HalfCycle(int Lane, double StartPlace, double EndPlace, double Rms, double PartnerRms);
