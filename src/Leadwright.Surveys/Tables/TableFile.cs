using System.Buffers;
using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;
using Leadwright.Core.Logs;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Storage;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>A Parquet file of a survey that is read by several at a time: each has a reader of its own while it reads.</summary>
internal sealed class TableFile : IDisposable
{
    private const int MostReaders = 4;
    private const int MostRowsInAGroup = 5_000_000;

    // A few bytes that claim millions of rows are made to fill the memory.
    private const long FreeRows = 500_000;
    private const long MostRowsPerByte = 1000;

    private readonly ISurveyStorage _storage;
    private readonly string _path;
    private readonly ConcurrentBag<ParquetReader> _readers = [];
    private readonly SemaphoreSlim _free = new(MostReaders);

    private TableFile(ISurveyStorage storage, string path) => (_storage, _path) = (storage, path);

    public IReadOnlyDictionary<string, string> Metadata { get; private set; } = new Dictionary<string, string>();

    /// <summary>By what a pyramid knows its table: the digest of the table's data where it is kept with it, else that of its last bytes and its length.</summary>
    public string Identity { get; private set; } = "";

    public DataField[] Fields { get; private set; } = [];

    /// <summary>Rows of each row group.</summary>
    public int[] GroupRows { get; private set; } = [];

    /// <summary>Opens a file.</summary>
    /// <exception cref="SurveyException">It is not there, or is damaged.</exception>
    public static async Task<TableFile> OpenAsync(ISurveyStorage storage, string path, CancellationToken cancellation)
    {
        var file = new TableFile(storage, path);
        var reader = await file.MakeReaderAsync(cancellation).ConfigureAwait(false);
        file.Metadata = reader.CustomMetadata;
        file.Identity = file.Metadata.TryGetValue("data_sha256", out var digest) ? digest : file.DigestOfEnd();
        file.Fields = reader.Schema.GetDataFields();
        file.GroupRows = new int[reader.RowGroupCount];
        var mostRows = Math.Min(MostRowsInAGroup, FreeRows + (MostRowsPerByte * (storage.LengthOf(path) ?? 0)));
        for (var group = 0; group < file.GroupRows.Length; group++)
        {
            using var rows = reader.OpenRowGroupReader(group);
            file.GroupRows[group] = rows.RowCount >= 0 && rows.RowCount <= mostRows ? (int)rows.RowCount : throw file.Damaged($"a row group of {rows.RowCount} rows");
        }

        file._readers.Add(reader);
        return file;
    }

    public DataField? Find(string name) => Array.Find(Fields, field => field.Name == name);

    /// <summary>Does something with a reader that nobody else uses meanwhile.</summary>
    /// <exception cref="SurveyException">The file is damaged.</exception>
    public async Task<T> ReadAsync<T>(Func<ParquetReader, Task<T>> read, CancellationToken cancellation)
    {
        await _free.WaitAsync(cancellation).ConfigureAwait(false);
        try
        {
            if (!_readers.TryTake(out var reader)) reader = await MakeReaderAsync(cancellation).ConfigureAwait(false);
            try
            {
                return await read(reader).ConfigureAwait(false);
            }
            catch (Exception failure) when (failure is not (OperationCanceledException or SurveyException or OutOfMemoryException))
            {
                throw Damaged(failure.Message, failure);
            }
            finally
            {
                _readers.Add(reader);
            }
        }
        finally
        {
            _free.Release();
        }
    }

    /// <summary>Holds the file's data against the digest that is kept with it.</summary>
    /// <returns>False when it has none.</returns>
    /// <exception cref="SurveyException">They differ.</exception>
    public async Task<bool> VerifyAsync(CancellationToken cancellation)
    {
        if (!Metadata.TryGetValue("data_sha256", out var stated)) return false;
        using var stream = _storage.OpenRead(_path);
        var tail = new byte[8];
        stream.Position = stream.Length - tail.Length;
        await stream.ReadExactlyAsync(tail, cancellation).ConfigureAwait(false);
        var left = stream.Length - tail.Length - BinaryPrimitives.ReadUInt32LittleEndian(tail);
        stream.Position = 0;
        using var digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[1 << 16];
        while (left > 0)
        {
            var count = await stream.ReadAsync(buffer.AsMemory(0, (int)Math.Min(left, buffer.Length)), cancellation).ConfigureAwait(false);
            if (count == 0) break;
            digest.AppendData(buffer, 0, count);
            left -= count;
        }

        return Convert.ToHexStringLower(digest.GetCurrentHash()) == stated ? true : throw Damaged("its data are not those that were written");
    }

    public void Dispose()
    {
        while (_readers.TryTake(out var reader)) reader.DisposeAsync().AsTask().GetAwaiter().GetResult();
        _free.Dispose();
    }

