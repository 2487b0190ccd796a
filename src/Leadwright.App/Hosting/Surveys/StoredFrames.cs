using System.Collections.Immutable;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Columns of a recording from the table that its import made: nothing of the recording itself has to be read, however long it is.</summary>
internal static class StoredFrames
{
    // Samples up to here are read themselves (RecordingWaves): their channels are then matched and turned, and a moment can be drawn. Beyond it the memory would not do.
    private const long MostReadBytes = 64L << 20;

    /// <summary>The columns that charts can show; null where there is no table.</summary>
    public static Task<ImmutableArray<ColumnCard>?> ColumnsAsync(string folder, SurveyState state, string recording, CancellationToken cancellation) =>
        WithTableAsync(folder, state, recording, table => Task.FromResult<ImmutableArray<ColumnCard>?>(
            table.Name.Kind == TableName.Samples ? [.. table.Columns.Select(CardOf)]
                : table.Columns.Any(column => column.Column is null) ? null : ColumnWording.Of(table.Columns.Select(column => column.Column!))), cancellation);

    /// <summary>Columns over a span; null where there is no table, or one of them is not in it.</summary>
    /// <param name="folder">The survey's folder.</param>
    /// <param name="state">The survey.</param>
    /// <param name="recording">The recording's name.</param>
    /// <param name="names">The columns.</param>
    /// <param name="from">Start, milliseconds as in a frame; null for the recording's.</param>
    /// <param name="to">End.</param>
    /// <param name="width">The most rows.</param>
    /// <param name="cancellation">Ends it.</param>
    public static Task<ColumnFrame?> FrameAsync(
        string folder, SurveyState state, string recording, ImmutableArray<string> names, double? from, double? to, int width, CancellationToken cancellation) =>
        WithTableAsync(
            folder, state, recording,
            async table => names.Any(name => table.IndexOf(name) < 0) ? null : await FrameAsync(table, names, from, to, width, cancellation), cancellation);

    private static async Task<ColumnFrame?> FrameAsync(SurveyTable table, ImmutableArray<string> names, double? from, double? to, int width, CancellationToken cancellation)
    {
        var (wholeFrom, wholeTo) = (ColumnFrame.MillisecondsOf(table.From), ColumnFrame.MillisecondsOf(table.To));
        var (start, end) = (Math.Max(from ?? wholeFrom, wholeFrom), Math.Min(to ?? wholeTo, wholeTo));
        if (!(end > start)) (start, end) = (wholeFrom, wholeTo);
        var read = await table.ReadAsync([.. names], ColumnFrame.TimeOf(start), ColumnFrame.TimeOf(end), width, cancellation);
        var half = (read.AreRows ? read.IntervalTicks : read.WidthTicks) / 2;
        return new ColumnFrame
        {
            From = start,
            To = end,
            WholeFrom = wholeFrom,
            WholeTo = wholeTo,
            Step = (double)(read.AreRows ? read.IntervalTicks : read.WidthTicks) / TimeSpan.TicksPerMillisecond,
            Times = [.. read.Starts.ToArray().Select(ticks => ColumnFrame.MillisecondsOf(new DateTime(ticks + half)))],
            Columns =
            [
                .. read.Series.Select(series => new FrameColumn(series.Column.Name, series.Column.Unit == "percent" ? "%" : series.Column.Unit)
                {
                    Mean = Singles(series.Mean.Span),
                    Low = Singles(series.Least.Span),
                    High = Singles(series.Greatest.Span),
                    Standing = [.. series.Worst.ToArray().Select((worst, index) => series.Known.Span[index] == 0 ? (byte)Standing.Lost : (byte)worst)],
                }),
            ],
        };
    }

    // Channels of a sampled recording keep the names that the file has for them.
    private static ColumnCard CardOf(StoredColumn column)
    {
        var quantity = column.Unit switch { "V" => LogQuantity.Voltage, "A" => LogQuantity.Current, _ => LogQuantity.Other };
        var title = column.Unit.Length > 0 && column.Name.EndsWith("_" + column.Unit, StringComparison.Ordinal) ? column.Name[..^(column.Unit.Length + 1)] : column.Name;
        return new ColumnCard(column.Name, $"Samples of {title}", column.Unit, quantity.ToString(), LogPlace.Whole.ToString());
    }

    private static float[] Singles(ReadOnlySpan<double> values)
    {
        var singles = new float[values.Length];
        for (var index = 0; index < values.Length; index++) singles[index] = (float)values[index];
        return singles;
    }

    private static async Task<T?> WithTableAsync<T>(string folder, SurveyState state, string recording, Func<SurveyTable, Task<T?>> use, CancellationToken cancellation)
    {
        // Columns that were confirmed after the import are read otherwise than the table was made.
        if (state.Recording(recording) is not { } found || (found.Columns is not null && !found.Facts.IsConfirmed)) return default;
        try
        {
            using var tables = SurveyTables.Open(folder, state.Id);
            var name = RecordingImport.TableOf(state, found);
            if (!tables.Names.Contains(name) || (name.Kind == TableName.Samples && found.Files.Sum(file => file.Bytes) <= MostReadBytes)) return default;
            var table = await tables.TableAsync(name, cancellation);
            return table.RowCount == 0 ? default : await use(table);
        }
        catch (SurveyException)
        {
            // A table is computed: where it is damaged the recording itself is read.
            return default;
        }
    }
}
