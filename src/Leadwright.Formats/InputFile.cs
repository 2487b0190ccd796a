namespace Leadwright.Formats;

/// <summary>The bytes of one file and the name to call it by. Readers never open paths.</summary>
/// <param name="Name">File name, with or without folders; shown in messages, and its ending hints at the format.</param>
/// <param name="Bytes">The whole content.</param>
public sealed record InputFile(string Name, ReadOnlyMemory<byte> Bytes)
{
    /// <summary>Reads a stream to its end.</summary>
    /// <param name="name">File name, as for the constructor.</param>
    /// <param name="stream">The stream; stays open.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    public static async Task<InputFile> FromStreamAsync(string name, Stream stream, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(stream);
        using var buffer = new MemoryStream();
        await stream.CopyToAsync(buffer, cancellationToken).ConfigureAwait(false);
        return new InputFile(name, buffer.GetBuffer().AsMemory(0, (int)buffer.Length));
    }

    /// <summary>The name without folders.</summary>
    internal string ShortName => Name[(Name.AsSpan().LastIndexOfAny('/', '\\') + 1)..];

    /// <summary>The short name without its ending.</summary>
    internal string Stem => ShortName.LastIndexOf('.') is var dot and > 0 ? ShortName[..dot] : ShortName;

    /// <summary>The ending in lower case, with its dot; empty when there is none.</summary>
    internal string Ending => ShortName.LastIndexOf('.') is var dot and > 0 ? ShortName[dot..].ToLowerInvariant() : "";
}
