using Leadwright.Core.Integrity;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Alarms of sampled recordings that come one after the other: what lasts from one into the next is one alarm.</summary>
internal sealed class SampledAlarms
{
    private readonly Dictionary<string, GuardSpan> _open = new(StringComparer.Ordinal);

    /// <summary>What one more recording brought.</summary>
    /// <param name="report">What was found in it.</param>
    public GuardNews NewsOf(GuardReport report)
    {
        List<GuardSpan> raised = [], cleared = [];
        var before = new Dictionary<string, GuardSpan>(_open, StringComparer.Ordinal);
        foreach (var span in report.Spans.Where(span => !span.IsDoubtful))
        {
            var name = $"{span.Kind} {string.Join(',', span.Leads)} {string.Join(',', span.Clamps)}";
            var whole = span;
            if (span.From <= report.From && before.Remove(name, out var known)) whole = span with { From = known.From };
            else raised.Add(span);
            if (span.To >= report.To)
            {
                _open[name] = whole;
                continue;
            }

            _open.Remove(name);
            cleared.Add(whole);
        }

        // What could not be judged cures nothing.
        if (report.Usable.IsEmpty || report.Notes.Contains(GuardNoteKind.HookupUndecided)) return new GuardNews([.. raised], [.. cleared]);
        foreach (var (name, span) in before)
        {
            if (_open.TryGetValue(name, out var open) && !ReferenceEquals(open, span)) continue;
            _open.Remove(name);
            cleared.Add(span with { To = report.From });
        }

        return new GuardNews([.. raised], [.. cleared]);
    }
}
