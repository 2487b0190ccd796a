using System.Diagnostics;
using System.Globalization;

namespace Leadwright.Surveys.Tests.Faults;

/// <summary>A process that works on a survey is killed at random instants. What it was told to be saved is there, nothing is half there, nothing is left behind.</summary>
public sealed class KillTests : IDisposable
{
    private const int RoundsPerFolder = 10;

    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-kill-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    [Trait("speed", "slow")]
    public async Task Killing_a_writer_a_hundred_and_twenty_times_loses_nothing_that_was_saved() => await KillAsync(120, 20260302);

    /// <summary>More of the same, by hand: <c>-explicit only -class "*KillTests*"</c>.</summary>
    [Fact(Explicit = true)]
    public async Task Killing_a_writer_a_thousand_times_loses_nothing_that_was_saved() => await KillAsync(1000, 20260303);

    // Two at a time, each on surveys of its own.
    private async Task KillAsync(int kills, int seed)
    {
        var saved = await Task.WhenAll(KillInLaneAsync(0, kills / 2, seed), KillInLaneAsync(1, kills / 2, seed + 1));
        // A writer that never came to write would prove nothing.
        Assert.True(saved.Sum() > kills * 2, string.Create(CultureInfo.InvariantCulture, $"Only {saved.Sum()} entries were saved in {kills} rounds."));
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{kills} kills, {saved.Sum()} entries told to be saved."));
    }

    private async Task<int> KillInLaneAsync(int lane, int kills, int seed)
    {
        await Task.Yield();
        var chance = new Random(seed);
        var saved = 0;
        for (var kill = 0; kill < kills; kill++)
        {
            TestContext.Current.CancellationToken.ThrowIfCancellationRequested();
            var folder = Path.Combine(_place, string.Create(CultureInfo.InvariantCulture, $"survey-{lane}-{kill / RoundsPerFolder}"));
            var told = await RunAndKillAsync(folder, chance);
            saved += told.Count;
            RequireSound(folder, told, string.Create(CultureInfo.InvariantCulture, $"kill {kill}, seed {seed}"));
        }

        return saved;
    }

    private static async Task<List<(long Number, string What)>> RunAndKillAsync(string folder, Random chance)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        // Else the runtime leaves its sockets for debuggers among the temporary files of everybody.
        start.Environment["DOTNET_EnableDiagnostics"] = "0";
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Leadwright.Surveys.KilledWriter.dll"));
        start.ArgumentList.Add(folder);
        start.ArgumentList.Add(chance.Next().ToString(CultureInfo.InvariantCulture));
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.Equal("ready", await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken));
        var lines = new List<string>();
        if (chance.Next(4) == 0)
        {
            // Right at the start, while the survey is made or opened and leftovers are cleared away.
            await Task.Delay(chance.Next(150), TestContext.Current.CancellationToken);
        }
        else
        {
            // In the midst of the work: after some entries, and a moment more.
            for (var wanted = chance.Next(1, 15); wanted > 0 && await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line; wanted--) lines.Add(line);
            Thread.SpinWait(chance.Next(1_500_000));
        }

        process.Kill();
        var text = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal("", await errors);
        // The last line counts when it is whole: it was written in one go after the entry was saved.
        lines.AddRange(text[..(text.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries));
        return [.. lines.Select(line => line.Split(' ')).Select(words => (long.Parse(words[0], CultureInfo.InvariantCulture), words[1]))];
    }

    private static void RequireSound(string folder, List<(long Number, string What)> told, string what)
    {
        if (!SurveyFolder.IsSurvey(folder))
        {
            Assert.Empty(told);
            return;
        }

        using (var reader = SurveyFolder.Open(folder)) RequireTold(reader, told, what);
        using var survey = SurveyFolder.Open(folder, SurveyAccess.Write, Surveys.Author);
        RequireTold(survey, told, what);
        var verified = survey.Verify(cancellation: TestContext.Current.CancellationToken);
        Assert.True(verified.IsSound, what);
        Assert.Empty(verified.Strays);
        Assert.Empty(survey.State.NotUnderstood);
        Assert.Equal(survey.DocumentBytes(), File.ReadAllBytes(Path.Combine(folder, "survey.json")));
        Assert.False(Directory.Exists(Path.Combine(folder, "incoming")), $"{what}: files on their way in were left behind.");
        Assert.DoesNotContain(
            Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories), file => file.EndsWith(".new", StringComparison.Ordinal) || file.EndsWith(".unfinished", StringComparison.Ordinal));
    }

    private static void RequireTold(SurveyFolder survey, List<(long Number, string What)> told, string what)
    {
        Assert.Empty(survey.Faults);
        var found = survey.Entries.Select(entry => (entry.Number, entry.What)).ToHashSet();
        foreach (var entry in told) Assert.True(found.Contains(entry), $"{what}: entry {entry.Number} ({entry.What}) was told to be saved and is not there.");
    }
}
