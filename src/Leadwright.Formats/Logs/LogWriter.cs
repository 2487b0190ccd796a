using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Formats.Tables;

namespace Leadwright.Formats.Logs;

/// <summary>Writes a log as a table that <see cref="LogReader"/> reads back the same.</summary>
/// <remarks>
/// Columns <c>start</c> and <c>end</c> of each interval, or <c>elapsed (s)</c> where no date is known, then one column a value, named by <see cref="LogNames"/>, in base units. A column with standings is
/// followed by one of their words: <c>measured</c>, <c>mended</c>, <c>modelled</c>, <c>lost</c>.
/// </remarks>
public static class LogWriter
{
    /// <summary>The format that the metadata of a Parquet table names.</summary>
    public const string Schema = "leadwright.log/1";

    private const string Elapsed = "elapsed (s)";

    /// <summary>Writes a log as comma-separated text.</summary>
    /// <param name="log">The log.</param>
    /// <param name="stream">Receives the text; stays open.</param>
    /// <param name="standings">Standings by index of column; null or left out for none.</param>
    /// <param name="cancellation">Ends the writing early; the stream then holds a piece.</param>
    public static async Task WriteCsvAsync(
        IntervalLog log, Stream stream, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(log);
        var writer = new CsvTableWriter(stream, ColumnsOf(log, standings));
        await using (writer.ConfigureAwait(false)) await WriteAsync(log, writer, standings, cancellation).ConfigureAwait(false);
    }

    /// <summary>Writes a log as Parquet.</summary>
    /// <param name="log">The log.</param>
    /// <param name="stream">Receives the bytes; stays open.</param>
    /// <param name="standings">Standings by index of column; null or left out for none.</param>
    /// <param name="metadata">Kept with the table besides the name of the format: what made it, and from what.</param>
    /// <param name="cancellation">Ends the writing early; the stream then holds a piece.</param>
    public static async Task WriteParquetAsync(
        IntervalLog log, Stream stream, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings = null, IReadOnlyDictionary<string, string>? metadata = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(log);
        var all = new Dictionary<string, string>(metadata ?? ImmutableDictionary<string, string>.Empty) { ["schema"] = Schema };
        var writer = new ParquetTableWriter(stream, ColumnsOf(log, standings), all);
        await using (writer.ConfigureAwait(false)) await WriteAsync(log, writer, standings, cancellation).ConfigureAwait(false);
    }

    private static ImmutableArray<TableColumn> ColumnsOf(IntervalLog log, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings)
    {
        var columns = ImmutableArray.CreateBuilder<TableColumn>();
        if (HasDates(log))
        {
            columns.Add(new("start", TableColumnKind.Time));
            columns.Add(new("end", TableColumnKind.Time));
        }
        else columns.Add(new(Elapsed, TableColumnKind.Number));

        for (var column = 0; column < log.Columns.Length; column++)
        {
            var name = LogNames.Of(log.Columns[column]);
            columns.Add(new(name, TableColumnKind.Number));
            if (standings?.ContainsKey(column) == true) columns.Add(new(LogNames.StandingOf(name), TableColumnKind.Text));
        }

        return columns.ToImmutable();
    }

    private static async Task WriteAsync(IntervalLog log, TableWriter writer, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings, CancellationToken cancellation)
    {
        for (var row = 0; row < log.Count; row++)
        {
            if ((row & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
            SetRow(log, row, writer, standings);
            await writer.EndRowAsync().ConfigureAwait(false);
        }

        await writer.CompleteAsync().ConfigureAwait(false);
    }

    private static void SetRow(IntervalLog log, int row, TableWriter writer, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings)
    {
        var start = log.Starts.Span[row];
        var at = 0;
        if (HasDates(log))
        {
            writer.Set(at++, new DateTime(start));
            writer.Set(at++, new DateTime(start + log.IntervalTicks));
        }
        else writer.Set(at++, (double)start / TimeSpan.TicksPerSecond);

        for (var column = 0; column < log.Columns.Length; column++)
        {
            writer.Set(at++, log.Values(column)[row]);
            if (standings is not null && standings.TryGetValue(column, out var words)) writer.Set(at++, WordOf(words.Span[row]));
        }
    }

    // Without a date there is no stamp: the table counts seconds from its own start, as the one that was read did.
    private static bool HasDates(IntervalLog log) => log.Count == 0 || RecordTime.IsDated(log.From);

    private static string WordOf(Standing standing) => standing switch
    {
        Standing.Mended => "mended",
        Standing.Modelled => "modelled",
        Standing.Lost => "lost",
        _ => "measured",
    };
}
