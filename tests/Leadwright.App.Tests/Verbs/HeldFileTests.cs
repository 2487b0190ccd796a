using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs;

public sealed class HeldFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-held-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("guard")]
    [InlineData("check")]
    [InlineData("mend")]
    public async Task A_file_that_memory_can_t_hold_is_refused_with_what_to_do(string verb)
    {
        // A file of zeros that takes no room on the disk.
        var path = Path.Combine(_folder, "long.csv");
        await using (var file = File.Create(path)) file.SetLength(HeldFile.MostBytes + 1);
        var run = new CommandRun();
        Assert.Equal((int)ExitCode.InputUnusable, await run.RunAsync(verb, path, "--service", "wye"));
        Assert.Contains("held in memory", run.Error, StringComparison.Ordinal);
        Assert.Contains("leadwright measure", run.Error, StringComparison.Ordinal);
    }
}
