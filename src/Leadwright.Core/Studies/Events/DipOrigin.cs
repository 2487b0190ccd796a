using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Studies.Events;

/// <summary>Whether a dip came from the supply or from the load: five published methods, the second harmonic's power, and their vote.</summary>
/// <param name="Side">The vote: three of the first four methods must agree, and the energy must not stand against them; where a core is in saturation the second harmonic's power and two others must agree. Else undecided.</param>
/// <param name="Votes">What each method says.</param>
/// <remarks>
/// <para>All need clamps that face the load on the right conductors: a wrong hook-up turns the answer round. They are weak on asymmetrical faults, regenerating motors and
/// small currents; so a small change makes a method undecided. See docs/methods/events-study.md.</para>
/// </remarks>
public sealed record DipOrigin(EventSide Side, ImmutableArray<SideVote> Votes)
{
    // A change below this share of what flowed before says nothing (our choice).
    private const double LeastChange = 0.03;

    // From this second harmonic on a core is in saturation (our choice, by the populations of docs/methods/events-study.md).
    private const double Saturated = 0.005;

    /// <summary>Judges.</summary>
    /// <param name="run">Phasors around the dip.</param>
    /// <returns>Null without currents.</returns>
    public static DipOrigin? Judge(CyclePhasorRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        if (!run.HasCurrents || run.End <= run.Onset) return null;
        var phase = Deepest(run);
        ImmutableArray<SideVote> votes = [Energy(run), Slope(run, phase), RealCurrent(run, phase), Resistance(run, phase), Distance(run, phase), Second(run)];
        return new DipOrigin(Vote(votes, IsSaturated(run)), votes);
    }

    private static EventSide Vote(ImmutableArray<SideVote> votes, bool isSaturated)
    {
        var (energy, second) = (votes[0].Side, votes[^1].Side);
        foreach (var side in (EventSide[])[EventSide.Upstream, EventSide.Downstream])
        {
            // The impedance seen is often wrong where motors feed back; it counts only where it was found right.
            var others = isSaturated ? votes[..^1] : votes[..^2];
            var (with, against) = (others.Count(vote => vote.Side == side), others.Count(vote => vote.Side != side && vote.Side != EventSide.Undecided));
            // Phasors of the fundamental say little of a core in saturation: then its own harmonic decides, if two others agree.
            if (isSaturated ? second == side && with >= 2 : with >= 3 && against <= 1 && (energy == side || energy == EventSide.Undecided)) return side;
        }

        return EventSide.Undecided;
    }

    // By the second harmonic of the voltage some cycles into the dip, over the voltage before. The offset of a fault's current looks alike for a while, but a fault ends at once.
    private static bool IsSaturated(CyclePhasorRun run) =>
        EventCause.LateSecond(run) >= Saturated && EventCause.Of(run).Kind is not (EventCauseKind.Fault or EventCauseKind.MotorStart);

    private static int Deepest(CyclePhasorRun run) => Enumerable.Range(0, 3)
        .MinBy(phase => run.Voltages[Middle(run)][phase].Magnitude / Math.Max(run.Voltages[run.Before][phase].Magnitude, 1e-9));

    private static int Middle(CyclePhasorRun run) => Math.Min(run.Onset + 1, run.End - 1);

    // A. C. Parsons, W. M. Grady, E. J. Powers, J. C. Soward, IEEE Trans. Power Delivery 15 (2000) 1081: more energy than before flows toward the disturbance.
    private static SideVote Energy(CyclePhasorRun run)
    {
        var before = Power(run, run.Before);
        var change = 0.0;
        for (var step = run.Onset; step < run.End; step++) change += Power(run, step) - before;
        var size = Enumerable.Range(0, 3).Sum(phase => run.Voltages[run.Before][phase].Magnitude * run.Currents[run.Before][phase].Magnitude);
        change /= run.End - run.Onset;
        var side = Math.Abs(change) <= LeastChange * size ? EventSide.Undecided : change > 0 ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote("disturbance energy (Parsons and others, 2000)", side, change, "W");
    }

