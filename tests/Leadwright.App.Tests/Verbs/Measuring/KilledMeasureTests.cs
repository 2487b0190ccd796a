using System.Diagnostics;
using System.Globalization;
using Leadwright.App.Verbs.Measuring;
using Leadwright.Core.Measuring;

namespace Leadwright.App.Tests.Verbs.Measuring;

/// <summary>A process that measures is killed again and again: what it leaves goes on to the bytes of a run that was not.</summary>
public sealed class KilledMeasureTests(ITestOutputHelper output) : IDisposable
{
    private const int Kills = 6;

    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-killed-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("csv", 1)]
    [InlineData("parquet", 2)]
    public async Task Killed_at_random_instants_and_resumed_it_writes_the_same_bytes(string ending, int seed)
    {
        var cancellation = TestContext.Current.CancellationToken;
        var path = WrittenRecording.Write(_folder, "panel", 150);
        var request = new MeasureRequest { Nominal = "230/400", Output = Path.Combine(_folder, "whole." + ending), Interval = MeasuringInterval.Cycles };
        MeasureRun.Measure(MeasureInput.Open(path, request, cancellation), request, _ => { }, cancellation);

        var killed = Path.Combine(_folder, "killed." + ending);
        var chance = new Random(seed);
        var (kills, reached) = (0, 0.0);
        while (true)
        {
            using var process = Start(path, killed);
            var until = kills < Kills ? reached + (chance.NextDouble() * (1 - reached) * 0.4) : 2;
            var last = "";
            while (await process.StandardOutput.ReadLineAsync(cancellation) is { } line)
            {
                last = line;
                if (line != "done") reached = double.Parse(line, CultureInfo.InvariantCulture);
                if (reached < until) continue;
                // Anywhere in the next piece of work.
                await Task.Delay(chance.Next(6), cancellation);
                process.Kill();
                kills++;
                break;
            }

            var error = await process.StandardError.ReadToEndAsync(cancellation);
            await process.WaitForExitAsync(cancellation);
            Assert.Equal("", error);
            if (last == "done") break;
            Assert.True(kills <= Kills && reached > 0, $"{last} {error}");
        }

        output.WriteLine($"{kills} kills");
        Assert.True(kills >= 3, $"{kills} kills");
        foreach (var part in (string[])["", "-events"])
            Assert.Equal(File.ReadAllBytes(Path.Combine(_folder, $"whole{part}.{ending}")), File.ReadAllBytes(Path.Combine(_folder, $"killed{part}.{ending}")));
        Assert.DoesNotContain(Directory.EnumerateFiles(_folder), file => file.Contains("checkpoint", StringComparison.Ordinal) || file.EndsWith(".unfinished", StringComparison.Ordinal));
    }

    private static Process Start(string path, string table)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        // Else the runtime leaves its sockets for debuggers among the temporary files of everybody.
        start.Environment["DOTNET_EnableDiagnostics"] = "0";
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Leadwright.App.KilledMeasure.dll"));
        start.ArgumentList.Add(path);
        start.ArgumentList.Add(table);
        return Process.Start(start)!;
    }
}
