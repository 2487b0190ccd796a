namespace Leadwright.Formats.Pqdif;

/// <summary>The Adler-32 checksum (RFC 1950, 9).</summary>
internal static class Adler32
{
    private const uint Modulus = 65521;

    // As many bytes as can be summed before 32 bits run over.
    private const int Stretch = 5552;

    /// <summary>The checksum of bytes.</summary>
    public static uint Of(ReadOnlySpan<byte> bytes)
    {
        var (low, high) = (1u, 0u);
        while (bytes.Length > 0)
        {
            var count = Math.Min(bytes.Length, Stretch);
            foreach (var value in bytes[..count])
            {
                low += value;
                high += low;
            }

            low %= Modulus;
            high %= Modulus;
            bytes = bytes[count..];
        }

        return (high << 16) | low;
    }
}
