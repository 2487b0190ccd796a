using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>The phasors that a screen of readings shows, in the shape that the vector diagram draws.</summary>
public static class ReadingVectors
{
    /// <summary>The phasors; null when the readings have no angles, or not from one reference.</summary>
    /// <param name="readings">The readings.</param>
    public static HookupVerdict? Of(PanelReadings readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (readings.AngleSign == AngleSign.LagPositive || readings.CurrentAngleReference == CurrentAngleReference.OwnVoltage) return null;
        var phasors = readings.Channels.Where(entry => entry.Value is { Rms: not null, AngleDegrees: not null })
            .ToImmutableSortedDictionary(entry => entry.Key, entry => Phasor.FromDegrees(entry.Value.Rms!.Value, entry.Value.AngleDegrees!.Value));
        if (phasors.IsEmpty) return null;
        return new HookupVerdict
        {
            Service = readings.Service,
            Verdict = Verdict.Undecided,
            Best = new Answer(Hookup.Expected([], []), Rotation.Unknown, 0, [], []),
            ProbabilityCorrect = 0,
            Alternatives = [],
            Evidence = [],
            Notes = [],
            Phasors = phasors,
        };
    }
}
