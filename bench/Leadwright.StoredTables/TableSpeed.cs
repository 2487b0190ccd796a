using System.Diagnostics;
using System.Globalization;
using DuckDB.NET.Data;
using Leadwright.Surveys.Tables;
using static System.FormattableString;

namespace Leadwright.StoredTables;

/// <summary>Times a large table: writing, opening, charts at every zoom, and the same asked of a query engine.</summary>
internal sealed class TableSpeed(string folder, int rows, int columns, TextWriter page)
{
    private const int Buckets = 2000;

    public async Task RunAsync()
    {
        Directory.CreateDirectory(folder);
        var log = InventedLog.Make(rows, columns, 1, 1);
        var (from, to) = (log.From, log.To);
        page.WriteLine(Invariant($"One survey of {rows:N0} rows × {columns} columns of {log.IntervalSeconds} s; charts of {Buckets:N0} buckets. Medians, and the slowest of ten in parentheses where a chart is drawn.\n"));
        page.WriteLine("| what | time |\n| --- | --- |");
        var clock = Stopwatch.StartNew();
        await SurveyTables.WriteLogAsync(folder, "big", log);
        page.WriteLine(Invariant($"| write the table and its pyramid | {clock.Elapsed.TotalSeconds:0.0} s |"));
        page.WriteLine(Invariant($"| size of the table, of its pyramid | {SizeOf("log") / 1e6:0} MB, {SizeOf("log-pyramid") / 1e6:0} MB |"));
        log = null;
        GC.Collect();
        await OpenAndDrawAsync(from, to);
        Ask(from, to);
        page.WriteLine(Invariant($"| largest memory of this program, the making of the log included | {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:0} MB |"));
        await RebuildAsync(from, to);
        page.WriteLine();
    }

    private async Task OpenAndDrawAsync(DateTime from, DateTime to)
    {
        for (var round = 0; round < 2; round++)
        {
            var clock = Stopwatch.StartNew();
            using var opened = SurveyTables.Open(folder);
            var first = await opened.TableAsync(new(TableName.Log));
            var open = clock.Elapsed.TotalMilliseconds;
            await first.ReadAsync([0], from, to, Buckets);
            page.WriteLine(Invariant($"| open{(round == 0 ? " the first time, the program still cold" : " again")}; with its first chart | {open:0} ms; {clock.Elapsed.TotalMilliseconds:0} ms |"));
        }

        using var tables = SurveyTables.Open(folder);
        var table = await tables.TableAsync(new(TableName.Log));
        await TimeAsync("any column, the whole span", at => table.ReadAsync([at * 17 % columns], from, to, Buckets));
        await TimeAsync("ten columns, the whole span", at => table.ReadAsync([.. Enumerable.Range(at, 10).Select(column => column % columns)], from, to, Buckets));
        foreach (var share in new[] { 4, 16, 64, 256, 1024 })
        {
            var length = (to - from) / share;
            await TimeAsync($"any column, 1/{share} of the span", at => table.ReadAsync([at * 17 % columns], from + (length * (at % share)), from + (length * ((at % share) + 1)), Buckets));
        }
    }

    private async Task TimeAsync(string what, Func<int, Task<ChartBuckets>> read)
    {
        var times = new List<double>();
        var (buckets, rowsRead) = (0, false);
        for (var at = 0; at < 14; at++)
        {
            var clock = Stopwatch.StartNew();
            var chart = await read(at);
            if (at >= 4) times.Add(clock.Elapsed.TotalMilliseconds);
            (buckets, rowsRead) = (chart.Count, chart.AreRows);
        }

        times.Sort();
        page.WriteLine(Invariant($"| {what}: {buckets:N0} {(rowsRead ? "rows" : "buckets")} | {times[times.Count / 2]:0.0} ms ({times[^1]:0.0}) |"));
    }

    private void Ask(DateTime from, DateTime to)
    {
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        var path = Path.Combine(folder, "tables/log/*/*.parquet").Replace('\\', '/');
        var names = Names(connection, path);
        var width = (to - from).TotalMicroseconds / Buckets;
        string Query(string column, DateTime start, DateTime end, double bucket) => string.Create(CultureInfo.InvariantCulture,
            $"SELECT floor(epoch_us(start) / {bucket}) AS b, min(\"{column}\"), max(\"{column}\"), avg(\"{column}\"), count(\"{column}\") FROM '{path}' WHERE start >= TIMESTAMP '{start:yyyy-MM-dd HH:mm:ss}' AND start < TIMESTAMP '{end:yyyy-MM-dd HH:mm:ss}' GROUP BY b ORDER BY b");
        TimeQuery("query engine: any column, the whole span", at => Query(names[at * 17 % names.Count], from, to, width));
        var length = (to - from) / 256;
        TimeQuery("query engine: any column, 1/256 of the span", at => Query(names[at * 17 % names.Count], from + (length * at), from + (length * (at + 1)), width / 256));

        void TimeQuery(string what, Func<int, string> query)
        {
            var times = new List<double>();
            for (var at = 0; at < 14; at++)
            {
                var clock = Stopwatch.StartNew();
                using var command = connection.CreateCommand();
                command.CommandText = query(at);
                using var reader = command.ExecuteReader();
                while (reader.Read()) _ = reader.GetValue(1);
                if (at >= 4) times.Add(clock.Elapsed.TotalMilliseconds);
            }

            times.Sort();
            page.WriteLine(Invariant($"| {what} | {times[times.Count / 2]:0.0} ms ({times[^1]:0.0}) |"));
        }
    }

    private static List<string> Names(DuckDBConnection connection, string path)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT column_name FROM (DESCRIBE SELECT * FROM '{path}') WHERE column_type = 'DOUBLE'";
        using var reader = command.ExecuteReader();
        var names = new List<string>();
        while (reader.Read()) names.Add(reader.GetString(0));
        return names;
    }

    private async Task RebuildAsync(DateTime from, DateTime to)
    {
        Directory.Delete(Path.Combine(folder, "tables/log-pyramid"), recursive: true);
        using var tables = SurveyTables.Open(folder);
        var table = await tables.TableAsync(new(TableName.Log));
        var clock = Stopwatch.StartNew();
        await table.ReadAsync([0], from, to, Buckets);
        page.WriteLine(Invariant($"| first chart when the pyramid was deleted: it is built anew from the table | {clock.Elapsed.TotalSeconds:0.0} s |"));
    }

    private long SizeOf(string kind) =>
        new DirectoryInfo(Path.Combine(folder, "tables", kind)).EnumerateFiles("*", SearchOption.AllDirectories).Sum(file => file.Length);
}
