using Leadwright.Formats;
using Leadwright.Formats.Tables;

namespace Leadwright.App.Verbs.Studying.Measured;

/// <summary>The columns of a table that <c>measure</c> wrote, fetched one by one.</summary>
internal interface IMeasuredColumns : IDisposable
{
    /// <summary>Names of the columns, in order.</summary>
    IReadOnlyList<string> Names { get; }

    /// <summary>Number of rows.</summary>
    int Count { get; }

    /// <summary>Numbers of a column, NaN where empty.</summary>
    double[] Numbers(string name, CancellationToken cancellation);

    /// <summary>Times of a column, ticks.</summary>
    long[] Times(string name, CancellationToken cancellation);

    /// <summary>Hands over the words of a column, row by row; null where empty.</summary>
    void Words(string name, Action<int, string?> take, CancellationToken cancellation);
}

/// <summary>Those of a Parquet table: only the column asked for is read.</summary>
internal sealed class MeasuredParquet(ParquetColumns columns) : IMeasuredColumns
{
    public IReadOnlyList<string> Names => columns.Names;

    public int Count => columns.Count;

    /// <exception cref="FormatReadException">It is damaged.</exception>
    public static MeasuredParquet Open(string path) => new(ParquetColumns.Open(path, () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 20)));

    public bool HasSchema(string schema) => columns.Metadata.TryGetValue("schema", out var stated) && stated == schema;

    public double[] Numbers(string name, CancellationToken cancellation) => columns.Numbers(name, cancellation);

    public long[] Times(string name, CancellationToken cancellation) => columns.Times(name, cancellation);

    public void Words(string name, Action<int, string?> take, CancellationToken cancellation) => columns.Words(name, take, cancellation);

    public void Dispose() => columns.Dispose();
}
