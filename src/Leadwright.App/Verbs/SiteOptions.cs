using System.CommandLine;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs;

/// <summary>The options that say what is known of the site; the verbs that judge a hook-up share them.</summary>
internal sealed class SiteOptions
{
    private readonly Option<string?> _load = VerbOptions.Among(
        "--load", "What is known of the load. mixed is ordinary; the others narrow or widen the displacement expected.",
        "mixed", "mixed", "motors", "lighting", "drives", "unknown");

    private readonly Option<bool> _export = new("--export")
    {
        Description = "Generation may send power back: negative power is then no sign of a fault by itself.",
    };

    private readonly Option<string?> _rotation = VerbOptions.Among(
        "--rotation", "What a rotation indicator showed at the panel.", "unknown", "abc", "acb", "unknown");

    /// <summary>The options, in the order of the help.</summary>
    public IReadOnlyList<Option> All => [_load, _export, _rotation];

    /// <summary>The load as typed; null when it was not.</summary>
    public string? LoadWord(ParseResult parsed) => IsSaid(parsed, _load) ? parsed.GetValue(_load) : null;

    /// <summary>True when export was said to be possible; null when nothing was said.</summary>
    public bool? ExportSaid(ParseResult parsed) => IsSaid(parsed, _export) ? parsed.GetValue(_export) : null;

    /// <summary>The rotation as typed; null when it was not.</summary>
    public string? RotationWord(ParseResult parsed) => IsSaid(parsed, _rotation) ? parsed.GetValue(_rotation) : null;

    /// <summary>What was said, and what a survey says where nothing was.</summary>
    /// <param name="parsed">What was said.</param>
    /// <param name="survey">The survey; null for a file as named.</param>
    public CheckOptions KnownOf(ParseResult parsed, SurveyState? survey)
    {
        var said = KnownOf(parsed);
        if (survey?.Panel.Known() is not { } known) return said;
        return said with
        {
            Load = IsSaid(parsed, _load) ? said.Load : known.Load,
            MayExport = IsSaid(parsed, _export) ? said.MayExport : known.MayExport,
            ToldRotation = IsSaid(parsed, _rotation) ? said.ToldRotation : known.ToldRotation,
        };
    }

    private static bool IsSaid(ParseResult parsed, Option option) => parsed.GetResult(option) is { Implicit: false };

    /// <summary>What was said.</summary>
    public CheckOptions KnownOf(ParseResult parsed) => new()
    {
        Load = Enum.Parse<LoadKind>(parsed.GetValue(_load)!, ignoreCase: true),
        MayExport = parsed.GetValue(_export),
        // A verb that has no use for the rotation does not offer it.
        ToldRotation = Enum.Parse<Rotation>(parsed.GetValue(_rotation) ?? "unknown", ignoreCase: true),
    };
}
