using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

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
        ClockFindingKind.Gap => Say.Of("clock.missing-between-and", "{count} missing between {before} and {at}.", ("count", (finding.RowCount == 1 ? Say.Of("clock.interval-is", "1 interval is") : Say.Of("clock.intervals-are", "{rowCount} intervals are", ("rowCount", finding.RowCount)))), ("before", Time(finding.Before)), ("at", Time(finding.At))),
        ClockFindingKind.Duplicate => Say.Of("clock.two-rows-bear-the-time", "Two rows bear the time {at}.", ("at", Time(finding.At))),
        ClockFindingKind.OutOfOrder => Say.Of("clock.the-row-of-stands-after", "The row of {at} stands after that of {before}.", ("at", Time(finding.At)), ("before", Time(finding.Before))),
        ClockFindingKind.StepBack => Say.Of("clock.the-clock-was-set-back", "The clock was set back, or rows were put together out of order: {at} follows {before}.", ("at", Time(finding.At)), ("before", Time(finding.Before))),
        ClockFindingKind.DaylightForward => Say.Of("clock.the-clock-was-set-forward", "The clock was set forward by an hour after {before}, as for daylight saving: no interval is missing.", ("before", Time(finding.Before))),
        ClockFindingKind.DaylightBack => Say.Of("clock.the-clock-was-set-back-2", "The clock was set back by an hour after {before}, as for daylight saving: the hour stands twice.", ("before", Time(finding.Before))),
        ClockFindingKind.Drift => Say.Of("clock.the-clock-crept-against-the", "The clock crept against the interval by {seconds} s, {way}, over {rowCount} rows from {before} to {at}.", ("seconds", Say.Number(Math.Abs(finding.Seconds), "0.#")), ("way", (finding.Seconds > 0 ? Say.Of("clock.running-late", "running late") : Say.Of("clock.running-early", "running early"))), ("rowCount", finding.RowCount), ("before", Time(finding.Before)), ("at", Time(finding.At))),
        _ => Say.Of("clock.the-times-scatter-about-the", "The times scatter about the interval by {seconds} s over {rowCount} rows from {before} to {at}.", ("seconds", Say.Number(finding.Seconds, "0.###")), ("rowCount", finding.RowCount), ("before", Time(finding.Before)), ("at", Time(finding.At))),
    };

    private static string Time(long ticks) =>
        RecordTime.Text(new DateTime(Math.Clamp(ticks, 0, DateTime.MaxValue.Ticks)), "yyyy-MM-dd HH:mm:ss.FFF");
}
