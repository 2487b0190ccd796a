using System.Text;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Guarding;

/// <summary>Says what was noticed of a recorder's clock.</summary>
public static class ClockWording
{
    /// <summary>The word of a finding in commands and files: in lower case with hyphens, such as <c>step-back</c>.</summary>
    /// <param name="kind">What was noticed.</param>
    public static string WordOf(ClockFindingKind kind)
    {
        var text = new StringBuilder(20);
        foreach (var letter in kind.ToString())
        {
            if (char.IsAsciiLetterUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }

    /// <summary>The kind that a word stands for; null for a word that is none, as of a later version.</summary>
    /// <param name="word">The word.</param>
    public static ClockFindingKind? KindOf(string word)
    {
        ArgumentNullException.ThrowIfNull(word);
        foreach (var kind in Enum.GetValues<ClockFindingKind>())
        {
            if (WordOf(kind) == word) return kind;
        }

        return null;
    }

    /// <summary>The finding in a sentence.</summary>
    /// <param name="finding">The finding; its times are those that the recorder wrote.</param>
    public static string Of(ClockFinding finding) => finding.Kind switch
    {
        ClockFindingKind.Gap => Say($"{(finding.RowCount == 1 ? "1 interval is" : $"{finding.RowCount} intervals are")} missing between {Time(finding.Before)} and {Time(finding.At)}."),
        ClockFindingKind.Duplicate => Say($"Two rows bear the time {Time(finding.At)}."),
        ClockFindingKind.OutOfOrder => Say($"The row of {Time(finding.At)} stands after that of {Time(finding.Before)}."),
        ClockFindingKind.StepBack => Say($"The clock was set back, or rows were put together out of order: {Time(finding.At)} follows {Time(finding.Before)}."),
        ClockFindingKind.DaylightForward => Say($"The clock was set forward by an hour after {Time(finding.Before)}, as for daylight saving: no interval is missing."),
        ClockFindingKind.DaylightBack => Say($"The clock was set back by an hour after {Time(finding.Before)}, as for daylight saving: the hour stands twice."),
        ClockFindingKind.Drift => Say(
            $"The clock crept against the interval by {Math.Abs(finding.Seconds):0.#} s, {(finding.Seconds > 0 ? "running late" : "running early")}, over {finding.RowCount} rows from {Time(finding.Before)} to {Time(finding.At)}."),
        _ => Say($"The times scatter about the interval by {finding.Seconds:0.###} s over {finding.RowCount} rows from {Time(finding.Before)} to {Time(finding.At)}."),
    };

    private static string Say(FormattableString text) => FormattableString.Invariant(text);

    private static string Time(long ticks) =>
        RecordTime.Text(new DateTime(Math.Clamp(ticks, 0, DateTime.MaxValue.Ticks)), "yyyy-MM-dd HH:mm:ss.FFF");
}
