using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Pqdif;

namespace Leadwright.App.Tests.Verbs.Measuring;

/// <summary>The same recording as COMTRADE and as PQDIF through the whole program.</summary>
public sealed class PqdifVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-pqdif-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Check_says_the_same_of_both()
    {
        var (comtrade, pqdif) = Recordings();
        var first = await RunAsync("check", comtrade, "--service", "wye", "--nominal", "230/400", "--format", "json");
        var second = await RunAsync("check", pqdif, "--service", "wye", "--nominal", "230/400", "--format", "json");
        Assert.Equal("", second.Error);
        Assert.Equal(first.Code, second.Code);
        var (expected, found) = (JsonDocument.Parse(first.Output).RootElement, JsonDocument.Parse(second.Output).RootElement);
        Assert.Equal(expected.GetProperty("hookup").GetRawText(), found.GetProperty("hookup").GetRawText());
        Assert.Equal(expected.GetProperty("confidence").GetDouble(), found.GetProperty("confidence").GetDouble(), 1e-6);
    }

    [Fact]
    public async Task Measure_says_the_same_of_both_and_writes_its_rows_as_a_log()
    {
        var (comtrade, pqdif) = Recordings();
        var table = Path.Combine(_folder, "out.pqd");
        var first = await RunAsync("measure", comtrade, "--nominal", "230/400", "--format", "json");
        var second = await RunAsync("measure", pqdif, "--nominal", "230/400", "--format", "json", "-o", table, "--interval", "cycles");
        Assert.Equal("", second.Error);
        Assert.Equal(0, second.Code);
        var (expected, found) = (JsonDocument.Parse(first.Output).RootElement, JsonDocument.Parse(second.Output).RootElement);
        // Single precision in between: the last digits may differ.
        AssertNearly(expected.GetProperty("channels").GetProperty("V1"), found.GetProperty("channels").GetProperty("V1"));
        AssertNearly(expected.GetProperty("phases").GetProperty("1"), found.GetProperty("phases").GetProperty("1"));
        Assert.True(File.Exists(Path.Combine(_folder, "out-events.csv")));

        var log = Assert.Single(PqdifReader.Read(new InputFile(table, await File.ReadAllBytesAsync(table, TestContext.Current.CancellationToken)), cancellationToken: TestContext.Current.CancellationToken).Logs).Log;
        Assert.Equal(0.2, log.IntervalSeconds, 3);
        Assert.InRange(log.Count, 35, 41);
        Assert.Equal(230 * Math.Sqrt(1.0009), log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1))[0], 0.05);
        Assert.Equal(230 * 40 * Math.Cos(Math.PI / 6), log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1))[0], 1.0);
        Assert.True(log.Has(LogQuantity.Frequency));
    }

    [Fact]
    public async Task Measured_rows_are_written_in_UTC_and_read_back_by_the_recorder_s_clock()
    {
        // PQDIF's times are UTC (IEEE 1159.3): the recorder's clock was two hours ahead of it.
        var (comtrade, _) = Recordings();
        var (plain, moved) = (Path.Combine(_folder, "plain.pqd"), Path.Combine(_folder, "moved.pqd"));
        Assert.Equal(0, (await RunAsync("measure", comtrade, "--nominal", "230/400", "-o", plain, "--interval", "cycles")).Code);
        Assert.Equal(0, (await RunAsync("measure", comtrade, "--nominal", "230/400", "-o", moved, "--interval", "cycles", "--utc-offset", "+02:00")).Code);
        var clock = await StartsAsync(plain, TimeSpan.Zero);
        var utc = await StartsAsync(moved, TimeSpan.Zero);
        Assert.Equal(clock.Select(ticks => ticks - (2 * TimeSpan.TicksPerHour)), utc);
        Assert.Equal(clock, await StartsAsync(moved, TimeSpan.FromHours(2)));

        async Task<long[]> StartsAsync(string path, TimeSpan offset) => Assert.Single(PqdifReader.Read(
            new InputFile(path, await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken)), new PqdifReadOptions { UtcOffset = offset },
            cancellationToken: TestContext.Current.CancellationToken).Logs).Log.Starts.ToArray();
    }

    [Fact]
    public async Task A_file_of_logged_values_is_no_waveform_and_says_so()
    {
        var path = Path.Combine(_folder, "trend.pqd");
        await using (var stream = File.Create(path))
        {
            PqdifWriter.Write(stream, new IntervalLog(
                [new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)], [new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).Ticks], [[230]], 600));
        }

        var run = await RunAsync("measure", path);
        Assert.Equal((int)ExitCode.InputUnusable, run.Code);
        Assert.Contains("no waveform", run.Error, StringComparison.Ordinal);
        // A check makes do with logged values.
        Assert.Equal((int)ExitCode.CannotDecide, (await RunAsync("check", path)).Code);
    }

    private static void AssertNearly(JsonElement expected, JsonElement found)
    {
        foreach (var value in expected.EnumerateObject().Where(value => value.Value.ValueKind == JsonValueKind.Number))
            Assert.Equal(value.Value.GetDouble(), found.GetProperty(value.Name).GetDouble(), (1e-6 * Math.Abs(value.Value.GetDouble())) + 1e-3);
    }

    private (string Comtrade, string Pqdif) Recordings()
    {
        var comtrade = WrittenRecording.Write(_folder, "panel", 8);
        var data = Path.ChangeExtension(comtrade, ".dat");
        var record = ComtradeReader.Read(new InputFile(comtrade, File.ReadAllBytes(comtrade)), new InputFile(data, File.ReadAllBytes(data)));
        var pqdif = Path.Combine(_folder, "panel.pqd");
        using var stream = File.Create(pqdif);
        PqdifWriter.Write(stream, record.Recording);
        return (comtrade, pqdif);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
