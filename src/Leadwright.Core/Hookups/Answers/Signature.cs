using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What an arrangement makes the channels read, whatever the load: equal signatures can't be told apart.</summary>
/// <remarks>
/// Two arrangements are the same to every reading when the pattern of voltages, and each clamp's direction against it, agree up
/// to one common turn, and the same clamps share a conductor. So leads and clamps that moved round together, clamps exchanged
/// on a split service against both reversed, or a two-wire service with its two leads exchanged against its clamp turned,
/// come out equal. Derivation: docs/methods/hook-up-evidence.md, "What can't be told apart".
/// </remarks>
internal static class Signature
{
    private const double Grain = 40;

    /// <param name="observation">Says which channels there are.</param>
    /// <param name="leads">The leads.</param>
    /// <param name="clamps">The clamps.</param>
    /// <param name="neutralIsSilent">True when the sum of the voltages does not tell a neutral lead in the air from one on the
    /// neutral: then they are one answer.</param>
    public static string Of(Observation observation, LeadMap leads, ClampMap clamps, bool neutralIsSilent)
    {
        var service = observation.Service;
        var conductors = LeadPotentials.Conductors(service, leads);
        var potentials = LeadPotentials.Of(leads, service, conductors);
        var lineAngles = LeadPotentials.LineAngles(service, leads, conductors);
        var turn = Phasor.Zero;
        var text = new System.Text.StringBuilder(64);
        // Where the only voltage reads nothing, a lead in the air and two on one conductor are the same to it.
        var isOneOpen = observation.Leads.Length == 2 && observation.Leads.Any(lead => leads[lead] == Place.Air);
        if (observation.IsLoneSilent && (isOneOpen || leads[observation.Leads[0]] == leads[observation.Leads[1]])) text.Append("nothing");
        else foreach (var voltage in observation.Voltages) Append(potentials.Between(voltage.Plus, voltage.Minus));
        foreach (var pair in observation.LineToLine) Append(potentials.Between(pair.First, pair.Second));

        // A lead in the air is not the same as one whose place happens to read alike.
        // Of one input's two leads no reading tells which is in the air.
        if (isOneOpen) text.Append(observation.IsLoneSilent ? "" : "one open");
        else if (!observation.IsLoneSilent || leads[observation.Leads[0]] != leads[observation.Leads[1]]) foreach (var lead in observation.Leads)
            text.Append(leads[lead] == Place.Air && !(lead == Lead.VN && neutralIsSilent) ? 'o' : '.');
        text.Append('|');
        Span<int> groups = stackalloc int[4];
        groups.Fill(-1);
        var group = 0;
        double firstScale = 0;
        for (var index = 0; index < clamps.On.Length; index++)
        {
            var place = clamps.On[index];
            var reversed = clamps.Reversed[index];
            if (place == Place.Air)
            {
                text.Append("air;");
                continue;
            }

            if (service.Kind == ServiceKind.Single && place == Place.N) (place, reversed) = (0, !reversed);
            if (groups[place] < 0) groups[place] = group++;
            text.Append(groups[place]);
            if (place == Place.N) text.Append(reversed ? "n-" : "n+");
            else AppendTurned(Phasor.FromRadians(reversed ? -1 : 1, lineAngles[place]));
            // A ratio common to all clamps shows in no reading; what shows is one clamp's against another's.
            if (firstScale == 0) firstScale = clamps.ScaleOf(index);
            var scale = clamps.ScaleOf(index) / firstScale;
            if (Math.Abs(scale - 1) > 1e-9) text.Append('x').Append((int)Math.Round(scale * 1000));
            // Half a cycle apart, a leg's wrong end and the other leg look alike; when loads switch, each leg moves by itself.
            if (observation.HasSteps && service.Kind == ServiceKind.Split) text.Append(leads[Lead.V1] == place ? '1' : leads[Lead.V2] == place ? '2' : '0');
            text.Append(';');
        }

        return text.ToString();

        void Append(ChannelPrediction prediction)
        {
            if (prediction.Kind is PredictionKind.Stray or PredictionKind.Lone) text.Append("stray");
            else AppendTurned(prediction.Value);
            text.Append(',');
        }

        void AppendTurned(Phasor value)
        {
            if (value.Magnitude < 0.01)
            {
                text.Append('0');
                return;
            }

            if (turn == Phasor.Zero) turn = value.Conjugate / value.Magnitude;
            var turned = value * turn;
            text.Append((int)Math.Round(turned.Real * Grain)).Append('/').Append((int)Math.Round(turned.Imaginary * Grain));
        }
    }
}
