using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Logs.Layout;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Sampling;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Samples in a workbook or a Parquet table: told from a log by their rows, and handed on as the text that the reader of samples reads.</summary>
public static class SampleSheets
{
    // A workbook has a million rows at most; a longer recording belongs into COMTRADE or PQDIF.
    private const long MostCells = 16_000_000;

    /// <summary>The samples as text; null when the file is none of these, or a log of intervals.</summary>
    /// <param name="file">The file.</param>
    /// <param name="rateHertz">Samples a second of a table without times, as a person states it; null when nobody did.</param>
    /// <exception cref="FormatReadException">It holds more samples than a table should.</exception>
    public static InputFile? TextOf(InputFile file, double? rateHertz = null) => Of(file, rateHertz, writes: true);

    /// <summary>True when a workbook or a Parquet table holds samples; by its first rows.</summary>
    /// <param name="file">The file.</param>
    /// <param name="rateHertz">As of <see cref="TextOf"/>.</param>
    public static bool Holds(InputFile file, double? rateHertz = null) => Of(file, rateHertz, writes: false) is not null;

    /// <summary>Opens the samples of a Parquet table as text that is made while it is read; null when it is none, or a log of intervals.</summary>
    /// <param name="file">The file.</param>
    /// <param name="rateHertz">As of <see cref="TextOf"/>.</param>
    internal static Func<Stream>? StreamOf(SampleFile file, double? rateHertz)
    {
        try
        {
            using var top = file.Open();
            if (LinesOf(() => ParquetRows.Start(file.Name, top), rateHertz, out _) is null) return null;
        }
        catch (Exception failure) when (failure is not (FormatReadException or OutOfMemoryException or IOException or UnauthorizedAccessException))
        {
            // As below.
            return null;
        }

        return () =>
        {
            var stream = file.Open();
            return new LinesStream(file.Name, stream, LinesOf(() => ParquetRows.Start(file.Name, stream), rateHertz, out _) ?? []);
        };
    }

    private static InputFile? Of(InputFile file, double? rateHertz, bool writes)
    {
        ArgumentNullException.ThrowIfNull(file);
        var isWorkbook = TableMagic.IsWorkbook(file.Bytes.Span);
        if (!isWorkbook && !TableMagic.IsParquet(file.Bytes.Span)) return null;
        try
        {
            using var stream = LogReader.StreamOf(file);
            var sheets = isWorkbook ? SheetRows.SheetsOf(stream).Count : 1;
            for (var sheet = 0; sheet < sheets; sheet++)
            {
                var at = sheet;
                if (LinesOf(() => isWorkbook ? SheetRows.Start(file.Name, stream, at) : ParquetRows.Start(file.Name, stream), rateHertz, out var isLog) is { } lines)
                    return writes ? file with { Bytes = Text(file.Name, lines) } : file;
                if (isLog) return null;
            }

            return null;
        }
        catch (Exception failure) when (failure is not (FormatReadException or OutOfMemoryException))
        {
            // Libraries throw what they like at damaged files: the reader of logs says what is wrong.
            return null;
        }
    }

    // The first sheet with times decides, as it does for a log.
    private static IEnumerable<string>? LinesOf(Func<TableRows> rows, double? rateHertz, out bool isLog)
    {
        var head = HeadOf(rows);
        var layout = LayoutSearch.Of(head, out _);
        isLog = layout is not null && !IsWaveform(head, layout);
        if (layout is not null) return isLog ? null : Lines(rows, layout, ZeroOf(head, layout));
        return rateHertz is { } rate && HeadingsOf(head) is { } names ? Lines(rows, names.Texts, names.First, rate) : null;
    }

    private static List<HeadRow> HeadOf(Func<TableRows> rows)
    {
        var head = new List<HeadRow>();
        using var top = rows();
        while (head.Count < LayoutSearch.HeadRows && top.Read()) head.Add(top.Keep());
        return head;
    }

    private static bool IsWaveform(List<HeadRow> head, TableLayout layout)
    {
        var (ticks, zero) = (new List<long>(), ZeroOf(head, layout));
        foreach (var row in head.Skip(layout.FirstDataRow))
        {
            if (SecondsOf(column => column < row.Cells.Length ? row.Cells[column] : default, layout.Time, zero) is not { } seconds || !(Math.Abs(seconds) < 9e11)) continue;
            ticks.Add((long)Math.Round(seconds * TimeSpan.TicksPerSecond));
        }

        return ClockCheck.IntervalOf([.. ticks]) is > 0 and var step && step < 1 / new CsvSampleOptions().LeastRateHertz;
    }

    // A date in seconds would be no finer than some microseconds: it is counted from another.
    private static long ZeroOf(List<HeadRow> head, TableLayout layout)
    {
        foreach (var row in head.Skip(layout.FirstDataRow))
        {
            if (SecondsOf(column => column < row.Cells.Length ? row.Cells[column] : default, layout.Time, 0) is { } seconds) return layout.Time.Kind is TimeKind.Stamp or TimeKind.Split ? (long)seconds * TimeSpan.TicksPerSecond : 0;
        }

        return 0;
    }

