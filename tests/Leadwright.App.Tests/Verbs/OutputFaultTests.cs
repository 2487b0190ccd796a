using System.Diagnostics;
using Leadwright.App.Tests.Verbs.Measuring;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Documents and tables on a full disk, on a place that can't be written to, and by a program that is killed: whole or not there, and said what to do.</summary>
public sealed class OutputFaultTests : IDisposable
{
    private static readonly string s_house = TestFolder.Data("interval/household-1min-2007-02-01.csv");

    // A disk of 16 KB, or a folder that can't be written to, in a name space of its own; what lies there at the end goes to standard error.
    private const string Full = "mount -t tmpfs -o size=16k none \"$1\"; place=$1; shift; \"$@\"; code=$?; echo left: $(ls -A \"$place\") >&2; exit $code";
    private const string ReadOnly = "mount --bind \"$1\" \"$1\" && mount -o remount,bind,ro \"$1\"; place=$1; shift; \"$@\"; code=$?; echo left: $(ls -A \"$place\") >&2; exit $code";

    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-output-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Theory]
    [InlineData("report", Full, "the disk is full. Make room on it")]
    [InlineData("mend", Full, "the disk is full. Make room on it")]
    [InlineData("measure", Full, "the disk is full. Make room on it")]
    [InlineData("study", Full, "the disk is full. Make room on it")]
    [InlineData("report", ReadOnly, "can't be written to")]
    [InlineData("mend", ReadOnly, "can't be written to")]
    [InlineData("measure", ReadOnly, "can't be written to")]
    [InlineData("study", ReadOnly, "can't be written to")]
    public async Task What_can_t_be_written_leaves_nothing_and_says_what_to_do(string verb, string mount, string says)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Mounts a folder as Linux does.");
        var able = await RunAsync("unshare", "-rm", "sh", "-c", mount, "sh", _place, "true");
        Assert.SkipUnless(able.Code == 0, $"This system does not let a test mount a folder: {able.Error}");
        var source = Directory.CreateTempSubdirectory("leadwright-output-");
        try
        {
            string[] words = verb switch
            {
                "report" => ["report", s_house, "--service", "single", "--nominal", "240", "--parts", "summary", "-o", Path.Combine(_place, "house.pdf")],
                "mend" => ["mend", s_house, "--service", "single", "--nominal", "240", "-o", Path.Combine(_place, "mended.csv")],
                "study" => ["study", s_house, "--service", "single", "--nominal", "240", "-o", Path.Combine(_place, "study")],
                _ => ["measure", WrittenRecording.Write(source.FullName, "a", 4), "--service", "wye", "--nominal", "230/400", "--interval", "cycles", "-o", Path.Combine(_place, "measured.csv")],
            };
            var refused = await RunAsync("unshare", ["-rm", "sh", "-c", mount, "sh", _place, "dotnet", Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), .. words]);
            Assert.Equal(1, refused.Code);
            Assert.Contains(says, refused.Error, StringComparison.Ordinal);
            Assert.Matches(@"left:\s*\z", refused.Error);
        }
        finally
        {
            source.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task A_report_whose_writing_is_killed_is_the_one_before_or_the_whole_new_one()
    {
        var path = Path.Combine(_place, "house.html");
        string[] words = [Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), "report", s_house, "--service", "single", "--nominal", "240", "--parts", "summary,load", "-o", path];
        var clock = Stopwatch.StartNew();
        var whole = await RunAsync("dotnet", words);
        Assert.Equal("", whole.Error);
        var (took, sound) = (clock.Elapsed, await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken));
        var chance = new Random(20261126);
        for (var kill = 0; kill < 8; kill++)
        {
            // Mostly near its end, where it writes.
            using (var process = Start("dotnet", words))
            {
                await Task.Delay(took * (kill < 2 ? chance.NextDouble() : 0.7 + (0.35 * chance.NextDouble())), TestContext.Current.CancellationToken);
                if (!process.HasExited) process.Kill();
                await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            }

            Assert.Equal(sound, await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken));
        }

        Assert.Equal("", (await RunAsync("dotnet", words)).Error);
        Assert.Equal([path], Directory.EnumerateFileSystemEntries(_place));
    }

    [Fact]
    public void A_folder_of_work_that_a_killed_program_left_is_cleared_away_and_one_in_use_is_not()
    {
        var name = $"leadwright-work-test-{Guid.NewGuid():N}-";
        using var inUse = WorkFolder.Make(name);
        var left = Directory.CreateTempSubdirectory(name).FullName;
        File.WriteAllText(Path.Combine(left, ".in-use"), "");
        File.WriteAllText(Path.Combine(left, "measured.parquet"), "half");
        using (var next = WorkFolder.Make(name))
        {
            Assert.False(Directory.Exists(left));
            Assert.True(Directory.Exists(inUse.Path));
            left = next.Path;
        }

        Assert.False(Directory.Exists(left));
    }

    private static Process Start(string program, params string[] words)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        start.Environment["DOTNET_EnableDiagnostics"] = "0";
        foreach (var word in words) start.ArgumentList.Add(word);
        return Process.Start(start)!;
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(string program, params string[] words)
    {
        using var process = Start(program, words);
        var (output, error) = (process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, await output, await error);
    }
}
