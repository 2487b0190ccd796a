using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace Leadwright.Fuzzing;

/// <summary>Changes a sound file as damage, other programs and ill will do: by lines, tokens and numbers where it is text, by numbers of every width where it is not.</summary>
public static class Mutation
{
    private const int MostBytes = 1 << 18;

    private static readonly string[] s_numbers =
    [
        "0", "-0", "1", "-1", "2", "16", "255", "256", "65535", "65536", "999999", "2147483647", "2147483648", "-2147483648", "4294967295", "4294967296", "9223372036854775807",
        "99999999999999999999999", "1e308", "-1e308", "1e999", "1e-308", "4.9e-324", "NaN", "Infinity", "-inf", "0.1", "1,5", "1.234.567,8", "0x10", "", " ", "++1", "1e", ".",
    ];

    private static readonly string[] s_words =
    [
        "A", "D", "ASCII", "BINARY", "BINARY32", "FLOAT32", "1991", "1999", "2013", "V", "kV", "mA", "%", "\"", "\"\"", "'", ";", ",", "\t", "|", "\r", "\n", "\r\n", "\0", "\uFEFF", "ß",
        "\u202E", "=cmd", "../../x", "C:\\x", "start", "time", "date", "V1 (V)", "L1", "2026-03-29 02:30", "31.02.2026", "24:00", "12:00 PM", "00:60", "60", "null", "true", "[]", "{}", "{\"a\":", "--- file type: CFG ---",
    ];

    private static readonly long[] s_integers = [0, 1, -1, 2, 7, 8, 16, 64, 127, 128, 255, 256, 32767, 32768, 65535, 65536, int.MaxValue, (long)int.MaxValue + 1, uint.MaxValue, (long)uint.MaxValue + 1, long.MaxValue, long.MinValue];

    /// <summary>Changes text.</summary>
    /// <param name="seed">The sound file.</param>
    /// <param name="others">Other sound files, to take parts from.</param>
    /// <param name="chance">Chance.</param>
    public static byte[] OfText(byte[] seed, IReadOnlyList<byte[]> others, Random chance)
    {
        var bytes = seed;
        for (var left = 1 + (chance.Next(3) * chance.Next(3)); left > 0; left--) bytes = chance.Next(8) == 0 ? OfBytes(bytes, others, chance, 1) : OnceOfText(bytes, others, chance);
        return Cut(bytes);
    }

    /// <summary>Changes bytes.</summary>
    /// <param name="seed">The sound file.</param>
    /// <param name="others">Other sound files, to take parts from.</param>
    /// <param name="chance">Chance.</param>
    /// <param name="most">Most changes; 0 for the usual.</param>
    public static byte[] OfBytes(byte[] seed, IReadOnlyList<byte[]> others, Random chance, int most = 0)
    {
        var bytes = seed.ToArray();
        for (var left = most > 0 ? most : 1 + (chance.Next(3) * chance.Next(4)); left > 0; left--) bytes = OnceOfBytes(bytes, others, chance, bytes.Length == 0 ? 0 : chance.Next(bytes.Length));
        return Cut(bytes);
    }

    /// <summary>Puts a number where a number stands.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="at">Where.</param>
    /// <param name="chance">Chance.</param>
    public static byte[] SetNumber(byte[] bytes, int at, Random chance)
    {
        if (at < 0 || at >= bytes.Length) return bytes;
        var changed = bytes.ToArray();
        var value = chance.Next(4) == 0 ? chance.NextInt64() : s_integers[chance.Next(s_integers.Length)];
        if (chance.Next(4) == 0 && at + 4 <= changed.Length) value = BinaryPrimitives.ReadInt32LittleEndian(changed.AsSpan(at)) + chance.Next(-8, 9);
        Span<byte> number = stackalloc byte[8];
        if (chance.Next(5) == 0) BinaryPrimitives.WriteInt64BigEndian(number, value);
        else BinaryPrimitives.WriteInt64LittleEndian(number, value);
        var width = Math.Min(1 << chance.Next(4), Math.Max(changed.Length - at, 0));
        number[..width].CopyTo(changed.AsSpan(at));
        return changed;
    }

