using Leadwright.App.Verbs;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Help and completion are held against the command line itself.</summary>
public sealed class HelpTests
{
    public static TheoryData<string> Verbs() =>
        [.. LeadwrightCommand.Root(TextWriter.Null, TextWriter.Null, new CheckVerb(new CheckInput(), (readings, known, priors) => HookupCheck.Judge(readings, known, priors)))
            .Subcommands.Select(command => command.Name)];

    [Theory]
    [MemberData(nameof(Verbs))]
    public async Task The_help_of_every_verb_ends_with_examples_that_the_parser_takes(string verb)
    {
        var help = await Run(verb, "--help");
        var examples = help[(help.IndexOf("Examples:", StringComparison.Ordinal) + 1)..].Split('\n').Select(line => line.Trim()).Where(line => line.StartsWith("leadwright", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(examples);
        var root = LeadwrightCommand.Root(TextWriter.Null, TextWriter.Null, new CheckVerb(new CheckInput(), (readings, known, priors) => HookupCheck.Judge(readings, known, priors)));
        Assert.All(examples, example => Assert.Empty(root.Parse(example["leadwright".Length..].Trim()).Errors));
    }

    [Theory]
    [InlineData("gua", "guard")]
    [InlineData("study --lim", "--limits")]
    [InlineData("check --service ", "high-leg")]
    [InlineData("study --limits ", "en-50160")]
    public async Task A_shell_is_told_what_may_follow(string words, string found) =>
        Assert.Contains(found, (await Run($"[suggest:{words.Length}]", words)).Split('\n').Select(line => line.Trim()));

    [Theory]
    [InlineData("bash", "complete -o default -F _leadwright leadwright")]
    [InlineData("zsh", "compdef _leadwright leadwright")]
    [InlineData("fish", "complete -c leadwright")]
    [InlineData("pwsh", "Register-ArgumentCompleter")]
    public async Task Each_shell_has_its_lines(string shell, string line) => Assert.Contains(line, await Run("completion", shell), StringComparison.Ordinal);

    private static async Task<string> Run(params string[] words)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await LeadwrightCommand.RunAsync(words, output, error, TestContext.Current.CancellationToken);
        Assert.Equal("", error.ToString());
        Assert.Equal(0, code);
        return output.ToString();
    }
}
