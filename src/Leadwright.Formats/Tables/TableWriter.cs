using System.Collections.Immutable;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Tables;

/// <summary>Writes a table row by row at bounded memory.</summary>
/// <remarks>Set the cells of a row, then call <see cref="EndRowAsync"/>. A cell that is not set is empty; so is a NaN.</remarks>
public abstract class TableWriter : IAsyncDisposable
{
    private readonly double[] _numbers;
    private readonly string?[] _texts;
    private readonly DateTime?[] _times;

    /// <summary>Makes a writer.</summary>
    /// <param name="columns">The columns.</param>
    protected TableWriter(ImmutableArray<TableColumn> columns)
    {
        Columns = columns;
        _numbers = new double[columns.Length];
        _texts = new string?[columns.Length];
        _times = new DateTime?[columns.Length];
        ClearCells();
    }

    /// <summary>The columns.</summary>
    public ImmutableArray<TableColumn> Columns { get; }

    /// <summary>The numbers of the row at hand; NaN where a cell is empty.</summary>
    protected ReadOnlySpan<double> Numbers => _numbers;

    /// <summary>The texts of the row at hand.</summary>
    protected ReadOnlySpan<string?> Texts => _texts;

    /// <summary>The times of the row at hand.</summary>
    protected ReadOnlySpan<DateTime?> Times => _times;

    /// <summary>Sets a number.</summary>
    /// <param name="column">Index of the column.</param>
    /// <param name="value">The number; NaN leaves the cell empty.</param>
    public void Set(int column, double value) => _numbers[column] = value;

    /// <summary>Sets a text.</summary>
    /// <param name="column">Index of the column.</param>
    /// <param name="value">The text.</param>
    public void Set(int column, string? value) => _texts[column] = value;

    /// <summary>Sets a time.</summary>
    /// <param name="column">Index of the column.</param>
    /// <param name="value">The time.</param>
    public void Set(int column, DateTime value) => _times[column] = value;

    /// <summary>Ends the row.</summary>
    public async ValueTask EndRowAsync()
    {
        await WriteRowAsync().ConfigureAwait(false);
        ClearCells();
    }

    /// <summary>Writes what is held back and what closes the table; the stream stays open.</summary>
    public abstract ValueTask CompleteAsync();

    /// <summary>Carries the state out, with everything so far written to the stream, or back into a writer of the same columns on a stream with what was
    /// written then; what was written behind that is cut off.</summary>
    /// <param name="carrier">Carries.</param>
    /// <exception cref="InvalidDataException">The stream holds less than was written then.</exception>
    /// <exception cref="NotSupportedException">A table of this kind can't be gone on with.</exception>
    public virtual void Carry(StateCarrier carrier) => throw new NotSupportedException("A table of this kind can't be gone on with.");

    /// <inheritdoc/>
    public virtual ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }

    /// <summary>Takes the row at hand.</summary>
    protected abstract ValueTask WriteRowAsync();

    /// <summary>Cuts a stream back to a length.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="length">The length.</param>
    /// <exception cref="InvalidDataException">It is shorter.</exception>
    protected static void CutBack(Stream stream, long length)
    {
        ArgumentNullException.ThrowIfNull(stream);
        if (stream.Length < length) throw new InvalidDataException("The unfinished table is shorter than it was.");
        stream.SetLength(length);
        stream.Position = length;
    }

    private void ClearCells()
    {
        Array.Fill(_numbers, double.NaN);
        Array.Clear(_texts);
        Array.Clear(_times);
    }
}
