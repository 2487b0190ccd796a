using System.CommandLine;
using System.CommandLine.Parsing;
using System.Text;
using Leadwright.App.Hosting;
using Leadwright.App.Verbs.Guarding;
using Leadwright.App.Verbs.Matching;
using Leadwright.App.Verbs.Measuring;
using Leadwright.App.Verbs.Mending;
using Leadwright.App.Verbs.Planning;
using Leadwright.App.Verbs.Practising;
using Leadwright.App.Verbs.Reporting;
using Leadwright.App.Verbs.Studying;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>The whole command line: the verbs under one root.</summary>
public static class LeadwrightCommand
{
    /// <summary>Runs the program.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <param name="output">Standard output.</param>
    /// <param name="error">Standard error.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>The exit code; see <see cref="ExitCode"/>.</returns>
    public static Task<int> RunAsync(
        IReadOnlyList<string> args, TextWriter output, TextWriter error, CancellationToken cancellation = default) =>
        RunAsync(Root(output, error, new CheckVerb(
            new CheckInput(), (readings, known, priors) => HookupCheck.Judge(readings, known, priors))), args, output, error, cancellation);

    /// <summary>Runs a root command with this program's handling of wrong usage.</summary>
    /// <param name="root">The root command.</param>
    /// <param name="args">The words after the program's name.</param>
    /// <param name="output">Standard output.</param>
    /// <param name="error">Standard error.</param>
    /// <param name="cancellation">Ends it early.</param>
    public static async Task<int> RunAsync(
        RootCommand root, IReadOnlyList<string> args, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var parsed = root.Parse(args);
        if (parsed.Errors.Count > 0 && parsed.Action is not HelpExamples)
        {
            foreach (var mistake in parsed.Errors.Select(mistake => mistake.Message).Distinct(StringComparer.Ordinal)) await error.WriteLineAsync(mistake);
            await error.WriteLineAsync($"See: leadwright{VerbOf(parsed.CommandResult)} --help");
            return (int)ExitCode.WrongUsage;
        }

        var configuration = new InvocationConfiguration { Output = output, Error = error };
        return await parsed.InvokeAsync(configuration, cancellation);
    }

    // The verb as it is typed, with the verb that it is a part of.
    private static string VerbOf(CommandResult command) =>
        command.Command is RootCommand ? "" : $"{(command.Parent is CommandResult parent ? VerbOf(parent) : "")} {command.Command.Name}";

    /// <summary>The root with its verbs.</summary>
    /// <param name="output">Standard output.</param>
    /// <param name="error">Standard error.</param>
    /// <param name="check">The verb <c>check</c>.</param>
    public static RootCommand Root(TextWriter output, TextWriter error, CheckVerb check)
    {
        ArgumentNullException.ThrowIfNull(check);
        // Texts of recorders are in code pages of their countries.
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        var root = new RootCommand("Leadwright proves how a temporary power recorder is connected, and names the lead to move.");
        root.Add(check.Command(output, error));
        root.Add(new GuardVerb().Command(output, error));
        root.Add(new MendVerb().Command(output, error));
        root.Add(new MeasureVerb().Command(output, error));
        root.Add(new StudyVerb().Command(output, error));
        root.Add(new ReportVerb().Command(output, error));
        root.Add(new SurveyVerb().Command(output, error));
        root.Add(new ColumnsVerb().Command(output, error));
        root.Add(new PlanVerb().Command(output, error));
        root.Add(new PracticeVerb(HookupCheck.Judge).Command(output, error));
        root.Add(new ServeCommand().AddTo(new Command("serve", "Starts the screens on this computer."), output, error));
        root.Add(CompletionVerb.Command(output));
        HelpExamples.AddTo(root);

        // Without a verb the screens start; options of its own, since a command line parser keeps one value for each option.
        new ServeCommand().AddTo(root, output, error);
        NumberOptions.Guard(root);
        return root;
    }
}
