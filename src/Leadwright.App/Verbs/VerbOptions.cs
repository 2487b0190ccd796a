using System.CommandLine;
using System.CommandLine.Parsing;

namespace Leadwright.App.Verbs;

/// <summary>How the verbs' options are made, so that they refuse alike.</summary>
internal static class VerbOptions
{
    /// <summary>An option that takes one of a few words.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="description">For the help.</param>
    /// <param name="standard">The word when none is given; null for none.</param>
    /// <param name="values">The words.</param>
    public static Option<string?> Among(string name, string description, string? standard, params string[] values)
    {
        var option = new Option<string?>(name) { Description = description, HelpName = string.Join('|', values) };
        if (standard is not null) option.DefaultValueFactory = _ => standard;
        option.CompletionSources.Add(values);
        option.Validators.Add(result =>
        {
            var value = result.GetValueOrDefault<string?>();
            if (value is not null && !values.Contains(value, StringComparer.Ordinal))
                result.AddError($"{name}: '{value}' is not one of {string.Join(", ", values)}.");
        });
        return option;
    }

    /// <summary>The option <c>--format</c>.</summary>
    public static Option<string?> Format() => Among(
        "--format", "text for people, or json: one object per file, one per line, nothing else on standard output.", "text", "text", "json");

    /// <summary>The option <c>--keep</c>.</summary>
    public static Option<bool> Keep() => new("--keep") { Description = "Keeps the answer in the survey whose folder is named." };

    /// <summary>Refuses what looks like an option and is none, so that it isn't taken for a file.</summary>
    /// <param name="files">The verb's files.</param>
    /// <param name="verb">The verb.</param>
    public static void RefuseUnknownOptions(Argument<string[]> files, string verb) => files.Validators.Add(result =>
    {
        foreach (var token in result.Tokens)
        {
            if (!token.Value.StartsWith("--", StringComparison.Ordinal)) continue;
            var typed = token.Value.Split('=', 2)[0];
            var meant = NearestName.Of(typed, ((result.Parent as CommandResult)?.Command.Options ?? []).Where(option => !option.Hidden).Select(option => option.Name));
            result.AddError($"There is no option '{typed}'. {(meant is null ? "" : $"Was '{meant}' meant? ")}'leadwright {verb} --help' lists them.");
        }
    });
}
