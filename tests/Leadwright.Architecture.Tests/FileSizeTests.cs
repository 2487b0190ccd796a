namespace Leadwright.Architecture.Tests;

/// <summary>A file that outgrows this holds more than one idea.</summary>
public sealed class FileSizeTests
{
    private const int MostLines = 600;

    [Theory]
    [InlineData("src")]
    [InlineData("tests")]
    public void Source_files_stay_short(string folder) => Assert.Empty(LongerThan(MostLines, folder));

    [Fact]
    public void The_rule_sees_files_and_counts_their_lines() =>
        Assert.Contains(LongerThan(10, "tests"), line => line.StartsWith("tests/Leadwright.Architecture.Tests/FileSizeTests.cs: ", StringComparison.Ordinal));

    // Libraries that are kept as published are not ours to split.
    private static IEnumerable<string> LongerThan(int lines, string folder) => Repository
        .Files(folder, ".cs", ".razor", ".css", ".js")
        .Where(path => !Repository.Relative(path).Contains("/wwwroot/lib/", StringComparison.Ordinal))
        .Select(path => (Path: path, Lines: File.ReadLines(path).Count()))
        .Where(file => file.Lines > lines)
        .Select(file => $"{Repository.Relative(file.Path)}: {file.Lines} lines");
}
