using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;

namespace Leadwright.Reports.Practice;

/// <summary>The truth of an exercise in the shape of a verdict, so that the same drawing and the same words show it.</summary>
public static class TruthVerdict
{
    /// <summary>The truth; null where the exercise has no leads and clamps, or a lead on ground that belongs there.</summary>
    /// <param name="mark">The mark.</param>
    public static HookupVerdict? Of(PracticeMark mark)
    {
        ArgumentNullException.ThrowIfNull(mark);
        if (mark.Truth is not { } truth || truth.Leads.GetValueOrDefault(Lead.VN) == Conductor.G) return null;
        return new HookupVerdict
        {
            Service = mark.Exercise.Service,
            Verdict = truth.IsRight ? Verdict.Correct : Verdict.Faulty,
            Best = new Answer(truth, mark.Rotation, 1, mark.Faults, []) { HighLeg = mark.HighLeg },
            ProbabilityCorrect = truth.IsRight ? 1 : 0,
            Alternatives = [],
            Evidence = [],
            Notes = [],
            Phasors = System.Collections.Immutable.ImmutableSortedDictionary<Channel, Phasor>.Empty,
        };
    }
}
