using Leadwright.Core.Integrity;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Guarding;

/// <summary>The words that stand for enumerated values of a guard in commands and files.</summary>
public static class GuardWords
{
    /// <summary>The kind in lower case with hyphens, such as <c>lead-open</c>.</summary>
    public static string Of(SpanKind kind)
    {
        var text = new System.Text.StringBuilder(28);
        foreach (var letter in kind.ToString())
        {
            if (char.IsAsciiLetterUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }

    /// <summary>What an answer without spans says: that nothing was found is no proof where nothing, or not all, could be judged.</summary>
    /// <param name="report">The answer.</param>
    internal static string NothingFound(GuardReport report) => report.Usable.IsEmpty
        ? "Nothing could be judged: the recording does not hold what the check of leads and clamps needs."
        : report.Notes.IsEmpty ? "Nothing wrong was found." : "Nothing wrong was found, as far as it could be judged.";

    /// <summary>What a note says.</summary>
    public static string Of(GuardNoteKind note) => note switch
    {
        GuardNoteKind.NoVoltages => Say.Of("guard.the-recording-has-no-voltages", "The recording has no voltages: nothing can be said of the leads."),
        GuardNoteKind.NoCurrents => Say.Of("guard.the-recording-has-no-currents", "The recording has no currents: little can be said of the clamps."),
        GuardNoteKind.NoPhasePowers => Say.Of("guard.the-recording-has-no-watts", "The recording has no watts of the phases: a clamp that was turned or moved shows in the total alone, or not at all."),
        GuardNoteKind.NoVars => Say.Of("guard.the-recording-has-no-vars", "The recording has no vars: some turns of a clamp or lead can't be told from each other."),
        GuardNoteKind.TooFewIntervals => Say.Of("guard.the-recording-is-too-short", "The recording is too short to judge the hook-up from."),
        _ => Say.Of("guard.the-hook-up-of-the", "The hook-up of the longest stretch could not be settled; changes are told against the expected hook-up."),
    };
}