    private static byte[] OnceOfText(byte[] bytes, IReadOnlyList<byte[]> others, Random chance)
    {
        var text = Encoding.Latin1.GetString(bytes);
        var lines = text.Split('\n').ToList();
        var line = chance.Next(lines.Count);
        switch (chance.Next(13))
        {
            case 0: lines.RemoveAt(line); break;
            case 1: lines.Insert(chance.Next(lines.Count + 1), lines[line]); break;
            case 2: (lines[line], lines[^1]) = (lines[^1], lines[line]); break;
            case 3 when others.Count > 0:
                var other = Encoding.Latin1.GetString(others[chance.Next(others.Count)]).Split('\n');
                lines.Insert(line, other[chance.Next(other.Length)]);
                break;
            case 4 when bytes.Length < 20_000: lines.InsertRange(line, Enumerable.Repeat(lines[line], chance.Next(2, 200))); break;
            case 5: return Encoding.Latin1.GetBytes(text[..chance.Next(text.Length + 1)]);
            case 6: lines[line] = Encoding.Latin1.GetString(Encoding.UTF8.GetBytes(s_words[chance.Next(s_words.Length)])) + lines[line]; break;
            default: lines[line] = WithToken(lines[line], chance); break;
        }

        return Encoding.Latin1.GetBytes(string.Join('\n', lines));
    }

    private static string WithToken(string line, Random chance)
    {
        var starts = new List<(int From, int To)>();
        for (var at = 0; at < line.Length;)
        {
            var end = at;
            while (end < line.Length && line[end] is not (',' or ';' or '\t' or ' ' or ':' or '"' or '<' or '>' or '=' or '{' or '}' or '[' or ']')) end++;
            if (end > at) starts.Add((at, end));
            at = end + 1;
        }

        if (starts.Count == 0) return s_words[chance.Next(s_words.Length)];
        var (from, to) = starts[chance.Next(starts.Count)];
        var token = chance.Next(8) switch
        {
            < 4 => s_numbers[chance.Next(s_numbers.Length)],
            4 => chance.NextInt64().ToString(CultureInfo.InvariantCulture),
            5 => new string('9', chance.Next(1, 400)),
            6 => Encoding.Latin1.GetString(Encoding.UTF8.GetBytes(s_words[chance.Next(s_words.Length)])),
            _ => (chance.NextDouble() * Math.Pow(10, chance.Next(-20, 20))).ToString("R", CultureInfo.InvariantCulture),
        };
        return line[..from] + token + line[to..];
    }

    private static byte[] OnceOfBytes(byte[] bytes, IReadOnlyList<byte[]> others, Random chance, int at)
    {
        if (bytes.Length == 0) return [(byte)chance.Next(256)];
        var length = Math.Min(1 + chance.Next(chance.Next(2) == 0 ? 8 : 600), bytes.Length - at);
        switch (chance.Next(8))
        {
            case 0: bytes[at] ^= (byte)(1 << chance.Next(8)); return bytes;
            case 1: bytes[at] = (byte)chance.Next(256); return bytes;
            case 2: return bytes[..at];
            case 3: return [.. bytes[..at], .. bytes[(at + length)..]];
            case 4: return [.. bytes[..(at + length)], .. bytes[at..]];
            case 5 when others.Count > 0:
                var other = others[chance.Next(others.Count)];
                if (other.Length == 0) return bytes;
                var from = chance.Next(other.Length);
                return [.. bytes[..at], .. other.AsSpan(from, Math.Min(length, other.Length - from)), .. bytes[(at + length)..]];
            default: return SetNumber(bytes, at, chance);
        }
    }

    private static byte[] Cut(byte[] bytes) => bytes.Length > MostBytes ? bytes[..MostBytes] : bytes;
}
