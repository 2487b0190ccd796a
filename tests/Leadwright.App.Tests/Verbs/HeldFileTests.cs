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
        // A workbook is read whole by its library. A file of zeros takes no room on the disk.
        var path = Path.Combine(_folder, "long.xlsx");
        await using (var file = File.Create(path)) file.SetLength(HeldFile.MostBytes + 1);
        using var error = new StringWriter();
        Assert.Equal((int)ExitCode.InputUnusable, await LeadwrightCommand.RunAsync([verb, path, "--service", "wye"], TextWriter.Null, error, TestContext.Current.CancellationToken));
        Assert.Contains("held in memory", error.ToString(), StringComparison.Ordinal);
        Assert.Contains("leadwright measure", error.ToString(), StringComparison.Ordinal);
    }
}
