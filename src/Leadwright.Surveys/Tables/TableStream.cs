using System.Security.Cryptography;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>What a table is written to: a file of the store, whose digest is known before its footer is written.</summary>
/// <param name="file">The file; stays open.</param>
internal sealed class TableStream(IStorageFile file) : Stream
{
    private readonly IncrementalHash _digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private MemoryStream? _footer;
    private long _written;

    public override bool CanRead => false;

    public override bool CanSeek => false;

    public override bool CanWrite => true;

    public override long Length => _written;

    public override long Position
    {
        get => _written;
        set => throw new NotSupportedException();
    }

    /// <summary>Digest of what was written so far, in hexadecimal digits.</summary>
    public string DigestNow() => Convert.ToHexStringLower(_digest.GetCurrentHash());

    /// <summary>From here on what is written is held back.</summary>
    public void HoldFooter() => _footer = new MemoryStream();

    /// <summary>Writes what was held back.</summary>
    /// <param name="mend">Sets it right before.</param>
    public void WriteFooter(Action<byte[]> mend)
    {
        var bytes = _footer!.ToArray();
        mend(bytes);
        file.Write(bytes);
    }

    public override void Write(ReadOnlySpan<byte> buffer)
    {
        _written += buffer.Length;
        if (_footer is not null)
        {
            _footer.Write(buffer);
            return;
        }

        _digest.AppendData(buffer);
        file.Write(buffer);
    }

    public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

    public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
    {
        cancellationToken.ThrowIfCancellationRequested();
        Write(buffer.Span);
        return ValueTask.CompletedTask;
    }

    public override Task WriteAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        WriteAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

    public override void Flush()
    {
        // The file is flushed once, when it is whole.
    }

    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _digest.Dispose();
            _footer?.Dispose();
        }

        base.Dispose(disposing);
    }
}
