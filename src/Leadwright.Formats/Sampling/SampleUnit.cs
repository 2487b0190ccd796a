using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>The unit of samples as they are handed over.</summary>
public static class SampleUnit
{
    /// <summary>The unit without its prefix, since samples are in base units: <c>V</c> of a channel in kV; what the file says where it is none that is known.</summary>
    /// <param name="channel">The channel.</param>
    public static string Of(SampledChannel channel)
    {
        ArgumentNullException.ThrowIfNull(channel);
        return UnitText.Parse(channel.Unit).Base;
    }
}
