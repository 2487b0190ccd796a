using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups;

/// <summary>Names how every lead and clamp is connected.</summary>
public static class HookupCheck
{
    /// <summary>Weighs every hook-up against the readings.</summary>
    /// <param name="readings">What the recorder shows.</param>
    /// <param name="options">What is known of the site.</param>
    /// <returns>The verdict. The same input gives the same answer, on any machine.</returns>
    public static HookupVerdict Judge(PanelReadings readings, CheckOptions options)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(options);
        var service = Hookups.Service.Of(readings.Service);
        return new HookupVerdict
        {
            Service = readings.Service,
            Verdict = Verdict.Undecided,
            Best = new Answer(Hookup.Expected(service.Leads, service.Clamps), Rotation.Abc, 0.5, [], []),
            ProbabilityCorrect = 0.5,
            Alternatives = [],
            Evidence = [],
            Notes = [],
            Phasors = ImmutableSortedDictionary<Channel, Phasor>.Empty,
        };
    }
}
