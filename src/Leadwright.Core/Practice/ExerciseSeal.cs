using System.Globalization;
using System.Text;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice;

/// <summary>Writes an exercise's key so that the truth can't be read from a file at a glance.</summary>
/// <remarks>A seal, not a lock: whoever has this program can make the exercise again and see its truth. The mark on it finds a
/// letter that was changed by mistake.</remarks>
public static class ExerciseSeal
{
    private const ulong Stream = 0x4C656164_77726967;
    private const string Prefix = "LW1-";

    /// <summary>Seals a key.</summary>
    /// <param name="key">The key.</param>
    /// <returns>Capital letters and digits in groups, such as <c>LW1-9C0A41…</c>.</returns>
    public static string Close(ExerciseKey key)
    {
        ArgumentNullException.ThrowIfNull(key);
        var plain = Encoding.ASCII.GetBytes(key.ToString());
        var sum = SumOf(plain);
        var bytes = new byte[plain.Length + 2];
        bytes[0] = (byte)(sum >> 8);
        bytes[1] = (byte)sum;
        plain.CopyTo(bytes, 2);
        Turn(bytes.AsSpan(2), sum);
        return Prefix + Convert.ToHexString(bytes);
    }

    /// <summary>Opens a seal.</summary>
    /// <param name="text">What <see cref="Close"/> wrote; letters in any case.</param>
    /// <param name="key">Receives the key; null when the text is no seal.</param>
    /// <returns>False when the text is no seal, or a letter of it was changed.</returns>
    public static bool TryOpen(string? text, out ExerciseKey? key)
    {
        key = null;
        var trimmed = (text ?? "").Trim();
        if (!trimmed.StartsWith(Prefix, StringComparison.OrdinalIgnoreCase)) return false;
        var digits = trimmed[Prefix.Length..];
        if (digits.Length < 8 || digits.Length % 2 != 0 || digits.Any(digit => !char.IsAsciiHexDigit(digit))) return false;
        var bytes = new byte[digits.Length / 2];
        for (var index = 0; index < bytes.Length; index++)
            bytes[index] = byte.Parse(digits.AsSpan(2 * index, 2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);
        var sum = (ushort)((bytes[0] << 8) | bytes[1]);
        Turn(bytes.AsSpan(2), sum);
        return SumOf(bytes.AsSpan(2)) == sum && ExerciseKey.TryParse(Encoding.ASCII.GetString(bytes, 2, bytes.Length - 2), out key);
    }

    // Each sum has a stream of its own, so that two exercises that differ by one digit look nothing alike.
    private static void Turn(Span<byte> bytes, ushort sum)
    {
        var state = Stream ^ (sum * 0x9E3779B97F4A7C15UL);
        for (var index = 0; index < bytes.Length; index++) bytes[index] ^= (byte)(SeededRandom.SplitMix64(ref state) >> 24);
    }

    /// <summary>The sum of J. G. Fletcher, IEEE Trans. Commun. 30 (1982) 247, on eight bits.</summary>
    private static ushort SumOf(ReadOnlySpan<byte> bytes)
    {
        var (first, second) = (1, 0);
        foreach (var value in bytes)
        {
            first = (first + value) % 255;
            second = (second + first) % 255;
        }

        return (ushort)((second << 8) | first);
    }
}
