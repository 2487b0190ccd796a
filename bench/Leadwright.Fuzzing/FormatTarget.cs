using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using Leadwright.Formats;

namespace Leadwright.Fuzzing;

/// <summary>How files of a format are laid out, for changing them where it matters.</summary>
internal enum Grammar
{
    /// <summary>Bytes without a known layout.</summary>
    Bytes,

    /// <summary>Lines of tokens.</summary>
    Text,

    /// <summary>JSON.</summary>
    Json,

    /// <summary>A zip file of texts, as workbooks are.</summary>
    Zip,

    /// <summary>A file that is read from its end.</summary>
    Footer,

    /// <summary>Records with headers that link to the next.</summary>
    Pqdif,
}

/// <summary>A reader of one format.</summary>
/// <param name="name">Its name.</param>
/// <param name="seeds">Sound files.</param>
/// <param name="grammar">How they are laid out.</param>
/// <param name="read">Reads one; a <see cref="FormatReadException"/> refuses it.</param>
internal sealed class FormatTarget(string name, byte[][] seeds, Grammar grammar, Action<byte[]> read) : FuzzTarget
{
    private static readonly System.Text.Json.JsonSerializerOptions s_deep = new() { MaxDepth = 1000 };

    public override string Name => name;

    public override byte[] Make(Random chance)
    {
        var seed = seeds[chance.Next(seeds.Length)];
        if (chance.Next(12) == 0) return Mutation.OfBytes(seed, seeds, chance);
        return grammar switch
        {
            Grammar.Text => Mutation.OfText(seed, seeds, chance),
            Grammar.Json => OfJson(seed, seeds, chance),
            Grammar.Zip => OfZip(seed, chance),
            Grammar.Footer => OfFooter(seed, chance),
            Grammar.Pqdif => OfRecords(seed, seeds, chance),
            _ => Mutation.OfBytes(seed, seeds, chance),
        };
    }

    public override bool Read(byte[] input)
    {
        try
        {
            read(input);
            return true;
        }
        catch (FormatReadException refusal)
        {
            if (refusal.Message.Length < 10) throw new FuzzFailureException("a refusal that says nothing", refusal);
            return false;
        }
    }

    internal static byte[] OfJson(byte[] seed, IReadOnlyList<byte[]> seeds, Random chance)
    {
        if (chance.Next(3) == 0) return Mutation.OfText(seed, seeds, chance);
        try
        {
            var root = JsonNode.Parse(seed, documentOptions: new() { CommentHandling = System.Text.Json.JsonCommentHandling.Skip, AllowTrailingCommas = true });
            for (var left = 1 + chance.Next(3); left > 0 && root is not null; left--) Replace(root, chance);
            return Encoding.UTF8.GetBytes(root?.ToJsonString(s_deep) ?? "null");
        }
        catch (Exception failure) when (failure is System.Text.Json.JsonException or InvalidOperationException or ArgumentException)
        {
            return Mutation.OfText(seed, seeds, chance);
        }
    }

    internal static void Replace(JsonNode root, Random chance)
    {
        var places = new List<(JsonNode Parent, object Key)>();
        Collect(root, places);
        if (places.Count == 0) return;
        var (parent, key) = places[chance.Next(places.Count)];
        JsonNode? value = chance.Next(13) switch
        {
            0 => null,
            1 => JsonValue.Create(chance.Next(2) == 0),
            2 => JsonValue.Create(""),
            3 => JsonValue.Create("../../../etc/x"),
            4 => JsonValue.Create(new string('x', chance.Next(1, 5000))),
            5 => JsonValue.Create(long.MaxValue),
            6 => JsonValue.Create(-1),
            7 => JsonValue.Create(1e308),
            8 => new JsonArray(),
            9 => new JsonObject(),
            10 => Deep(chance.Next(1, 200)),
            11 => JsonValue.Create("2026-13-45T99:99:99Z"),
            _ => JsonValue.Create("C:\\x\u0000\u202E"),
        };
        if (parent is JsonObject members && key is string member)
        {
            if (chance.Next(6) == 0) members.Remove(member);
            else members[member] = value;
        }
        else if (parent is JsonArray array && key is int index)
        {
            if (chance.Next(6) == 0) array.RemoveAt(index);
            else array[index] = value;
        }
    }

