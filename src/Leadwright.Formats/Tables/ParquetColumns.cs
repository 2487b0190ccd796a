using System.Buffers;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Formats.Tables;

/// <summary>A Parquet table read column by column, a row group at a time: of a table of any width only the columns asked for are in memory.</summary>
/// <remarks>One column is read at a time by each caller. Several may read at once: each has a stream of its own.</remarks>
public sealed class ParquetColumns : IDisposable
{
    private const int MostRowsInAGroup = 5_000_000;

    private readonly string _name;
    private readonly Func<Stream> _open;
    private readonly Stack<(Stream Stream, ParquetReader Reader)> _free = new();
    private readonly Lock _gate = new();
    private readonly Dictionary<string, DataField> _fields;
    private readonly int[] _groups;

    private ParquetColumns(string name, Func<Stream> open, Stream stream, ParquetReader reader)
    {
        (_name, _open) = (name, open);
        _free.Push((stream, reader));
        var fields = reader.Schema.GetDataFields();
        _fields = fields.DistinctBy(field => field.Name).ToDictionary(field => field.Name, StringComparer.Ordinal);
        Names = [.. fields.Select(field => field.Name)];
        Metadata = reader.CustomMetadata;
        _groups = new int[reader.RowGroupCount];
        var rows = 0L;
        for (var group = 0; group < _groups.Length; group++)
        {
            using var opened = reader.OpenRowGroupReader(group);
            if (opened.RowCount is < 0 or > MostRowsInAGroup) throw new FormatReadException(name, $"row groups of at most {MostRowsInAGroup} rows", $"one of {opened.RowCount}", "Write the table in smaller row groups.");
            rows += _groups[group] = (int)opened.RowCount;
        }

        if (rows > Array.MaxLength) throw new FormatReadException(name, $"a table of at most {Array.MaxLength} rows", $"one of {rows}", "Split the table.");
        Count = (int)rows;
    }

    /// <summary>Names of the columns, in order.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>What was kept with the table.</summary>
    public IReadOnlyDictionary<string, string> Metadata { get; }

    /// <summary>Number of rows.</summary>
    public int Count { get; }

    /// <summary>Opens a table.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="open">Opens the file anew, with seeking; each stream is closed with the table.</param>
    /// <exception cref="FormatReadException">It is damaged.</exception>
    public static ParquetColumns Open(string name, Func<Stream> open)
    {
        ArgumentNullException.ThrowIfNull(open);
        var (stream, reader) = Start(name, open);
        return new ParquetColumns(name, open, stream, reader);
    }

    /// <summary>True when a column of that name holds numbers.</summary>
    public bool HasNumbers(string name) => _fields.TryGetValue(name, out var field) && (field.ClrType == typeof(double) || field.ClrType == typeof(float) || field.ClrType == typeof(int) || field.ClrType == typeof(long));

    /// <summary>True when there is a column of that name.</summary>
    public bool Has(string name) => _fields.ContainsKey(name);

    /// <summary>Reads a column of numbers.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>One value a row, NaN where empty.</returns>
    /// <exception cref="FormatReadException">It is damaged, or holds no numbers.</exception>
    public double[] Numbers(string name, CancellationToken cancellation = default)
    {
        var field = FieldOf(name);
        var numbers = new double[Count];
        Each((rows, at, count) =>
        {
            var into = numbers.AsMemory(at, count);
            if (field.ClrType == typeof(double)) Read<double>(rows, field, into, static value => value);
            else if (field.ClrType == typeof(float)) Read<float>(rows, field, into, static value => value);
            else if (field.ClrType == typeof(int)) Read<int>(rows, field, into, static value => value);
            else if (field.ClrType == typeof(long)) Read<long>(rows, field, into, static value => value);
            else throw new FormatReadException(_name, $"numbers in column '{name}'", field.ClrType.Name);
        }, cancellation);
        return numbers;
    }

    /// <summary>Reads a column of times.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>One a row, ticks; the least value where empty.</returns>
    /// <exception cref="FormatReadException">It is damaged, or holds no times.</exception>
    public long[] Times(string name, CancellationToken cancellation = default)
    {
        var field = FieldOf(name);
        if (field.ClrType != typeof(DateTime)) throw new FormatReadException(_name, $"dates and times in column '{name}'", field.ClrType.Name);
        var ticks = new long[Count];
        Each((rows, at, count) =>
        {
            if (field.IsNullable)
            {
                var times = new DateTime?[count];
                Wait(rows.ReadAsync<DateTime>(field, times.AsMemory(), null, cancellation));
                for (var row = 0; row < count; row++) ticks[at + row] = times[row]?.Ticks ?? long.MinValue;
            }
            else
            {
                var times = new DateTime[count];
                Wait(rows.ReadAsync<DateTime>(field, times.AsMemory(), null, cancellation));
                for (var row = 0; row < count; row++) ticks[at + row] = times[row].Ticks;
            }
        }, cancellation);
        return ticks;
    }

