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
    /// <summary>The columns that charts can show; null where there is no table.</summary>
    public static Task<ImmutableArray<ColumnCard>?> ColumnsAsync(string folder, SurveyState state, string recording, RecordingDesk desk, CancellationToken cancellation) =>
        WithTableAsync<ImmutableArray<ColumnCard>?>(
            folder, state, recording,
            async table =>
            {
                if (table.Name.Kind != TableName.Samples)
                    return table.Columns.Any(column => column.Column is null) ? null : ColumnWording.Of(table.Columns.Select(column => column.Column!));
                return await desk.MatchAsync(cancellation) is { } match ? new StoredWaves(table, match).Columns : [.. table.Columns.Select(CardOf)];
            },
            cancellation);

    /// <summary>Columns over a span; null where there is no table, or one of them is not in it.</summary>
    /// <param name="folder">The survey's folder.</param>
    /// <param name="state">The survey.</param>
    /// <param name="recording">The recording's name.</param>
    /// <param name="desk">The recording.</param>
    /// <param name="names">The columns.</param>
    /// <param name="from">Start, milliseconds as in a frame; null for the recording's.</param>
    /// <param name="to">End.</param>
    /// <param name="width">The most rows.</param>
    /// <param name="cancellation">Ends it.</param>
    public static Task<ColumnFrame?> FrameAsync(
        string folder, SurveyState state, string recording, RecordingDesk desk, ImmutableArray<string> names, double? from, double? to, int width, CancellationToken cancellation) =>
        WithTableAsync(
            folder, state, recording,
            async table =>
            {
                var waves = table.Name.Kind == TableName.Samples && await desk.MatchAsync(cancellation) is { } match ? new StoredWaves(table, match) : null;
                var found = names.Select(name => waves is not null ? waves.Find(name) : table.IndexOf(name) is >= 0 and var index ? (index, false) : null).ToList();
                return found.Contains(null) ? null : await FrameAsync(table, [.. found.Select((one, at) => (names[at], one!.Value.Item1, one.Value.Item2))], from, to, width, cancellation);
            },
            cancellation);

    /// <summary>One moment of a sampled recording; null where there is no table of its samples, or none of its channels is known.</summary>
    /// <param name="folder">The survey's folder.</param>
    /// <param name="state">The survey.</param>
    /// <param name="recording">The recording's name.</param>
    /// <param name="desk">The recording.</param>
    /// <param name="at">Milliseconds as in a frame.</param>
    /// <param name="cancellation">Ends it.</param>
    public static Task<MomentSheet?> MomentAsync(string folder, SurveyState state, string recording, RecordingDesk desk, double at, CancellationToken cancellation) =>
        WithTableAsync(
            folder, state, recording,
            async table => table.Name.Kind == TableName.Samples && await desk.MatchAsync(cancellation) is { } match
                ? await new StoredWaves(table, match).MomentAsync(at, desk.Request.Recording.FrequencyHertz, cancellation) : null,
            cancellation);

    /// <summary>A channel that is no lead and no clamp: it keeps the name that the file has for it.</summary>
    public static ColumnCard CardOf(StoredColumn column)
    {
        var quantity = column.Unit switch { "V" => LogQuantity.Voltage, "A" => LogQuantity.Current, _ => LogQuantity.Other };
        var title = column.Unit.Length > 0 && column.Name.EndsWith("_" + column.Unit, StringComparison.Ordinal) ? column.Name[..^(column.Unit.Length + 1)] : column.Name;
        return new ColumnCard(column.Name, $"Samples of {title}", column.Unit, quantity.ToString(), LogPlace.Whole.ToString());
    }

    private static async Task<ColumnFrame?> FrameAsync(
        SurveyTable table, ImmutableArray<(string Name, int Index, bool IsTurned)> wanted, double? from, double? to, int width, CancellationToken cancellation)
    {
        var (wholeFrom, wholeTo) = (ColumnFrame.MillisecondsOf(table.From), ColumnFrame.MillisecondsOf(table.To));
        var (start, end) = (Math.Max(from ?? wholeFrom, wholeFrom), Math.Min(to ?? wholeTo, wholeTo));
        if (!(end > start)) (start, end) = (wholeFrom, wholeTo);
        var read = await table.ReadAsync([.. wanted.Select(one => one.Index)], ColumnFrame.TimeOf(start), ColumnFrame.TimeOf(end), width, cancellation);
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
                .. read.Series.Select((series, index) => new FrameColumn(wanted[index].Name, series.Column.Unit == "percent" ? "%" : series.Column.Unit)
                {
                    Mean = Singles(series.Mean.Span, wanted[index].IsTurned),
                    Low = Singles((wanted[index].IsTurned ? series.Greatest : series.Least).Span, wanted[index].IsTurned),
                    High = Singles((wanted[index].IsTurned ? series.Least : series.Greatest).Span, wanted[index].IsTurned),
                    Standing = [.. series.Worst.ToArray().Select((worst, at) => series.Known.Span[at] == 0 ? (byte)Standing.Lost : (byte)worst)],
                }),
            ],
        };
    }

    private static float[] Singles(ReadOnlySpan<double> values, bool isTurned)
    {
        var singles = new float[values.Length];
        for (var index = 0; index < values.Length; index++) singles[index] = (float)(isTurned ? -values[index] : values[index]);
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
            if (!tables.Names.Contains(name)) return default;
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