    /// <summary>Reads numbers of a row group; an empty cell is NaN.</summary>
    public static async Task ReadNumbersAsync(ParquetRowGroupReader group, DataField field, Memory<double> into, CancellationToken cancellation)
    {
        if (field.ClrType == typeof(double)) await ReadAsync<double>(group, field, into, value => value, cancellation).ConfigureAwait(false);
        else if (field.ClrType == typeof(float)) await ReadAsync<float>(group, field, into, value => value, cancellation).ConfigureAwait(false);
        else if (field.ClrType == typeof(int)) await ReadAsync<int>(group, field, into, value => value, cancellation).ConfigureAwait(false);
        else await ReadAsync<long>(group, field, into, value => value, cancellation).ConfigureAwait(false);
    }

    /// <summary>Reads times of a row group, ticks.</summary>
    public static async Task<long[]> ReadTimesAsync(ParquetRowGroupReader group, DataField field, int rows, CancellationToken cancellation)
    {
        var ticks = new long[rows];
        if (field.ClrType == typeof(DateTime) && field.IsNullable)
        {
            var times = new DateTime?[rows];
            await group.ReadAsync<DateTime>(field, times.AsMemory(), null, cancellation).ConfigureAwait(false);
            for (var row = 0; row < rows; row++) ticks[row] = (times[row] ?? throw new InvalidDataException("a row without its start")).Ticks;
        }
        else if (field.ClrType == typeof(DateTime))
        {
            var times = new DateTime[rows];
            await group.ReadAsync<DateTime>(field, times.AsMemory(), null, cancellation).ConfigureAwait(false);
            for (var row = 0; row < rows; row++) ticks[row] = times[row].Ticks;
        }
        else
        {
            // Seconds since the start of a recording without a clock.
            var seconds = new double[rows];
            await ReadNumbersAsync(group, field, seconds, cancellation).ConfigureAwait(false);
            for (var row = 0; row < rows; row++) ticks[row] = seconds[row] is >= 0 and < 1e11 ? (long)Math.Round(seconds[row] * 1e7) : throw new InvalidDataException("a row without its start");
        }

        return ticks;
    }

    /// <summary>Reads standings of a row group.</summary>
    public static async Task<Standing[]> ReadStandingsAsync(ParquetRowGroupReader group, DataField field, int rows)
    {
        var words = new string?[rows];
        await group.ReadAsync(field, words.AsMemory()).ConfigureAwait(false);
        return Array.ConvertAll(words, StandingWords.Read);
    }

    private static async Task ReadAsync<T>(ParquetRowGroupReader group, DataField field, Memory<double> into, Func<T, double> convert, CancellationToken cancellation)
        where T : struct
    {
        if (!field.IsNullable)
        {
            if (typeof(T) == typeof(double))
            {
                await group.ReadAsync(field, into, null, cancellation).ConfigureAwait(false);
                return;
            }

            var plain = new T[into.Length];
            await group.ReadAsync<T>(field, plain.AsMemory(), null, cancellation).ConfigureAwait(false);
            for (var row = 0; row < plain.Length; row++) into.Span[row] = convert(plain[row]);
            return;
        }

        var rented = ArrayPool<T?>.Shared.Rent(into.Length);
        try
        {
            await group.ReadAsync<T>(field, rented.AsMemory(0, into.Length), null, cancellation).ConfigureAwait(false);
            Widen(rented, into.Span, convert);
        }
        finally
        {
            ArrayPool<T?>.Shared.Return(rented);
        }
    }

    private static void Widen<T>(T?[] values, Span<double> into, Func<T, double> convert)
        where T : struct
    {
        if (values is double?[] doubles)
        {
            for (var row = 0; row < into.Length; row++) into[row] = doubles[row] ?? double.NaN;
            return;
        }

        for (var row = 0; row < into.Length; row++) into[row] = values[row] is { } value ? convert(value) : double.NaN;
    }

    private string DigestOfEnd()
    {
        using var stream = _storage.OpenRead(_path);
        var bytes = new byte[Math.Min(stream.Length, 1 << 20)];
        stream.Position = stream.Length - bytes.Length;
        stream.ReadExactly(bytes);
        return string.Create(CultureInfo.InvariantCulture, $"{Convert.ToHexStringLower(SHA256.HashData(bytes))}-{stream.Length}");
    }

    private async Task<ParquetReader> MakeReaderAsync(CancellationToken cancellation)
    {
        Stream? stream = null;
        try
        {
            stream = _storage.OpenRead(_path);
            if (!ParquetSoundness.IsWhole(stream)) throw Damaged("its list of columns does not end");
            return await ParquetReader.CreateAsync(stream, null, leaveStreamOpen: false, cancellation).ConfigureAwait(false);
        }
        catch (Exception failure) when (failure is not OutOfMemoryException)
        {
            if (stream is not null) await stream.DisposeAsync().ConfigureAwait(false);
            throw failure switch
            {
                SurveyException or OperationCanceledException => failure,
                _ when stream is null && StorageFailure.IsOne(failure) => StorageFailure.Of($"read the table '{_path}'", _storage.Name, failure),
                _ => Damaged(failure.Message, failure),
            };
        }
    }

    private SurveyException Damaged(string why, Exception? cause = null) => new(
        SurveyProblem.Damaged, $"The table '{_path}' in the survey '{_storage.Name}' is damaged ({why}). Compute it anew from the recording, which is kept untouched.", cause);
}