    private static double? SecondsOf(Func<int, HeadCell> cellOf, TimeColumns time, long zeroTicks)
    {
        var cell = cellOf(time.Column);
        if (time.Kind is TimeKind.Epoch or TimeKind.Serial or TimeKind.Elapsed)
            return cell.Kind == CellKind.Number ? cell.Number * time.UnitSeconds : cell.Kind == CellKind.Text && CellNumber.TryRead(cell.Text, '\0', out var number, out _, out _) ? number * time.UnitSeconds : null;
        if (cell.IsEmpty || LayoutSearch.StampOf(cell.Kind, cell.Text, cell.Date) is not { HasDate: true } stamp) return null;
        if (time.Kind == TimeKind.Split)
        {
            var clock = cellOf(time.TimeOfDay);
            if (clock.IsEmpty || LayoutSearch.StampOf(clock.Kind, clock.Text, clock.Date) is not { HasTime: true } ofDay) return null;
            stamp = stamp.With(ofDay);
        }

        return (stamp.Ticks(DateOrder.DayMonthYear) ?? stamp.Ticks(DateOrder.MonthDayYear) ?? stamp.Ticks(DateOrder.YearMonthDay)) is { } ticks ? (double)(ticks - zeroTicks) / TimeSpan.TicksPerSecond : null;
    }

    // Headings over columns of numbers, in a table without times.
    private static (string[] Texts, int First)? HeadingsOf(List<HeadRow> head)
    {
        for (var row = 0; row + 1 < head.Count; row++)
        {
            var cells = head[row].Cells;
            if (cells.Length > 0 && Array.TrueForAll(cells, cell => cell is { IsEmpty: false, Kind: CellKind.Text }) && Array.TrueForAll(head[row + 1].Cells, cell => cell.Kind == CellKind.Number))
                return ([.. cells.Select(cell => cell.Text)], row + 1);
        }

        return null;
    }

    private static byte[] Text(string name, IEnumerable<string> lines)
    {
        using var stream = new MemoryStream();
        using var text = new StreamWriter(stream, new UTF8Encoding(false)) { NewLine = "\n" };
        var cells = 0L;
        foreach (var line in lines)
        {
            cells += line.AsSpan().Count(',');
            if (cells > MostCells)
            {
                throw new FormatReadException(
                    name, string.Create(CultureInfo.InvariantCulture, $"at most {MostCells} samples in a table"), "more", "Export the recording as COMTRADE, PQDIF or text, which are read at any length.");
            }

            text.WriteLine(line);
        }

        text.Flush();
        return stream.ToArray();
    }

    private static IEnumerable<string> Lines(Func<TableRows> open, TableLayout layout, long zeroTicks)
    {
        var columns = Enumerable.Range(0, layout.Headings.Length).Where(column => !layout.Time.Holds(column)).ToList();
        var line = new StringBuilder();
        double? zero = null;
        using var rows = open();
        for (var row = 0; row < layout.FirstDataRow; row++) rows.Read();
        while (rows.Read())
        {
            HeadCell Cell(int column) => column < rows.Count ? new(rows.KindOf(column), rows.TextOf(column).ToString(), rows.NumberOf(column), rows.DateOf(column)) : default;
            if (SecondsOf(Cell, layout.Time, zeroTicks) is not { } seconds) continue;
            if (zero is null)
            {
                zero = layout.Time.Kind == TimeKind.Elapsed ? 0 : seconds;
                if (layout.Time.Kind is TimeKind.Stamp or TimeKind.Split)
                    yield return string.Create(CultureInfo.InvariantCulture, $"# start: {new DateTime(zeroTicks + (long)Math.Round(seconds * TimeSpan.TicksPerSecond)):yyyy-MM-ddTHH:mm:ss.fffffff}");
                yield return string.Join(',', columns.Select(column => CsvCell.Quoted(HeadingOf(layout.Headings[column]))).Prepend("time (s)"));
            }

            line.Clear().Append((seconds - zero.Value).ToString("R", CultureInfo.InvariantCulture));
            foreach (var column in columns) line.Append(',').Append(NumberText(rows, column));
            yield return line.ToString();
        }
    }

    private static IEnumerable<string> Lines(Func<TableRows> open, string[] headings, int first, double rateHertz)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"# rate_hz: {rateHertz:R}");
        yield return string.Join(',', headings.Select(CsvCell.Quoted));
        using var rows = open();
        for (var row = 0; row < first; row++) rows.Read();
        while (rows.Read()) yield return string.Join(',', Enumerable.Range(0, headings.Length).Select(column => NumberText(rows, column)));
    }

    private static string HeadingOf(LogHeading heading) => heading.Unit.Length > 0 ? $"{heading.Name} ({heading.Unit})" : heading.Text;

    private static string NumberText(TableRows rows, int column)
    {
        if (column >= rows.Count || rows.KindOf(column) == CellKind.Empty) return "";
        if (rows.KindOf(column) == CellKind.Number) return rows.NumberOf(column).ToString("R", CultureInfo.InvariantCulture);
        // Words stay what they are, so that they are refused or counted as missing by the one who reads samples.
        var text = rows.TextOf(column);
        return CellNumber.TryRead(text, '\0', out var value, out _, out _) ? value.ToString("R", CultureInfo.InvariantCulture) : CsvCell.Quoted(text.ToString());
    }
}
