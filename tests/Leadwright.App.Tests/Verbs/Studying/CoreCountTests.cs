using System.Diagnostics;
using Leadwright.App.Tests.Verbs.Measuring;

namespace Leadwright.App.Tests.Verbs.Studying;

/// <summary>How many cores a computer has must not show in what it answers.</summary>
public sealed class CoreCountTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-cores-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task One_core_and_two_write_the_same_study()
    {
        var week = TestFolder.Data("../../data/interval/steel-15min-2018-jan-jun.csv");
        var recording = WrittenRecording.Write(_folder, "panel", 30);
        foreach (var path in (string[])[week, recording])
        {
            var one = await RunAsync(1, "study", path, "--nominal", "230/400", "--limits", "en-50160", "--interval", "10s", "--format", "json");
            Assert.NotEmpty(one);
            Assert.Equal(one, await RunAsync(2, "study", path, "--nominal", "230/400", "--limits", "en-50160", "--interval", "10s", "--format", "json"));
        }
    }

    [Fact]
    public async Task One_core_and_two_write_the_same_tables_plots_and_report()
    {
        var house = TestFolder.Data("../../data/interval/household-1min-2007-02-01.csv");
        foreach (var cores in (int[])[1, 2])
        {
            await RunAsync(cores, "study", house, "--service", "single", "--nominal", "240", "-o", Path.Combine(_folder, $"study{cores}"));
            await RunAsync(cores, "report", house, "--service", "single", "--nominal", "240", "-o", Path.Combine(_folder, $"report{cores}.pdf"));
        }

        var names = Directory.GetFiles(Path.Combine(_folder, "study1")).Select(Path.GetFileName).Order(StringComparer.Ordinal).ToList();
        Assert.True(names.Count > 8, string.Join(' ', names));
        foreach (var name in names) Assert.Equal(Bytes(Path.Combine("study1", name!)), Bytes(Path.Combine("study2", name!)));
        Assert.Equal(Bytes("report1.pdf"), Bytes("report2.pdf"));
    }

    private byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(_folder, name));

    private static async Task<string> RunAsync(int cores, params string[] args)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), .. args]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["DOTNET_PROCESSOR_COUNT"] = $"{cores}";
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode is 0 or 10 or 11, $"{process.ExitCode}: {await error}");
        return output;
    }
}
