using System.IO.Compression;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Storage;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>Writes a Parquet file into a survey: under another name until it is whole and on the disk.</summary>
/// <remarks>The bytes depend on what is written alone: the same table gives the same file.</remarks>
internal sealed class TableFileWriter : IAsyncDisposable
{
    private const string Unfinished = ".unfinished";

    private readonly ISurveyStorage _storage;
    private readonly string _path;
    private readonly IStorageFile _file;
    private readonly TableStream _stream;
    private readonly ParquetTimeStatistics _times = new();
    private ParquetWriter? _writer;
    private bool _isWhole;

    private TableFileWriter(ISurveyStorage storage, string path, IStorageFile file)
    {
        (_storage, _path, _file) = (storage, path, file);
        _stream = new TableStream(file);
    }

    /// <summary>Starts a file.</summary>
    public static async Task<TableFileWriter> StartAsync(ISurveyStorage storage, string path, ParquetSchema schema)
    {
        var made = new TableFileWriter(storage, path, storage.Create(path + Unfinished));
        try
        {
            made._writer = await ParquetWriter.CreateAsync(schema, made._stream, new ParquetOptions
            {
                CompressionMethod = CompressionMethod.Zstd,
                // The default level is some sixty times slower for a few percent.
                CompressionLevel = CompressionLevel.Fastest,
            }).ConfigureAwait(false);
            return made;
        }
        catch
        {
            await made.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Starts a row group; dispose it when its columns are written.</summary>
    public ParquetRowGroupWriter StartGroup() => _writer!.CreateRowGroup();

    /// <summary>Takes note of the times of a row group, for every column of times.</summary>
    public void NoteTimes(DateTime least, DateTime greatest) => _times.Add(least, greatest);

    /// <summary>Ends the file and gives it its name.</summary>
    /// <param name="metadata">Kept with it; the digest of its data is added.</param>
    public async Task CompleteAsync(Dictionary<string, string> metadata)
    {
        metadata["data_sha256"] = _stream.DigestNow();
        _writer!.CustomMetadata = metadata;
        _stream.HoldFooter();
        await _writer.DisposeAsync().ConfigureAwait(false);
        _writer = null;
        _stream.WriteFooter(footer => _times.Mend(footer));
        _file.Flush();
        _file.Dispose();
        _storage.Move(_path + Unfinished, _path);
        _storage.SyncFolder(StoredPath.FolderOf(_path));
        _isWhole = true;
    }

    public async ValueTask DisposeAsync()
    {
        if (_isWhole)
        {
            await _stream.DisposeAsync().ConfigureAwait(false);
            return;
        }

        try
        {
            _stream.HoldFooter();
            if (_writer is not null) await _writer.DisposeAsync().ConfigureAwait(false);
        }
        finally
        {
            await _stream.DisposeAsync().ConfigureAwait(false);
            _file.Dispose();
            DeleteUnfinished();
        }
    }

    private void DeleteUnfinished()
    {
        try
        {
            _storage.Delete(_path + Unfinished);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // The failure that led here is the one to tell; a file of this name is never read and is written over the next time.
        }
    }
}
