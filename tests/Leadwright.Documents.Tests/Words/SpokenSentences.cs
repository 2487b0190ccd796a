using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.RegularExpressions;
using Leadwright.Core.Circuits;
using Leadwright.Documents.Words;
using Leadwright.Formats.Limits;

namespace Leadwright.Documents.Tests.Words;

/// <summary>Gathers the sentences that the program speaks: those of the source, and those of the tables that are shipped with it.</summary>
internal static partial class SpokenSentences
{
    /// <summary>The line of the shipped file below which they stand.</summary>
    public const string Mark = "  // What the checks, the guard, the mending and the studies say. Written by a test from the places where it is said.";

    private static readonly JsonSerializerOptions s_plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string ShippedFile => Path.Combine(Root(), "src", "Leadwright.Documents", "Words", "english.json");

    /// <summary>Key and English of each; a key that is said in two ways is there twice.</summary>
    public static IEnumerable<(string Key, string English)> All() => OfSource().Concat(OfTables()).Distinct().OrderBy(said => said.Key, StringComparer.Ordinal);

    /// <summary>The part of the shipped file that holds them.</summary>
    public static string Written() => string.Join(",\n", All().Select(said => $"  {JsonSerializer.Serialize(said.Key, s_plain)}: {JsonSerializer.Serialize(said.English, s_plain)}"));

    private static IEnumerable<(string Key, string English)> OfSource()
    {
        foreach (var file in Directory.EnumerateFiles(Path.Combine(Root(), "src"), "*.cs", SearchOption.AllDirectories))
        {
            if (file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)) continue;
            foreach (Match match in SaidInSource().Matches(File.ReadAllText(file)))
                yield return (match.Groups["key"].Value, JsonSerializer.Deserialize<string>($"\"{match.Groups["text"].Value}\"")!);
        }
    }

    private static IEnumerable<(string Key, string English)> OfTables()
    {
        foreach (var rule in FindingRuleReader.ReadShipped())
        {
            foreach (var (part, text) in new[] { ("says", rule.Says), ("can-mean", rule.CanMean), ("check-next", rule.CheckNext), ("how-sure", rule.HowSure), ("source", rule.Source) })
            {
                if (text.Length > 0) yield return ($"finding.{rule.Id}.{part}", text);
            }
        }

        foreach (var name in LimitTableReader.Shipped)
        {
            var table = LimitTableReader.Read(LimitTableReader.ShippedFile(name)!);
            yield return ($"table.{table.Name}.title", table.Title);
            yield return ($"table.{table.Name}.edition", table.Edition);
            for (var note = 0; note < table.Notes.Length; note++) yield return ($"table.{table.Name}.note-{note + 1}", table.Notes[note]);
        }

        foreach (var name in TableNames.All) yield return (TableNames.KeyOf(name), name);
        foreach (var scheme in ConductorColours.All)
        {
            foreach (var colour in Enum.GetValues<Conductor>().SelectMany(conductor => scheme.Of(conductor))) yield return (KeyOf("colour", colour.Word), colour.Word);
            yield return (KeyOf("colours", scheme.Region), scheme.Region);
            yield return (KeyOf("colours", scheme.System), scheme.System);
        }
    }

    private static string KeyOf(string kind, string word) =>
        $"{kind}.{string.Concat(word.Select(letter => char.IsAsciiLetterOrDigit(letter) ? char.ToLowerInvariant(letter) : '-'))}";

    private static string Root([CallerFilePath] string path = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(path)!, "..", "..", ".."));

    [GeneratedRegex("""Say\.Of\(\s*"(?<key>[^"$]+)",\s*"(?<text>(?:[^"\\]|\\.)*)"(?!\s*\+)""")]
    private static partial Regex SaidInSource();
}