    // C. Li, T. Tayjasanant, W. Xu, X. Liu, IEE Proc. Gener. Transm. Distrib. 150 (2003) 367: |V cos φ| against I rises upstream and falls downstream.
    private static SideVote Slope(CyclePhasorRun run, int phase)
    {
        var points = Enumerable.Range(run.Before, Math.Min(run.Onset + 2, run.End) - run.Before).Select(step => (
            X: run.Currents[step][phase].Magnitude, Y: Math.Abs(Active(run, step, phase)) / Math.Max(run.Currents[step][phase].Magnitude, 1e-9))).ToList();
        var (meanX, meanY) = (points.Average(point => point.X), points.Average(point => point.Y));
        var spread = points.Sum(point => (point.X - meanX) * (point.X - meanX));
        var slope = points.Sum(point => (point.X - meanX) * (point.Y - meanY)) / spread;
        var range = points.Max(point => point.X) - points.Min(point => point.X);
        var side = !(range >= LeastChange * meanX) ? EventSide.Undecided : slope < 0 ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote("slope of the system trajectory (Li and others, 2003)", side, slope, "V/A");
    }

    // N. Hamzah, A. Mohamed, A. Hussain, Electr. Power Syst. Res. 72 (2004) 113: the real current component rises at the start for a source downstream.
    private static SideVote RealCurrent(CyclePhasorRun run, int phase)
    {
        var step = Middle(run);
        double Component(int at) => Active(run, at, phase) / Math.Max(run.Voltages[at][phase].Magnitude, 1e-9);
        var change = Component(step) - Component(run.Before);
        var side = Math.Abs(change) <= LeastChange * run.Currents[run.Before][phase].Magnitude ? EventSide.Undecided
            : change > 0 ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote("real current component (Hamzah and others, 2004)", side, change, "A");
    }

    // T. Tayjasanant, C. Li, W. Xu, IEEE Trans. Power Delivery 20 (2005) 2544: Re(ΔV/ΔI) is minus the supply's resistance for a source downstream.
    private static SideVote Resistance(CyclePhasorRun run, int phase)
    {
        var step = Middle(run);
        var current = run.Currents[step][phase] - run.Currents[run.Before][phase];
        var ratio = (run.Voltages[step][phase] - run.Voltages[run.Before][phase]) / current;
        var isSmall = current.Magnitude <= LeastChange * run.Currents[run.Before][phase].Magnitude;
        var side = isSmall || Math.Abs(ratio.Real) < 0.02 * ratio.Magnitude ? EventSide.Undecided
            : ratio.Real < 0 ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote("sign of the resistance (Tayjasanant and others, 2005)", side, ratio.Real, "ohm");
    }

    // A. K. Pradhan, A. Routray, IEEE Trans. Power Delivery 20 (2005) 529: downstream when the impedance that is seen falls and its angle stays that of a load.
    private static SideVote Distance(CyclePhasorRun run, int phase)
    {
        var step = Middle(run);
        Phasor Seen(int at) => run.Voltages[at][phase] / run.Currents[at][phase];
        var (before, within) = (Seen(run.Before), Seen(step));
        var ratio = within.Magnitude / before.Magnitude;
        var isFlowingBack = within.Real <= 0;
        var side = !double.IsFinite(ratio) || (Math.Abs(ratio - 1) <= 0.1 && !isFlowingBack) ? EventSide.Undecided
            : ratio < 1 && !isFlowingBack ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote("impedance seen (Pradhan and Routray, 2005)", side, ratio, "of before");
    }

    // What was not there before the event flows out of where it is made: with the current toward the load, V2/I2 is minus the supply's impedance for a source downstream (docs/methods/events-study.md).
    private static SideVote Second(CyclePhasorRun run)
    {
        const string Method = "second harmonic's power (derived)";
        if (!IsSaturated(run)) return new SideVote(Method, EventSide.Undecided, 0, "W");
        var (power, size) = (0.0, 0.0);
        var (first, end) = run.Late;
        for (var step = first; step < end; step++)
        {
            for (var phase = 0; phase < 3; phase++)
            {
                var (volts, amperes) = run.Second[step][phase];
                var own = (volts * amperes.Conjugate).Real;
                // Too little to tell from noise and from the fundamental at another frequency than nominal.
                if (volts.Magnitude < Saturated / 2 * run.Voltages[run.Before][phase].Magnitude) continue;
                power += own / (end - first);
                size += volts.Magnitude * amperes.Magnitude / (end - first);
            }
        }

        var side = size <= 0 || Math.Abs(power) < 0.15 * size ? EventSide.Undecided : power < 0 ? EventSide.Downstream : EventSide.Upstream;
        return new SideVote(Method, side, power, "W");
    }

    private static double Active(CyclePhasorRun run, int step, int phase) => (run.Voltages[step][phase] * run.Currents[step][phase].Conjugate).Real;

    private static double Power(CyclePhasorRun run, int step) => Active(run, step, 0) + Active(run, step, 1) + Active(run, step, 2);
}
