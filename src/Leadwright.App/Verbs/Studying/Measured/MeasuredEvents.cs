using System.Collections.Immutable;
using Leadwright.Core.Studies.Events;

namespace Leadwright.App.Verbs.Studying.Measured;

/// <summary>The table of events that <c>measure</c> writes beside a table of intervals.</summary>
internal static class MeasuredEvents
{
    private static readonly string[] s_words = ["kind", "channels", "start", "standing", "flags"];

    /// <summary>Where it stands.</summary>
    /// <param name="path">The table of intervals.</param>
    public static string PathOf(string path) =>
        Path.Combine(Path.GetDirectoryName(path) ?? "", $"{Path.GetFileNameWithoutExtension(path)}-events{Path.GetExtension(path)}");

    /// <summary>Reads it.</summary>
    /// <param name="path">The table of intervals.</param>
    /// <param name="hasTimes">Whether its intervals state dates; else events are counted from the same day.</param>
    /// <param name="notes">Receives what to know.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it is not there.</returns>
    /// <exception cref="Formats.FormatReadException">It is damaged.</exception>
    public static ImmutableArray<StudyEvent>? Beside(string path, bool hasTimes, ImmutableArray<string>.Builder notes, CancellationToken cancellation)
    {
        var beside = PathOf(path);
        if (!File.Exists(beside))
        {
            notes.Add($"There is no table of events beside it ('{Path.GetFileName(beside)}'): events are not studied. Keep both tables that measure writes together.");
            return null;
        }

        using IMeasuredColumns table = Path.GetExtension(beside).Equals(".csv", StringComparison.OrdinalIgnoreCase)
            ? MeasuredText.Open(beside, name => s_words.Contains(name), cancellation) : MeasuredParquet.Open(beside);
        var (kinds, channels, flags) = (Words(table, "kind", cancellation), Words(table, "channels", cancellation), Words(table, "flags", cancellation));
        var (begins, lengths, extremes) = (table.Numbers("start_s", cancellation), table.Numbers("duration_s", cancellation), table.Numbers("extreme_percent", cancellation));
        var starts = hasTimes && table.Count > 0 ? table.Times("start", cancellation)
            : Array.ConvertAll(begins, second => (long)Math.Round(second * TimeSpan.TicksPerSecond));
        var events = new List<StudyEvent>();
        for (var row = 0; row < table.Count; row++)
        {
            if (!double.IsFinite(lengths[row]) || !double.IsFinite(extremes[row]) || starts[row] < 0) continue;
            events.Add(new StudyEvent(kinds[row], [.. channels[row].Split(' ', StringSplitOptions.RemoveEmptyEntries)], new DateTime(starts[row]), lengths[row], extremes[row])
            {
                IsCutShort = flags[row].Contains("cut-short", StringComparison.Ordinal),
            });
        }

        if (events.Exists(found => found.Kind is "dip" or "transient"))
            notes.Add("The table of events holds no waveforms: for type, origin and likeness of dips study the recording itself.");
        return EventGroups.Polyphase(events);
    }

    private static string[] Words(IMeasuredColumns table, string name, CancellationToken cancellation)
    {
        var words = new string[table.Count];
        table.Words(name, (row, word) => words[row] = word ?? "", cancellation);
        return words;
    }
}
