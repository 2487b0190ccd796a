using System.Diagnostics;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>What the marked blocks of the README have to say, worked out from the program and from the committed results.</summary>
internal static class ReadmeBlocks
{
    public const string Example = "docs/examples/readings.json";
    private const string AccuracyFile = "docs/methods/hook-up-accuracy.md";
    private const string ResultsFolder = "bench/results/amd-epyc-2-cores";

    // The names of the visits in the results, in words.
    private static readonly Dictionary<string, string> s_visits = new(StringComparer.Ordinal)
    {
        ["WyeTwelveNumbers"] = "four-wire, volts and amperes with angles",
        ["WyeEverything"] = "the same with powers and volts between leads",
        ["WyeNeutralClamp"] = "four-wire with a neutral clamp",
        ["WyeWattsOnly"] = "four-wire without angles, watts and vars",
        ["WyeWattsWithoutVars"] = "four-wire without angles, watts alone",
        ["WyeConventionsUnstated"] = "four-wire, everything, conventions unstated",
        ["Delta"] = "three-wire, three clamps",
        ["DeltaTwoClamp"] = "three-wire, two clamps",
        ["Split"] = "single-phase three-wire",
        ["Single"] = "single-phase two-wire",
    };

    // The rest of the output is shown as a row of dots.
    private const string ShownUpTo = "WHAT ELSE IT COULD BE";

    public static async Task<Dictionary<string, string>> AllAsync(CancellationToken cancellation) => new(StringComparer.Ordinal)
    {
        ["readings"] = $"```json\n{ReadmePage.Text(Example).Trim()}\n```",
        ["check output"] = await CheckOutputAsync(cancellation),
        ["accuracy"] = Accuracy(),
        ["speed"] = Speed(),
    };

    private static async Task<string> CheckOutputAsync(CancellationToken cancellation)
    {
        // As the reader runs it: from the top of the checkout, with the name as the README gives it, since lines wrap by its length.
        var start = new ProcessStartInfo("dotnet", [typeof(LeadwrightCommand).Assembly.Location, "check", Example])
        {
            WorkingDirectory = ReadmePage.Root,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var program = Process.Start(start)!;
        var error = program.StandardError.ReadToEndAsync(cancellation);
        var text = (await program.StandardOutput.ReadToEndAsync(cancellation)).ReplaceLineEndings("\n");
        await program.WaitForExitAsync(cancellation);
        Assert.Equal("", await error);
        var end = text.IndexOf(ShownUpTo, StringComparison.Ordinal);
        Assert.True(end > 0, $"The output holds no '{ShownUpTo}':\n{text}");
        return $"```\n{text[..end].TrimEnd()}\n…\n```";
    }

    private static string Accuracy()
    {
        var page = ReadmePage.Text(AccuracyFile);
        var slips = page[page.IndexOf("### Slips as they happen", StringComparison.Ordinal)..];
        slips = slips[..slips.IndexOf("\n### ", 5, StringComparison.Ordinal)];
        var rows = slips.Split('\n').Where(line => line.StartsWith("| ", StringComparison.Ordinal) && !line.StartsWith("| --", StringComparison.Ordinal))
            .Select(line => line.Trim('|', ' ').Split(" | ")).ToArray();
        var kept = rows.Where(row => row[1] == "ordinary" || row[0] == "wye").Select(row => $"| {row[0]} | {row[1]} | {string.Join(" | ", row[3..8])} |");
        return string.Join('\n', ["| service | load | named right | false alarms | missed | undecided | wrong at 0.95 or more |", "| --- | --- | --- | --- | --- | --- | --- |", .. kept]);
    }

    private static string Speed()
    {
        var native = Rows(ReadmePage.Text($"{ResultsFolder}/verdict-spread.md")).ToDictionary(row => row[0], StringComparer.Ordinal);
        var browser = Rows(ReadmePage.Text($"{ResultsFolder}/verdict-in-the-browser.md")).ToDictionary(row => row[0], StringComparer.Ordinal);
        var lines = native.Select(pair =>
            $"| {s_visits[pair.Key]} | {pair.Value[4]} | {pair.Value[1]} | {(browser.TryGetValue(pair.Key, out var row) ? row[1] : "–")} |");
        return string.Join('\n', ["| visit | processor time, ms | on the clock, median ms | in the browser, best of nine, ms |", "| --- | --- | --- | --- |", .. lines]);
    }

    private static IEnumerable<string[]> Rows(string page) => page.Split('\n')
        .Where(line => line.StartsWith("| ", StringComparison.Ordinal) && !line.StartsWith("| ---", StringComparison.Ordinal))
        .Select(line => line.Trim('|', ' ').Split(" | "))
        .Skip(1);
}
