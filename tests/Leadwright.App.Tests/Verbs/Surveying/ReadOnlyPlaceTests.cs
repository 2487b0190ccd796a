using System.Diagnostics;

namespace Leadwright.App.Tests.Verbs.Surveying;

/// <summary>A survey on a stick that can't be written to: it can be read, and writing says what to do.</summary>
public sealed class ReadOnlyPlaceTests : IDisposable
{
    private static readonly string s_week = TestFolder.Data("../../data/surveys/schema-1/originals/week/week.csv");

    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-read-only-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task A_survey_on_a_read_only_place_is_read_and_not_broken()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Mounts a folder read-only as Linux does.");
        var board = Path.Combine(_place, "board");
        Assert.Equal(0, (await RunAsync("survey", "new", board)).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", board, s_week, "--no-scan")).Code);
        // A name space of its own, so that the mount is gone with its process.
        const string Mount = "mount --bind \"$1\" \"$1\" && mount -o remount,bind,ro \"$1\" && shift && exec \"$@\"";
        var able = await StartAsync("unshare", "-rm", "sh", "-c", Mount, "sh", _place, "true");
        Assert.SkipUnless(able.Code == 0, $"This system does not let a test mount a folder: {able.Error}");

        Task<(int Code, string Output, string Error)> There(params string[] words) =>
            StartAsync("unshare", ["-rm", "sh", "-c", Mount, "sh", _place, "dotnet", Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), .. words]);
        var shown = await There("survey", "show", board);
        Assert.Equal((0, ""), (shown.Code, shown.Error));
        Assert.Contains("recording week", shown.Output, StringComparison.Ordinal);
        Assert.Equal(0, (await There("survey", "check", board)).Code);
        foreach (var words in (string[][])[["survey", "change", board, "--notes", "x"], ["survey", "add", board, s_week], ["survey", "new", Path.Combine(_place, "other")]])
        {
            var refused = await There(words);
            Assert.Equal(1, refused.Code);
            Assert.Contains("can't be written to. Look at the rights of the folder or the stick's switch", refused.Error, StringComparison.Ordinal);
        }

        Assert.Equal(0, (await RunAsync("survey", "check", board)).Code);
        Assert.False(Directory.Exists(Path.Combine(_place, "other")));
    }

    private static Task<(int Code, string Output, string Error)> RunAsync(params string[] words) => StartAsync("dotnet", [Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), .. words]);

    private static async Task<(int Code, string Output, string Error)> StartAsync(string program, params string[] words)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (var word in words) start.ArgumentList.Add(word);
        using var process = Process.Start(start)!;
        var (output, error) = (process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, await output, await error);
    }
}
