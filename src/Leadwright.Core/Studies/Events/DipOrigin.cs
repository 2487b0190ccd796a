using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Events;

/// <summary>Whether a dip came from the supply or from the load: four published methods and their vote.</summary>
/// <param name="Side">The vote: three methods at least must agree and none of them may stand against more than one other; else undecided.</param>
/// <param name="Votes">What each method says.</param>
/// <remarks>
/// <para>All need clamps that face the load on the right conductors: a wrong hook-up turns the answer round. They are weak on asymmetrical faults, regenerating motors and
/// small currents; so a small change makes a method undecided. See docs/methods/events-study.md.</para>
/// </remarks>
public sealed record DipOrigin(EventSide Side, ImmutableArray<SideVote> Votes)
{
    // A change below this share of what flowed before says nothing (our choice).
    private const double LeastChange = 0.03;

    /// <summary>Judges.</summary>
    /// <param name="run">Phasors around the dip.</param>
    /// <returns>Null without currents.</returns>
    public static DipOrigin? Judge(CyclePhasorRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        if (!run.HasCurrents || run.End <= run.Onset) return null;
        var phase = Deepest(run);
        ImmutableArray<SideVote> votes = [Energy(run), Slope(run, phase), RealCurrent(run, phase), Resistance(run, phase)];
        var up = votes.Count(vote => vote.Side == EventSide.Upstream);
        var down = votes.Count(vote => vote.Side == EventSide.Downstream);
        var side = down >= 3 && up <= 1 ? EventSide.Downstream : up >= 3 && down <= 1 ? EventSide.Upstream : EventSide.Undecided;
        return new DipOrigin(side, votes);
    }

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

    private static double Active(CyclePhasorRun run, int step, int phase) => (run.Voltages[step][phase] * run.Currents[step][phase].Conjugate).Real;

    private static double Power(CyclePhasorRun run, int step) => Active(run, step, 0) + Active(run, step, 1) + Active(run, step, 2);
}
