using System.Diagnostics;
using System.Globalization;
using Leadwright.Fuzzing;

// Usage: [--target NAME] [--count 1000000] [--seconds 600] [--seed 1] [--cases DIR]. Each target has the time to itself; cases that fail are written into DIR.
var (count, seconds, seed) = (Number("--count", 1_000_000), Number("--seconds", 600), Number("--seed", 1));
var cases = Text("--cases") ?? Path.Combine(Path.GetTempPath(), "leadwright-fuzz-cases");
var failed = false;
Console.WriteLine("| target | inputs | read through | slowest | most memory allocated | time | failures |\n| --- | --- | --- | --- | --- | --- | --- |");
foreach (var target in FuzzTargets.All(Text("--target")))
{
    using (target)
    {
        using var stop = new CancellationTokenSource(TimeSpan.FromSeconds(seconds));
        var (current, since) = ((byte[])[], Stopwatch.GetTimestamp());
        // A reader that hangs can't be stopped: its input is kept and the program ends.
        using var watch = new Timer(_ =>
        {
            var input = current;
            if (Stopwatch.GetElapsedTime(since) < 6 * FuzzRun.MostTime || input.Length == 0) return;
            Keep(target, input);
            Console.WriteLine($"{target.Name}: hangs on {FuzzRun.NameOf(input)} of {input.Length} bytes");
            Environment.Exit(3);
        }, null, 1000, 1000);
        var clock = Stopwatch.StartNew();
        var result = FuzzRun.Of(target, count, seed, input => (current, since) = (input, Stopwatch.GetTimestamp()), cancellation: stop.Token);
        current = [];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {target.Name} | {result.Count:N0} | {100.0 * result.Taken / Math.Max(result.Count, 1):0} % | {result.SlowestMilliseconds:0} ms | {result.MostAllocated >> 20} MB | {clock.Elapsed.TotalSeconds:0} s | {result.Failures.Count} |"));
        foreach (var failure in result.Failures)
        {
            failed = true;
            Keep(target, failure.Input);
            Console.Error.WriteLine($"{target.Name} {FuzzRun.NameOf(failure.Input)}: {failure.Message}\n{failure.InnerException?.StackTrace}");
        }
    }
}

return failed ? 1 : 0;

void Keep(FuzzTarget target, byte[] input)
{
    var folder = Path.Combine(cases, target.Name);
    Directory.CreateDirectory(folder);
    File.WriteAllBytes(Path.Combine(folder, FuzzRun.NameOf(input)), input);
}

string? Text(string name) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : null;

int Number(string name, int usual) => Text(name) is { } text ? int.Parse(text, CultureInfo.InvariantCulture) : usual;