    private static JsonNode Deep(int levels)
    {
        JsonNode node = new JsonArray();
        for (; levels > 0; levels--) node = new JsonArray(node);
        return node;
    }

    private static void Collect(JsonNode node, List<(JsonNode Parent, object Key)> places)
    {
        if (node is JsonObject members)
        {
            foreach (var (key, value) in members)
            {
                places.Add((node, key));
                if (value is not null) Collect(value, places);
            }
        }
        else if (node is JsonArray array)
        {
            for (var index = 0; index < array.Count; index++)
            {
                places.Add((node, index));
                if (array[index] is { } value) Collect(value, places);
            }
        }
    }

    internal static byte[] OfZip(byte[] seed, Random chance)
    {
        if (chance.Next(4) == 0) return Mutation.OfBytes(seed, [], chance);
        using var source = new ZipArchive(new MemoryStream(seed), ZipArchiveMode.Read);
        using var result = new MemoryStream();
        var chosen = chance.Next(source.Entries.Count);
        using (var target = new ZipArchive(result, ZipArchiveMode.Create, leaveOpen: true))
        {
            for (var index = 0; index < source.Entries.Count; index++)
            {
                var entry = source.Entries[index];
                using var content = new MemoryStream();
                using (var stream = entry.Open()) stream.CopyTo(content);
                var bytes = content.ToArray();
                if (index == chosen && chance.Next(12) == 0) continue;
                var name = index == chosen && chance.Next(8) == 0 ? chance.Next(3) switch { 0 => "../" + entry.FullName, 1 => "/" + entry.FullName, _ => entry.FullName + "/x" } : entry.FullName;
                if (index == chosen) bytes = Mutation.OfText(bytes, [], chance);
                using var written = target.CreateEntry(name, CompressionLevel.Fastest).Open();
                written.Write(bytes);
            }
        }

        return result.ToArray();
    }

    private static byte[] OfFooter(byte[] seed, Random chance)
    {
        // The list of columns and pages stands at the end, before its length and the letters.
        var footer = BitConverter.ToInt32(seed, seed.Length - 8);
        var start = Math.Max(4, seed.Length - 8 - footer);
        var bytes = seed;
        for (var left = 1 + chance.Next(4); left > 0; left--)
        {
            var at = chance.Next(5) switch { 0 => seed.Length - 8, 1 => chance.Next(4, start), _ => chance.Next(start, seed.Length) };
            bytes = chance.Next(3) == 0 ? Mutation.SetNumber(bytes, at, chance) : With(bytes, at, (byte)(chance.Next(2) == 0 ? chance.Next(256) : bytes[at] ^ (1 << chance.Next(8))));
        }

        return bytes;
    }

    private static byte[] With(byte[] bytes, int at, byte value)
    {
        var changed = bytes.ToArray();
        changed[at] = value;
        return changed;
    }

    private static byte[] OfRecords(byte[] seed, byte[][] seeds, Random chance)
    {
        // Sizes and links stand in the 64 bytes of each header; counts and places in the collections behind it.
        var headers = new List<int>();
        for (long at = 0; at + 64 <= seed.Length && headers.Count < 1000;)
        {
            headers.Add((int)at);
            var next = BitConverter.ToUInt32(seed, (int)at + 40);
            if (next <= at) break;
            at = next;
        }

        var bytes = seed;
        for (var left = 1 + chance.Next(3); left > 0; left--)
        {
            var header = headers[chance.Next(headers.Count)];
            var at = chance.Next(4) switch { 0 => header + 32 + (4 * chance.Next(4)), 1 => header + chance.Next(64), _ => Math.Min(header + 64 + (4 * chance.Next(60)), bytes.Length - 1) };
            bytes = at < bytes.Length && chance.Next(4) > 0 ? Mutation.SetNumber(bytes, at, chance) : Mutation.OfBytes(bytes, seeds, chance, 1);
        }

        return bytes;
    }
}
