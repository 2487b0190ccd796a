using System.Collections.Immutable;
using Leadwright.Core.Studies.Findings;

namespace Leadwright.Formats.Limits;

/// <summary>Reads the rules by which findings are made, <c>leadwright.findings/1</c>.</summary>
/// <remarks>Format and sources: <c>docs/methods/findings.md</c>.</remarks>
public static class FindingRuleReader
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.findings/1";

    /// <summary>The rules that come with the program.</summary>
    public static ImmutableArray<FindingRule> ReadShipped()
    {
        using var stream = typeof(FindingRuleReader).Assembly.GetManifestResourceStream("rules/findings.json")
            ?? throw new InvalidOperationException("This is a bug in Leadwright: the rules of findings are not in the program.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return Read(new InputFile("findings.json", bytes.ToArray()));
    }

    /// <summary>Reads rules.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">It can't be used; its field says where.</exception>
    public static ImmutableArray<FindingRule> Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var document = JsonFields.Parse(file);
        var root = new JsonFields(file.Name, "$", document.RootElement, "schema", "rules");
        root.RequireSchema(Schema);
        var rules = ImmutableArray.CreateBuilder<FindingRule>();
        foreach (var (path, element) in root.List("rules"))
        {
            var fields = new JsonFields(file.Name, path, element, "id", "metric", "above", "below", "consequence", "says", "can_mean", "check_next", "how_sure", "source");
            var consequence = fields.Number("consequence");
            if (consequence is not (>= 1 and <= 100)) throw JsonFields.Bad(file.Name, $"{path}.consequence", "a number from 1 to 100", $"{consequence}");
            if (!fields.Has("above") && !fields.Has("below")) throw JsonFields.Bad(file.Name, path, "above or below", "neither");
            rules.Add(new FindingRule(fields.RequiredText("id"), fields.RequiredText("metric"), (int)consequence, fields.RequiredText("says"))
            {
                Above = fields.Number("above"),
                Below = fields.Number("below"),
                CanMean = fields.RequiredText("can_mean"),
                CheckNext = fields.RequiredText("check_next"),
                HowSure = fields.RequiredText("how_sure"),
                Source = fields.RequiredText("source"),
            });
        }

        return rules.ToImmutable();
    }
}
