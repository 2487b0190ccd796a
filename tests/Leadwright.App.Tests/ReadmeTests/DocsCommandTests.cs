using System.Diagnostics;
using Leadwright.App.Tests.Hosting;
using Leadwright.App.Verbs;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>Every command that README and documents show is taken by the program, and every one that ends by itself runs.</summary>
public sealed class DocsCommandTests
{
    // Each wants what the one before it wrote, as a reader goes along; the numbers are exit codes that are answers and no refusals.
    private static readonly int[] s_answers = [0, 10, 11];

    [Fact]
    public void The_parser_takes_every_command_that_is_shown()
    {
        var commands = DocsCommands.All();
        Assert.True(commands.Count > 30, $"{commands.Count} commands were found.");
        var root = LeadwrightCommand.Root(TextWriter.Null, TextWriter.Null, new CheckVerb(new CheckInput(), (readings, known, priors) => HookupCheck.Judge(readings, known, priors)));
        Assert.Empty(commands.SelectMany(command => root.Parse(DocsCommands.Words(command.Words)).Errors.Select(error => $"{command.Page}: leadwright {command.Words}: {error.Message}")));
    }

    [Fact]
    public async Task Every_command_that_ends_by_itself_runs()
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-docs-");
        try
        {
            await LayOutAsync(folder.FullName);
            var failed = new List<string>();
            var ran = 0;
            foreach (var (page, words) in InOrder(DocsCommands.All().Where(command => EndsByItself(command.Words))))
            {
                if (words.Contains("--mark", StringComparison.Ordinal)) await AnswerAsync(folder.FullName);
                var (code, error) = await RunAsync(folder.FullName, words);
                ran++;
                if (!s_answers.Contains(code)) failed.Add($"{page}: leadwright {words}: exit {code}: {error}");
            }

            Assert.Empty(failed);
            Assert.True(ran > 25, $"{ran} commands ran.");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    // What serves or follows goes on until it is stopped; its own tests run it.
    private static bool EndsByItself(string words) => !words.Contains("--follow", StringComparison.Ordinal) && !words.StartsWith("serve", StringComparison.Ordinal) && !words.StartsWith("--demo", StringComparison.Ordinal);

    // A survey is made and filled before it is looked at, an exercise is made before it is marked, and a table mended before it is studied, whatever page shows which first.
    private static IEnumerable<(string Page, string Words)> InOrder(IEnumerable<(string Page, string Words)> commands) => commands
        .Where(command => !command.Words.StartsWith("survey new board-7", StringComparison.Ordinal) || command.Words.Contains("--load", StringComparison.Ordinal))
        .OrderBy(command => command.Words switch
        {
            var words when words.StartsWith("survey new", StringComparison.Ordinal) => 0,
            var words when words.StartsWith("survey add", StringComparison.Ordinal) => 1,
            var words when words.Contains("--show-priors", StringComparison.Ordinal) || words.Contains("--form", StringComparison.Ordinal) => 2,
            var words when words.Contains("--take", StringComparison.Ordinal) || words.StartsWith("mend", StringComparison.Ordinal) => 3,
            var words when words.Contains("--mark", StringComparison.Ordinal) => 4,
            _ => 5,
        });

    // As a trainee does between two commands: where everything is, and how sure.
    private static async Task AnswerAsync(string folder)
    {
        foreach (var path in Directory.EnumerateFiles(folder, "answer.json", SearchOption.AllDirectories))
        {
            var answer = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
            foreach (var conductor in (string[])["A", "B", "C", "N", "A", "B", "C"])
            {
                var at = answer.IndexOf("\"?\"", StringComparison.Ordinal);
                if (at >= 0) answer = $"{answer[..at]}\"{conductor}\"{answer[(at + 3)..]}";
            }

            await File.WriteAllTextAsync(path, answer.Replace("\"confidence\": null", "\"confidence\": 0.5", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        }
    }

    private static async Task LayOutAsync(string folder)
    {
        var cancellation = TestContext.Current.CancellationToken;
        string Here(string name) => Path.Combine(folder, name);
        var readings = ReadmePage.PathOf(ReadmeBlocks.Example);
        Directory.CreateDirectory(Here("docs/examples"));
        foreach (var name in (string[])["panel7.json", "photo-of-screen.json", ReadmeBlocks.Example]) File.Copy(readings, Here(name));
        await File.WriteAllBytesAsync(Here("week.csv"), await ServedFolder.WeekCsvAsync(), cancellation);
        await File.WriteAllTextAsync(Here("firm.json"), """{"schema": "leadwright.letterhead/1", "name": "Invented Survey Works", "customer": ["Invented Bakery Ltd."]}""", cancellation);
        foreach (var name in (string[])["snapshot", "recording", "week"])
        {
            foreach (var ending in (string[])[".cfg", ".dat"]) File.Copy(ReadmePage.PathOf($"tests/data/comtrade/substation/xtz{ending}"), Here(name + ending));
        }

        await SplitWeek.WriteAsync(Here("week.xlsx"), cancellation);
    }

    private static async Task<(int Code, string Error)> RunAsync(string folder, string words)
    {
        // The pages correct a column that a recorder left unnamed; the week at hand has none, so that one of its own is told again.
        words = words.Replace("Ch 3=active-power,1,mean,kW", "P1_W=active-power,1,mean,W", StringComparison.Ordinal);
        var arguments = DocsCommands.Words(words).SelectMany(word => word == "*.cfg" ? Directory.EnumerateFiles(folder, "*.cfg").Select(path => Path.GetFileName(path)) : [word]);
        var start = new ProcessStartInfo("dotnet", [typeof(LeadwrightCommand).Assembly.Location, .. arguments]) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
        // What a command keeps for the person stays in the folder too.
        start.Environment[KnownColumns.Variable] = Path.Combine(folder, "columns");
        using var program = Process.Start(start)!;
        var error = program.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        var output = await program.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await program.WaitForExitAsync(TestContext.Current.CancellationToken);
        if (words.Contains("--show-priors", StringComparison.Ordinal)) await File.WriteAllTextAsync(Path.Combine(folder, "priors.json"), output, TestContext.Current.CancellationToken);
        return (program.ExitCode, await error);
    }
}
