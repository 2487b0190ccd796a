using System.Diagnostics;
using Leadwright.Surveys.Tables;
using static System.FormattableString;

namespace Leadwright.StoredTables;

/// <summary>Times the table of a sampled recording: writing at flat memory, and charts from the whole of it to one cycle.</summary>
internal sealed class SampleSpeed(string folder, long frames, TextWriter page)
{
    private const double Rate = 10_000;
    private const int Width = 1000;

    public async Task RunAsync()
    {
        Directory.CreateDirectory(folder);
        page.WriteLine(Invariant($"A recording of {frames:N0} samples of 8 channels at {Rate:N0} a second ({frames / Rate / 60:0.0} minutes); charts of {Width:N0} points of any channel. Medians, the slowest of ten in parentheses.\n"));
        page.WriteLine("| what | figure |\n| --- | --- |");
        using var process = Process.GetCurrentProcess();
        var clock = Stopwatch.StartNew();
        var name = new TableName(TableName.Samples);
        await SurveyTables.WriteSamplesAsync(folder, "bench-1", () => new InventedSamples(frames, Rate), new TableWriteOptions { Table = name });
        process.Refresh();
        page.WriteLine(Invariant($"| write table and pyramid | {clock.Elapsed.TotalSeconds:0.0} s, {frames / clock.Elapsed.TotalSeconds / 1e6:0.00} million samples of 8 channels a second |"));
        page.WriteLine(Invariant($"| largest memory of the program | {process.PeakWorkingSet64 / 1e6:0} MB |"));
        page.WriteLine(Invariant($"| table, pyramid | {SizeOf("samples") / 1e6:0} MB, {SizeOf("samples-pyramid") / 1e6:0} MB; as 16-bit numbers the recording has {frames * 16 / 1e6:0} MB |"));
        clock.Restart();
        using var tables = SurveyTables.Open(folder);
        var table = await tables.TableAsync(name);
        var whole = table.To - table.From;
        page.WriteLine(Invariant($"| open | {clock.Elapsed.TotalMilliseconds:0} ms |"));
        clock.Restart();
        await table.ReadAsync([0], table.From, table.To, Width);
        page.WriteLine(Invariant($"| first chart of the whole | {clock.Elapsed.TotalMilliseconds:0} ms |"));
        foreach (var (what, span) in new[] { ("the whole", whole), ("a tenth", whole / 10), ("a minute", TimeSpan.FromMinutes(1)), ("ten seconds", TimeSpan.FromSeconds(10)), ("a second", TimeSpan.FromSeconds(1)), ("a cycle of 20 ms", TimeSpan.FromMilliseconds(20)) })
            await TimeAsync(table, what, span <= whole ? span : whole);
        page.WriteLine();
    }

    private async Task TimeAsync(SurveyTable table, string what, TimeSpan span)
    {
        var random = new Random(1);
        var times = new List<double>();
        var (count, areRows) = (0, false);
        for (var round = 0; round < 14; round++)
        {
            var from = table.From + ((table.To - table.From - span) * random.NextDouble());
            var clock = Stopwatch.StartNew();
            var chart = await table.ReadAsync([round % 8], from, from + span, Width);
            if (round >= 4) times.Add(clock.Elapsed.TotalMilliseconds);
            (count, areRows) = (chart.Count, chart.AreRows);
        }

        times.Sort();
        page.WriteLine(Invariant($"| {what}: {count:N0} {(areRows ? "samples" : "buckets")} | {times[times.Count / 2]:0.0} ms ({times[^1]:0.0}) |"));
    }

    private long SizeOf(string kind) => new DirectoryInfo(Path.Combine(folder, "tables", kind)).EnumerateFiles("*", SearchOption.AllDirectories).Sum(file => file.Length);
}
