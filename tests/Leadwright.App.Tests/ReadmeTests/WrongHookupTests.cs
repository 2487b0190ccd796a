namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>The page of wrong hook-ups shows what the program reads, says and draws.</summary>
public sealed class WrongHookupTests
{
    public static TheoryData<string> Names() => [.. WrongHookups.Names];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_page_shows_what_the_program_says_and_draws(string name)
    {
        var (block, drawing, vectors) = WrongHookups.Of(name);
        Assert.Equal(block, ReadmePage.Block(ReadmePage.Text(WrongHookups.Page), name));
        Assert.Equal(drawing, ReadmePage.Text($"docs/pictures/wrong/{name}.svg"));
        Assert.Equal(vectors, ReadmePage.Text($"docs/pictures/wrong/{name}-vectors.svg"));
    }

    /// <summary>Run with <c>dotnet run --project tests/Leadwright.App.Tests -- -explicit only</c> after answers or drawings changed.</summary>
    [Fact(Explicit = true)]
    public async Task Rewrite_the_page_of_wrong_hook_ups()
    {
        var page = ReadmePage.Text(WrongHookups.Page);
        foreach (var name in WrongHookups.Names)
        {
            var (block, drawing, vectors) = WrongHookups.Of(name);
            page = ReadmePage.WithBlock(page, name, block);
            await File.WriteAllTextAsync(ReadmePage.PathOf($"docs/pictures/wrong/{name}.svg"), drawing, TestContext.Current.CancellationToken);
            await File.WriteAllTextAsync(ReadmePage.PathOf($"docs/pictures/wrong/{name}-vectors.svg"), vectors, TestContext.Current.CancellationToken);
        }

        await File.WriteAllTextAsync(ReadmePage.PathOf(WrongHookups.Page), page, TestContext.Current.CancellationToken);
    }
}
