using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Studying.Measured;

/// <summary>A table that <c>measure</c> wrote, read back with its flags and with the table of events beside it.</summary>
/// <remarks>Of a Parquet table the times, flags and the columns at hand are in memory, whatever its width. Format: docs/formats/measured-tables.md.</remarks>
internal sealed class MeasuredTable
{
    private const string Schema = "leadwright.measure-table/1";
    private static readonly string[] s_head = ["start_s", "end_s", "windows", "flagged_windows", "flags"];

    private readonly IMeasuredColumns _table;
    private readonly HashSet<string> _names;
    private readonly CancellationToken _cancellation;
    private bool[] _partial = [];

    private MeasuredTable(IMeasuredColumns table, CancellationToken cancellation) =>
        (_table, _names, _cancellation) = (table, table.Names.ToHashSet(StringComparer.Ordinal), cancellation);

    /// <summary>Reads a table.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when <c>measure</c> did not write it.</returns>
    /// <exception cref="Formats.FormatReadException">It is damaged.</exception>
    public static StudySubject? Read(string path, StudyRequest request, CancellationToken cancellation)
    {
        var columns = Open(path, cancellation);
        return columns is null ? null : new MeasuredTable(columns, cancellation).Subject(path, request);
    }

    private static IMeasuredColumns? Open(string path, CancellationToken cancellation)
    {
        switch (Path.GetExtension(path).ToLowerInvariant())
        {
            case ".csv":
                return IsOurs(MeasuredText.HeadingsOf(path)) ? MeasuredText.Open(path, name => name is "start" or "flags" || name.EndsWith("_standing", StringComparison.Ordinal), cancellation) : null;
            case ".parquet":
                var parquet = MeasuredParquet.Open(path);
                if (parquet.HasSchema(Schema) && IsOurs(parquet.Names)) return parquet;
                parquet.Dispose();
                return null;
            default: return null;
        }
    }

    private static bool IsOurs(IReadOnlyList<string> names) => names.Skip(names.Count > 0 && names[0] == "start" ? 1 : 0).Take(s_head.Length).SequenceEqual(s_head);

    private StudySubject Subject(string path, StudyRequest request)
    {
        var notes = ImmutableArray.CreateBuilder<string>();
        if (_table.Count == 0) throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot study '{path}': the table has no rows. Measure the recording again with a shorter --interval.");
        var hertz = request.FrequencyHertz ?? HertzOf();
        var (starts, seconds) = Times(hertz, notes);
        var flagged = Flags();
        var used = _table.Names.Select(name => MeasureColumn.Of(name, _names.Contains)).OfType<MeasureColumn>().ToArray();
        var log = new IntervalLog([.. used.Select(column => column.Column)], starts, index => Values(used[index]), seconds);
        var service = request.Service?.Kind ?? LogSubject.ServiceFor(log);
        var data = new StudyData(log) { Flagged = flagged, Service = service, Nominal = StudyInput.NominalOf(request, service), NominalHertz = hertz };
        if (_partial.Count(isPartial => isPartial) is > 0 and var partial) notes.Add(partial == 1 ? "1 interval was recorded in part: its power is not counted." : $"{partial} intervals were recorded in part: their power is not counted.");
        if (request.Nominal is null) notes.Add(StudyInput.NoNominal);
        var events = MeasuredEvents.Beside(path, _names.Contains("start"), notes, _cancellation);
        return new StudySubject(path, data.WithPhaseOfSingle(), Service.Of(service).Name, events, notes.ToImmutable());
    }

    private double HertzOf()
    {
        if (!_names.Contains("frequency_Hz")) return 0;
        var first = Array.Find(_table.Numbers("frequency_Hz", _cancellation), double.IsFinite);
        return first is > 45 and < 65 ? first < 55 ? 50 : 60 : 0;
    }

    private (long[] Starts, double Seconds) Times(double hertz, ImmutableArray<string>.Builder notes)
    {
        long[] starts;
        if (_names.Contains("start"))
        {
            starts = _table.Times("start", _cancellation);
        }
        else
        {
            starts = Array.ConvertAll(_table.Numbers("start_s", _cancellation), second => (long)Math.Round(second * TimeSpan.TicksPerSecond));
            notes.Add("The recording does not state its start: times are given as the time since then.");
        }

        for (var row = 1; row < starts.Length; row++)
        {
            if (starts[row] <= starts[row - 1])
                throw new Formats.FormatReadException("the table", "rows whose times rise", $"row {row + 1} at {new DateTime(Math.Max(starts[row], 0)):yyyy-MM-dd HH:mm:ss}", "Measure the recording again.");
        }

        var windows = _table.Numbers("windows", _cancellation);
        var most = windows.Where(double.IsFinite).DefaultIfEmpty(1).Max();
        // A window has ten cycles at 50 Hz and twelve at 60 Hz: a fifth of a second as near as the frequency is to nominal.
        if (most == 1) return (starts, hertz is > 0 and < 55 ? 10 / hertz : hertz > 0 ? 12 / hertz : 0.2);
        var steps = new List<long>();
        for (var row = 1; row < starts.Length; row++) steps.Add(starts[row] - starts[row - 1]);
        steps.Sort();
        var step = steps.Count > 0 ? (double)steps[steps.Count / 2] / TimeSpan.TicksPerSecond : most / 5;
        var seconds = step >= 5 ? Math.Round(step) : Math.Round(step * 5) / 5;
        return (Snapped(starts, seconds), seconds);
    }

    // The tick on which an interval began, though the recording may have begun within it.
    private static long[] Snapped(long[] starts, double seconds)
    {
        var length = (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
        if (length < 5 * TimeSpan.TicksPerSecond) return starts;
        var snapped = Array.ConvertAll(starts, start => (start + (TimeSpan.TicksPerSecond / 2)) / length * length);
        for (var row = 1; row < snapped.Length; row++)
        {
            if (snapped[row] <= snapped[row - 1]) return starts;
        }

        return snapped;
    }

    // Flagged in the sense of IEC 61000-4-30 clause 4.7; a row recorded in part is another matter.
    private bool[] Flags()
    {
        var flagged = new bool[_table.Count];
        _partial = new bool[_table.Count];
        _table.Words("flags", (row, words) =>
        {
            if (string.IsNullOrEmpty(words)) return;
            foreach (var word in words.Split(' '))
            {
                if (word is "dip" or "swell" or "interruption") flagged[row] = true;
                if (word == "partial") _partial[row] = true;
            }
        }, _cancellation);
        return flagged;
    }

    private double[] Values(MeasureColumn column)
    {
        var values = _table.Numbers(column.Name, _cancellation);
        if (column.Over.Length > 0)
        {
            var over = _table.Numbers(column.Over, _cancellation);
            for (var row = 0; row < values.Length; row++) values[row] = over[row] > 0 ? 100 * values[row] / over[row] : double.NaN;
        }

        if (!column.IsOfWholeInterval) return values;
        for (var row = 0; row < values.Length; row++)
        {
            if (_partial[row]) values[row] = double.NaN;
        }

        return values;
    }
}
