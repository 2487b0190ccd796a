using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups;

/// <summary>Tells whether two hook-ups can't be told apart by any reading of the channels at hand.</summary>
public static class ReadsAlike
{
    /// <summary>True when both hook-ups read the same whatever the load.</summary>
    /// <param name="readings">Says which channels there are, and whether the voltages' sum tells of the neutral lead; nothing else in
    /// their values matters.</param>
    /// <param name="one">A hook-up with the leads and clamps of those channels.</param>
    /// <param name="oneRotation">Rotation of the supply with it.</param>
    /// <param name="other">Another hook-up with the same leads and clamps.</param>
    /// <param name="otherRotation">Rotation of the supply with that.</param>
    public static bool Check(PanelReadings readings, Hookup one, Rotation oneRotation, Hookup other, Rotation otherRotation)
    {
        return Check(readings, one, oneRotation, Conductor.B, other, otherRotation, Conductor.B);
    }

    /// <summary>True when both hook-ups read the same whatever the load, each with its place of the high leg.</summary>
    /// <param name="readings">Says which channels there are, and whether the voltages' sum tells of the neutral lead; nothing else in
    /// their values matters.</param>
    /// <param name="one">A hook-up with the leads and clamps of those channels.</param>
    /// <param name="oneRotation">Rotation of the supply with it.</param>
    /// <param name="oneHighLeg">The high leg with it; matters on a high-leg service alone.</param>
    /// <param name="other">Another hook-up with the same leads and clamps.</param>
    /// <param name="otherRotation">Rotation of the supply with that.</param>
    /// <param name="otherHighLeg">The high leg with that.</param>
    public static bool Check(
        PanelReadings readings, Hookup one, Rotation oneRotation, Conductor oneHighLeg, Hookup other, Rotation otherRotation, Conductor otherHighLeg)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        var observation = ObservationBuilder.Build(readings, default, null);
        var clamps = ObservationBuilder.Clamps(readings, observation.Service);
        return Of(observation, clamps, one, oneRotation, oneHighLeg) == Of(observation, clamps, other, otherRotation, otherHighLeg);
    }

    private static string Of(Observation observation, Clamp[] clamps, Hookup hookup, Rotation rotation, Conductor highLeg)
    {
        var leads = new int[4];
        for (var lead = 0; lead < 4; lead++)
        {
            leads[lead] = observation.Leads.Contains((Lead)lead)
                ? hookup.Leads.TryGetValue((Lead)lead, out var on) ? PlaceOf(on) : lead
                : -1;
        }

        var places = Array.ConvertAll(
            clamps, clamp => hookup.Clamps.TryGetValue(clamp, out var place) ? place : ClampPlace.Right(Service.HomeOf(clamp)));
        var map = new ClampMap(
            Array.ConvertAll(places, place => PlaceOf(place.On)),
            Array.ConvertAll(places, place => place.On is not null && place.Reversed),
            -1, 1, 0);
        var text = new System.Text.StringBuilder(Signature.Of(
            observation,
            new LeadMap(
                leads, rotation == Rotation.Unknown ? Rotation.Abc : rotation, 0,
                observation.Service.Kind == ServiceKind.HighLeg ? (int)highLeg : -1),
            map,
            NeutralLead.IsSilent(observation)));

        // Any number of ratios may be off in a true hook-up; only their differences show.
        double first = 0;
        foreach (var place in places)
        {
            if (place.On is null) continue;
            if (first == 0) first = place.Scale;
            text.Append('x').Append((int)Math.Round(place.Scale / first * 1000));
        }

        return text.ToString();
    }

    private static int PlaceOf(Conductor? conductor) => conductor is { } on ? (int)on : Place.Air;
}
