using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs;

public sealed class WholeFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-whole-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_is_written_stands_under_its_name_alone_in_place_of_what_was_there()
    {
        var path = Path.Combine(_folder, "a.json");
        WholeFile.Write(path, "first");
        WholeFile.Write(path, "second");
        Assert.Equal("second", File.ReadAllText(path));
        Assert.Equal([path], Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public void What_can_t_be_put_under_its_name_leaves_no_draft()
    {
        // A folder bears the name: the draft is written and can't be moved.
        var path = Path.Combine(_folder, "taken");
        Directory.CreateDirectory(path);
        var refusal = Assert.Throws<InputRefusedException>(() => WholeFile.Write(path, "text"));
        Assert.StartsWith($"Cannot write '{path}':", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(ExitCode.InputUnusable, refusal.ExitCode);
        Assert.Equal([path], Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public void A_folder_that_is_not_there_is_said_so() =>
        Assert.Contains("nowhere", Assert.Throws<InputRefusedException>(() => WholeFile.Write(Path.Combine(_folder, "nowhere", "a.json"), "text")).Message, StringComparison.Ordinal);
}
