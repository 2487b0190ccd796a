using System.Globalization;
using System.Text;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Guarding;

/// <summary>Writes the answer of a guard for people.</summary>
public static class GuardText
{
    /// <summary>The answer as lines of text.</summary>
    /// <param name="file">The file's name as given.</param>
    /// <param name="report">The answer.</param>
    public static string Of(string file, GuardReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{file}: {Time(report.From)} to {Time(report.To)}");
        if (report.Spans.IsEmpty) text.AppendLine(CultureInfo.InvariantCulture, $"  {GuardWords.NothingFound(report)}");
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var span in report.Spans)
        {
            var says = $"{SpanWording.Of(span, report.Timeline)} (confidence {span.Confidence.ToString("0.00", CultureInfo.InvariantCulture)})";
            List<GuardSpan> alike = span.Kind == SpanKind.OverRange ? [.. report.Spans.Where(other => other.Kind == span.Kind && SpanWording.Of(other) == SpanWording.Of(span))] : [];
            if (alike.Count >= Repeats.Least && !told.Add(SpanWording.Of(span))) continue;
            var whole = span.From <= report.From && span.To >= report.To;
            var when = alike.Count >= Repeats.Least ? Repeats.When([.. alike.Select(other => (other.From, other.To))], Time) : whole ? "all the time" : $"{Time(span.From)} to {Time(span.To)}";
            text.AppendLine(CultureInfo.InvariantCulture, $"  {when}  {GuardWords.Of(span.Kind)}");
            text.AppendLine(CultureInfo.InvariantCulture, $"      {says}");
            if (SpanAdvice.Of(span, report) is { Length: > 0 } todo) text.AppendLine(CultureInfo.InvariantCulture, $"      What to do: {todo}");
        }

        if (report.Usable.Count > 0)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"  usable: {string.Join(", ", report.Usable.Select(entry => string.Create(CultureInfo.InvariantCulture, $"{entry.Key} {100 * entry.Value:0.0} %")))}");
        }

        foreach (var note in report.Notes) text.AppendLine(CultureInfo.InvariantCulture, $"  {GuardWords.Of(note)}");
        return text.ToString();
    }

    private static string Time(DateTime time) => RecordTime.Text(time, "yyyy-MM-dd HH:mm:ss.FFF");
}
