using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>A movement with its place in the order.</summary>
/// <param name="Number">1 for the first.</param>
/// <param name="Movement">The movement.</param>
internal readonly record struct DrawnStep(int Number, Movement Movement)
{
    /// <summary>The movements that a verdict asks for, numbered; none when it is not <see cref="Verdict.Faulty"/>.</summary>
    public static DrawnStep[] Of(HookupVerdict verdict) => verdict.Verdict == Verdict.Faulty && VerdictWording.IsNamed(verdict)
        ? [.. verdict.Best.Faults.SelectMany(fault => fault.Movements.IsDefault ? [] : fault.Movements)
            .Select((movement, index) => new DrawnStep(index + 1, movement))]
        : [];
}
