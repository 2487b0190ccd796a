using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Leadwright.Surveys;
using Leadwright.Surveys.Documents;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Fuzzing;

/// <summary>Journals of surveys. Half of the inputs are changed and summed anew, as somebody would who wants them to be believed.</summary>
/// <remarks>The oracle: reading and replaying never fail; a journal that was not summed anew and has no fault is the sound one or a beginning of it; no path
/// leads out of the folder.</remarks>
internal sealed class JournalTarget : FuzzTarget
{
    private readonly byte[] _seed = FuzzTargets.Data("surveys/schema-1", "journal.jsonl")[0];

    public override string Name => "journal";

    public override byte[] Make(Random chance)
    {
        if (chance.Next(2) == 0) return Mutation.OfText(_seed, [_seed], chance);
        var lines = Encoding.UTF8.GetString(_seed).TrimEnd('\n').Split('\n').Select(line => JsonNode.Parse(line)!.AsObject()).ToList();
        for (var left = 1 + chance.Next(3); left > 0; left--)
        {
            var line = lines[chance.Next(lines.Count)];
            switch (chance.Next(6))
            {
                case 0: lines.Add((JsonObject)line.DeepClone()); break;
                case 1 when lines.Count > 1: lines.Remove(line); break;
                default: FormatTarget.Replace(line["data"] is { } data && chance.Next(4) > 0 ? data : line, chance); break;
            }
        }

        return Summed(lines);
    }

    public override bool Read(byte[] input)
    {
        var journal = JournalRead.Of(input);
        var state = SurveyState.Of(journal.Entries);
        _ = SurveyText.Write(SurveyDocument.Of(state, journal.LastSum));
        foreach (var file in state.Files)
        {
            if (file?.Path is not { } path) throw new FuzzFailureException("a file without a path");
            if (StoredPath.IsInside(path) && (path.Contains("..", StringComparison.Ordinal) && path.Split('/').Contains("..") || path.StartsWith('/') || path.Contains('\\') || path.Contains(':')))
                throw new FuzzFailureException($"'{path}' counts as inside");
        }

        return journal.Faults.IsEmpty && journal.Entries.Length > 0;
    }

    // A changed byte that is not at the torn end must be noticed: lines are chained by their sums.
    public override byte[] ReadChanged(Random chance)
    {
        var input = _seed.ToArray();
        var at = chance.Next(input.Length);
        input[at] ^= (byte)(1 << chance.Next(8));
        var journal = JournalRead.Of(input);
        if (journal.Faults.IsEmpty && journal.TornLength == 0) throw new FuzzFailureException($"byte {at} was changed and nobody noticed") { Input = input };
        return input;
    }

    internal static byte[] Summed(IEnumerable<JsonObject> lines)
    {
        var (before, bytes) = ("", new List<byte>());
        foreach (var line in lines)
        {
            var body = (JsonObject)line.DeepClone();
            body.Remove("before");
            body.Remove("sum");
            body["before"] = before;
            var text = body.ToJsonString(new JsonSerializerOptions { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping, MaxDepth = 1000 });
            var summed = Encoding.UTF8.GetBytes(text[..^1]);
            var whole = Encoding.UTF8.GetBytes($"{text[..^1]},\"sum\":\"{JournalLine.Hex(summed)}\"}}");
            before = JournalLine.Hex(whole);
            bytes.AddRange(whole);
            bytes.Add((byte)'\n');
        }

        return [.. bytes];
    }
}