    /// <summary>Reads a column of words.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="take">Receives row and word, row by row; null where empty.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="FormatReadException">It is damaged, or holds no words.</exception>
    public void Words(string name, Action<int, string?> take, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(take);
        var field = FieldOf(name);
        if (field.ClrType != typeof(string) && field.ClrType != typeof(ReadOnlyMemory<char>)) throw new FormatReadException(_name, $"words in column '{name}'", field.ClrType.Name);
        Each((rows, at, count) =>
        {
            var words = new string?[count];
            Wait(rows.ReadAsync(field, words.AsMemory()!));
            for (var row = 0; row < count; row++) take(at + row, words[row]);
        }, cancellation);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (_gate)
        {
            while (_free.TryPop(out var held)) Close(held.Stream, held.Reader);
        }
    }

    private static (Stream Stream, ParquetReader Reader) Start(string name, Func<Stream> open)
    {
        var stream = open();
        try
        {
            if (!ParquetSoundness.IsWhole(stream))
                throw new FormatReadException(name, "a whole Parquet file", "one that is cut short or damaged: its list of columns does not end", "Copy the file again from where it was written.");
            return (stream, ParquetReader.CreateAsync(stream, null, leaveStreamOpen: true).ConfigureAwait(false).GetAwaiter().GetResult());
        }
        catch (Exception failure)
        {
            stream.Dispose();
            if (failure is FormatReadException or OutOfMemoryException) throw;
            throw Damaged(name, failure);
        }
    }

    private static FormatReadException Damaged(string name, Exception failure) =>
        new(name, "a Parquet file that can be read", "one that is damaged", "Copy the file again from where it was written, or measure the recording again.", innerException: failure);

    private static void Close(Stream stream, ParquetReader reader)
    {
        reader.DisposeAsync().AsTask().GetAwaiter().GetResult();
        stream.Dispose();
    }

    private DataField FieldOf(string name) => _fields.TryGetValue(name, out var field) ? field : throw new FormatReadException(_name, $"a column '{name}'", "none of that name");

    private void Each(Action<ParquetRowGroupReader, int, int> read, CancellationToken cancellation)
    {
        (Stream Stream, ParquetReader Reader) own;
        lock (_gate)
        {
            if (!_free.TryPop(out own)) own = default;
        }

        if (own.Reader is null) own = Start(_name, _open);
        try
        {
            var at = 0;
            for (var group = 0; group < _groups.Length; group++)
            {
                cancellation.ThrowIfCancellationRequested();
                using var rows = own.Reader.OpenRowGroupReader(group);
                read(rows, at, _groups[group]);
                at += _groups[group];
            }
        }
        catch (Exception failure) when (failure is not (FormatReadException or OperationCanceledException or OutOfMemoryException))
        {
            throw Damaged(_name, failure);
        }
        finally
        {
            lock (_gate) _free.Push(own);
        }
    }

    private static void Read<T>(ParquetRowGroupReader rows, DataField field, Memory<double> into, Func<T, double> convert)
        where T : struct
    {
        if (!field.IsNullable)
        {
            var plain = ArrayPool<T>.Shared.Rent(into.Length);
            Wait(rows.ReadAsync<T>(field, plain.AsMemory(0, into.Length)));
            var target = into.Span;
            for (var row = 0; row < target.Length; row++) target[row] = convert(plain[row]);
            ArrayPool<T>.Shared.Return(plain);
            return;
        }

        var rented = ArrayPool<T?>.Shared.Rent(into.Length);
        Wait(rows.ReadAsync<T>(field, rented.AsMemory(0, into.Length)));
        Widen(rented, into.Span, convert);
        ArrayPool<T?>.Shared.Return(rented);
    }

    // The kinds that are written often, without a call a value.
    private static void Widen<T>(T?[] values, Span<double> into, Func<T, double> convert)
        where T : struct
    {
        if (values is float?[] singles)
        {
            for (var row = 0; row < into.Length; row++) into[row] = singles[row] ?? double.NaN;
        }
        else if (values is double?[] doubles)
        {
            for (var row = 0; row < into.Length; row++) into[row] = doubles[row] ?? double.NaN;
        }
        else
        {
            for (var row = 0; row < into.Length; row++) into[row] = values[row] is { } value ? convert(value) : double.NaN;
        }
    }

    private static void Wait(ValueTask task)
    {
        if (!task.IsCompletedSuccessfully) task.AsTask().ConfigureAwait(false).GetAwaiter().GetResult();
    }
}
