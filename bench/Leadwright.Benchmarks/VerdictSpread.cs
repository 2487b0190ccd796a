using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using Leadwright.Core.Hookups;

namespace Leadwright.Benchmarks;

/// <summary>How the time of a verdict spreads over many different visits: a mean hides the slow ones.</summary>
internal static class VerdictSpread
{
    private const int WarmUpCount = 30;

    public static int Run(string[] args)
    {
        var count = int.Parse(Option(args, "--count") ?? "200", CultureInfo.InvariantCulture);
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture,
            $"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.RuntimeIdentifier}, {Environment.ProcessorCount} logical processors; {count} visits a row, one thread, each judged once, after {WarmUpCount} of each kind to warm up. Processor time leaves out what other programs on the machine took.");
        text.AppendLine()
            .AppendLine("| visit | median, ms | 95 in 100 under, ms | slowest, ms | mean processor time, ms |")
            .AppendLine("| --- | --- | --- | --- | --- |");
        VisitKind[] kinds = Option(args, "--visit") is { } visit ? [Enum.Parse<VisitKind>(visit, true)] : Enum.GetValues<VisitKind>();
        // All kinds before the first is measured: they share the code that the runtime is still making faster.
        foreach (var kind in kinds) Times(kind, WarmUpCount);
        foreach (var kind in kinds)
        {
            var (times, processor) = Times(kind, count);
            text.AppendLine(CultureInfo.InvariantCulture,
                $"| {kind} | {times[count / 2]:0.0} | {times[(count * 95) / 100]:0.0} | {times[^1]:0.0} | {processor:0.0} |");
        }

        Console.Write(text);
        if (Option(args, "--write") is { } file) File.WriteAllText(file, text.ToString());
        return 0;
    }

    private static (double[] Sorted, double MeanProcessor) Times(VisitKind kind, int count)
    {
        var visits = Enumerable.Range(0, count).Select(index => Visits.Of(kind, index)).ToArray();
        using var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        var times = visits.Select(visit => Milliseconds(visit.Readings, visit.Options)).ToArray();
        process.Refresh();
        var processor = (process.TotalProcessorTime - before).TotalMilliseconds / count;
        Array.Sort(times);
        return (times, processor);
    }

    private static double Milliseconds(PanelReadings readings, CheckOptions options)
    {
        var start = Stopwatch.GetTimestamp();
        HookupCheck.Judge(readings, options);
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }

    private static string? Option(string[] args, string name)
    {
        var at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? args[at + 1] : null;
    }
}
