using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Practice;

/// <summary>Half-cycle values of all channels around a moment: U rms(1/2) and the same of the currents.</summary>
/// <param name="StepSeconds">Time from one value to the next: half a cycle.</param>
/// <param name="Values">Volts or amperes rms over one cycle, anew each half cycle; all channels have as many.</param>
public sealed record HalfCycleStrip(double StepSeconds, ImmutableSortedDictionary<Channel, ImmutableArray<double>> Values)
{
    /// <summary>How many values each channel has.</summary>
    public int Count => Values.IsEmpty ? 0 : Values.Values.First().Length;
}
