using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>One arrangement as it stands at the panel: what a person would find there if it were true.</summary>
/// <param name="hypothesis">The arrangement.</param>
/// <param name="observation">The readings in its convention.</param>
/// <param name="fit">Its fit of the voltages.</param>
/// <param name="clamps">The clamps, in the order of the arrangement.</param>
internal sealed class Situation(Hypothesis hypothesis, Observation observation, VoltageFit fit, Clamp[] clamps)
{
    // A current a quarter turn from its voltage moves no power that anybody sees.
    private const double Hardly = 0.1;
    private const double Clearly = 0.3;
    private readonly Phasor[] _conductors = LeadPotentials.Conductors(observation.Service, hypothesis.Leads);

    public Hypothesis Hypothesis => hypothesis;

    public Service Service => observation.Service;

    public Rotation Rotation => hypothesis.Leads.Rotation;

    /// <summary>True when every clamp round a conductor faces the source.</summary>
    public bool AllReversed { get; } = IsThroughout(hypothesis.Clamps);

    public Lead[] Leads => observation.Leads;

    public Clamp[] Clamps => clamps;

    public int PlaceOf(Lead lead) => hypothesis.Leads[lead];

    /// <summary>Place and direction of a clamp; null when the recorder does not have it.</summary>
    public (int Place, bool Reversed)? PlaceOf(Clamp clamp)
    {
        var index = Array.IndexOf(clamps, clamp);
        return index < 0 ? null : (hypothesis.Clamps.On[index], hypothesis.Clamps.Reversed[index]);
    }

    /// <summary>Volts between two conductors, by their places.</summary>
    public double VoltsBetween(int first, int second) => (_conductors[first] - _conductors[second]).Magnitude * observation.ReferenceVolts;

    /// <summary>Amperes in a conductor, as read by the first clamp on it; NaN when none tells.</summary>
    public double AmperesIn(int place)
    {
        for (var index = 0; index < clamps.Length; index++)
        {
            if (hypothesis.Clamps.On[index] == place)
                return observation.Currents[index].Amperes / hypothesis.Clamps.ScaleOf(index);
        }

        return double.NaN;
    }

    /// <summary>The largest current that was read, amperes; 0 when none was.</summary>
    public double LargestAmperes => observation.Currents.Select(current => current.Amperes).Where(double.IsFinite).DefaultIfEmpty(0).Max();

    /// <summary>How the power that each clamp goes into moves when the currents of the conductors change.</summary>
    /// <param name="change">Change of the current toward the load of A, B, C and N, in the frame of the readings.</param>
    /// <returns>For each clamp but the neutral's, what may be seen: 1 up, −1 down, 0 still.</returns>
    public IEnumerable<(Clamp Clamp, int[] Moves)> PowersMoved(Phasor[] change)
    {
        for (var index = 0; index < clamps.Length; index++)
        {
            if (clamps[index] == Clamp.IN) continue;
            var place = hypothesis.Clamps.On[index];
            if (place == Place.Air || change[place].Magnitude < 1e-9)
            {
                yield return (clamps[index], [0]);
                continue;
            }

            var cosine = Math.Cos(fit.ClampVoltageAngles[index] - change[place].AngleRadians);
            var sign = hypothesis.Clamps.Reversed[index] != hypothesis.Convention.LoadNegative ? -1 : 1;
            yield return (clamps[index], Math.Abs(cosine) switch
            {
                double.NaN or < Hardly => [0],
                < Clearly => [0, sign * Math.Sign(cosine)],
                _ => [sign * Math.Sign(cosine)],
            });
        }
    }

    /// <summary>The clamps round conductors whose current changes.</summary>
    /// <param name="change">Change of the current of A, B, C and N.</param>
    public IEnumerable<Clamp> CurrentsMoved(Phasor[] change)
    {
        for (var index = 0; index < clamps.Length; index++)
        {
            var place = hypothesis.Clamps.On[index];
            if (clamps[index] != Clamp.IN && place != Place.Air && change[place].Magnitude > 1e-9) yield return clamps[index];
        }
    }

    /// <summary>Direction of a conductor's voltage to neutral in the frame of the readings.</summary>
    public Phasor VoltageOf(int place)
    {
        var volts = _conductors[place] * fit.Frame;
        return volts.Magnitude < 1e-9 ? Phasor.Zero : volts / volts.Magnitude;
    }

    /// <summary>Power toward the loads over the sum of the volt-amperes; NaN when the readings do not tell.</summary>
    public double PowerFactor()
    {
        double watts = 0, apparent = 0;
        var seen = 0;
        for (var index = 0; index < clamps.Length; index++)
        {
            var place = hypothesis.Clamps.On[index];
            var current = observation.Currents[index];
            if (!Place.IsLine(place) || (seen & (1 << place)) != 0) continue;
            seen |= 1 << place;
            if (current.Candidates.Length == 0 || !(current.Amperes > 0)) return double.NaN;
            var likeliest = current.Candidates.MaxBy(candidate => candidate.Weight).AngleRadians;
            var angle = likeliest + (current.FromVoltage ? fit.ClampVoltageAngles[index] : 0) + (hypothesis.Clamps.Reversed[index] ? Math.PI : 0);
            if (double.IsNaN(angle)) return double.NaN;
            var amperes = current.Amperes / hypothesis.Clamps.ScaleOf(index);
            apparent += amperes;
            watts += amperes * Math.Cos(VoltageOf(place).AngleRadians - angle);
        }

        return apparent > 0 ? watts / apparent : double.NaN;
    }

    private static bool IsThroughout(ClampMap map)
    {
        var closed = 0;
        for (var index = 0; index < map.On.Length; index++)
        {
            if (map.On[index] == Place.Air) continue;
            closed++;
            if (!map.Reversed[index]) return false;
        }

        return closed > 1;
    }
}
