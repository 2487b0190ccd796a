namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>What the README shows is what the program prints and what was measured.</summary>
public sealed class ReadmeTests
{
    [Theory]
    [InlineData("readings")]
    [InlineData("check output")]
    [InlineData("accuracy")]
    [InlineData("speed")]
    public async Task Readme_shows_what_is(string block)
    {
        var wanted = await ReadmeBlocks.AllAsync(TestContext.Current.CancellationToken);
        Assert.Equal(wanted[block], ReadmePage.Block(ReadmePage.Text("README.md"), block));
    }

    [Fact]
    public async Task Readmes_example_names_the_three_clamps()
    {
        // V1 at 0; currents lag ordinary loads' 19 to 26 degrees. I1 at 161 is -19 turned by half a cycle, I2 at 95 is 25
        // behind conductor C (120), I3 at -146 is 26 behind conductor B (-120). By the angles of a balanced A-B-C set alone.
        var blocks = await ReadmeBlocks.AllAsync(TestContext.Current.CancellationToken);
        var output = blocks["check output"];
        Assert.StartsWith("```\nFAULTY", output, StringComparison.Ordinal);
        Assert.Contains("Turn clamp I1 round", output, StringComparison.Ordinal);
        Assert.Contains("Move clamp I2 to conductor B", output, StringComparison.Ordinal);
        Assert.Contains("Move clamp I3 to conductor C", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_block_without_marks_is_told() =>
        Assert.Contains("lacks the lines", Assert.Throws<InvalidDataException>(() => ReadmePage.Block("# Title", "speed")).Message, StringComparison.Ordinal);

    /// <summary>Run with <c>dotnet run --project tests/Leadwright.App.Tests -- -explicit only</c> after results changed.</summary>
    [Fact(Explicit = true)]
    public async Task Rewrite_the_readme()
    {
        var page = ReadmePage.Text("README.md");
        foreach (var (name, text) in await ReadmeBlocks.AllAsync(TestContext.Current.CancellationToken))
            page = ReadmePage.WithBlock(page, name, text);
        await File.WriteAllTextAsync(ReadmePage.PathOf("README.md"), page, TestContext.Current.CancellationToken);
    }
}
