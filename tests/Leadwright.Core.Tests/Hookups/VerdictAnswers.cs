using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Questions that tests ask of a verdict.</summary>
internal static class VerdictAnswers
{
    /// <summary>The answers that are named, likeliest first.</summary>
    public static IEnumerable<Answer> Named(this HookupVerdict verdict) => verdict.Alternatives.Prepend(verdict.Best);

    /// <summary>True when the best answer is this hook-up or one that reads the same.</summary>
    public static bool Names(this HookupVerdict verdict, PanelReadings readings, Hookup hookup, Rotation rotation = Rotation.Abc) =>
        ReadsAlike.Check(readings, hookup, rotation, verdict.Best.Hookup, verdict.Best.Rotation);

    /// <summary>True when the best answer is this visit's hook-up or one that reads the same, on the visit's service.</summary>
    public static bool Names(this HookupVerdict verdict, Core.Panels.PanelCase drawn) =>
        verdict.Service == drawn.Panel.Service && ReadsAlike.Check(
            drawn.Readings, drawn.Truth, drawn.Rotation, drawn.HighLeg,
            verdict.Best.Hookup, verdict.Best.Rotation, verdict.Best.HighLeg ?? Conductor.B);

    /// <summary>The probability that a verdict gives to a hook-up and all that reads the same; zero when it is not named.</summary>
    public static double ProbabilityOf(
        this HookupVerdict verdict, PanelReadings readings, Hookup hookup, Rotation rotation = Rotation.Abc) =>
        verdict.Named()
            .FirstOrDefault(answer => ReadsAlike.Check(readings, hookup, rotation, answer.Hookup, answer.Rotation))?.Probability ?? 0;

    public static bool Has(this HookupVerdict verdict, NoteKind kind) => verdict.Notes.Any(note => note.Kind == kind);
}
