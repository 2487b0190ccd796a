using System.CommandLine;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

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

    /// <summary>What was said.</summary>
    public CheckOptions KnownOf(ParseResult parsed) => new()
    {
        Load = Enum.Parse<LoadKind>(parsed.GetValue(_load)!, ignoreCase: true),
        MayExport = parsed.GetValue(_export),
        // A verb that has no use for the rotation does not offer it.
        ToldRotation = Enum.Parse<Rotation>(parsed.GetValue(_rotation) ?? "unknown", ignoreCase: true),
    };
}
