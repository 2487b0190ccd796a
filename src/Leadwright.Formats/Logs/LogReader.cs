using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs.Layout;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Logs.Times;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs;

/// <summary>Reads a log of intervals from a table: text, a workbook, or Parquet.</summary>
/// <remarks>What is understood, what is assumed and said: <c>docs/formats/logged-values.md</c>. The table is read row by row, twice; its numbers are kept.</remarks>
public static class LogReader
{
    /// <summary>Reads a log from bytes.</summary>
    /// <param name="file">The file.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="progress">Is told the share read, 0 to 1.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static LogFile Read(InputFile file, LogReadOptions? options = null, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var stream = StreamOf(file);
        return Read(file.Name, stream, options, progress, cancellation);
    }

    /// <summary>Reads a log from a stream.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="stream">The table; can be positioned; read from where it stands, stays open.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="progress">Is told the share read, 0 to 1.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="ArgumentException">The stream can't be positioned.</exception>
    /// <exception cref="FormatReadException">The table can't be used.</exception>
    public static LogFile Read(string name, Stream stream, LogReadOptions? options = null, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        if (!stream.CanSeek) throw new ArgumentException("The table is read twice: its stream must be one that can be positioned.", nameof(stream));
        var table = Guarded(name, () => Open(name, stream, options ??= new()));
        return Guarded(name, () => Read(name, table, options!, progress, cancellation));
    }

    /// <summary>True when a table of text is a log: its rows bear dates or times half a second apart or more.</summary>
    /// <param name="file">The file.</param>
    internal static bool IsLog(InputFile file)
    {
        try
        {
            using var stream = StreamOf(file);
            var options = new LogReadOptions();
            var table = OpenText(file.Name, stream, options);
            if (table.Layout is null) return false;
            return StepOf(table) >= 0.5;
        }
        catch (FormatReadException)
        {
            return false;
        }
    }

    /// <summary>The line on which the values of a table of text begin, and how many columns it has; null where it is no table of text, or none whose lines end in a byte of their own.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="head">The table's first part; put back to where it stands.</param>
    /// <param name="options">How to read.</param>
    internal static (int FirstLine, int Columns)? TextLayoutOf(string name, Stream head, LogReadOptions options)
    {
        var start = head.Position;
        Span<byte> magic = stackalloc byte[8];
        magic = magic[..head.ReadAtLeast(magic, magic.Length, throwOnEndOfStream: false)];
        head.Position = start;
        if (magic.IsEmpty || TableMagic.IsParquet(magic) || TableMagic.IsWorkbook(magic) || TextDecoding.Of(head, options.Encoding, out _) is UnicodeEncoding or UTF32Encoding) return null;
        var layout = Guarded(name, () => OpenText(name, head, options)).Layout;
        head.Position = start;
        return layout is null ? null : (layout.FirstDataLine, layout.Headings.Length);
    }

    // Libraries throw what they like at damaged files; a person is told one thing.
    private static T Guarded<T>(string name, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception failure) when (failure is not (FormatReadException or OperationCanceledException))
        {
            throw new FormatReadException(
                name, "a table that can be read", failure is OutOfMemoryException ? "one that is too large" : "one that is damaged or of another kind",
                "Export the log again, as text separated by semicolons or commas if the workbook will not do.", innerException: failure);
        }
    }

    internal static MemoryStream StreamOf(InputFile file) => MemoryMarshal.TryGetArray(file.Bytes, out var segment)
        ? new MemoryStream(segment.Array!, segment.Offset, segment.Count, writable: false)
        : new MemoryStream(file.Bytes.ToArray(), writable: false);

    private static OpenTable Open(string name, Stream stream, LogReadOptions options)
    {
        Span<byte> head = stackalloc byte[8];
        var start = stream.Position;
        var length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        stream.Position = start;
        head = head[..length];
        if (length == 0) throw new FormatReadException(name, "a table of logged values", "an empty file", "Export the log again.");
        var table = TableMagic.IsParquet(head) ? OpenParquet(name, stream)
            : TableMagic.IsWorkbook(head) ? OpenWorkbook(name, stream, options)
            : OpenText(name, stream, options);
        if (options.Sheet is { } sheet && !TableMagic.IsWorkbook(head))
            table = table with { Warnings = [.. table.Warnings, new ReadWarning($"Worksheet {Quoted.Of(sheet)} was asked for: this table is no workbook and has no worksheets.")] };
        if (table.Layout is not null) return table;
        throw new FormatReadException(
            name, "a table with a column of dates and times and columns of values", table.Why ?? "no table",
            "Export the log with its headings and with date and time in each row.");
    }

    private static OpenTable OpenText(string name, Stream stream, LogReadOptions options)
    {
        var start = stream.Position;
        var encoding = TextDecoding.Of(stream, options.Encoding, out var note);
        var separator = options.Separator ?? SeparatorSniffer.Of(SeparatorSniffer.LinesOf(name, stream, encoding));
        TableRows Rows()
        {
            stream.Position = start;
            return new TextRows(name, stream, encoding, separator);
        }

        return OpenTable.Of(name, Rows, separator, note is null ? [] : [new ReadWarning(note)]);
    }

    private static OpenTable OpenParquet(string name, Stream stream) => OpenTable.Of(name, () => ParquetRows.Start(name, stream), null, []);

    private static OpenTable OpenWorkbook(string name, Stream stream, LogReadOptions options)
    {
        var sheets = SheetRows.SheetsOf(stream);
        if (options.Sheet is { } wanted && sheets.FindIndex(sheet => string.Equals(sheet, wanted, StringComparison.OrdinalIgnoreCase)) is var stated)
        {
            return stated >= 0
                ? OpenTable.Of(name, () => SheetRows.Start(name, stream, stated), null, [])
                : throw new FormatReadException(name, $"a worksheet '{wanted}'", string.Join(", ", sheets.Select(Quoted.Of)), "Name one of these.");
        }

        OpenTable? first = null;
        for (var index = 0; index < sheets.Count; index++)
        {
            var at = index;
            var table = OpenTable.Of(name, () => SheetRows.Start(name, stream, at), null, []);
            if (table.Layout is null)
            {
                first ??= table;
                continue;
            }

            var others = sheets.Where((_, other) => other != at).ToList();
            return others.Count == 0 ? table : table with
            {
                Warnings = [.. table.Warnings, new ReadWarning($"Worksheet {Quoted.Of(sheets[at])} is read; not read: {string.Join(", ", others.Take(20).Select(Quoted.Of))}.")],
            };
        }

        return first ?? throw new FormatReadException(name, "a workbook with a worksheet", "none");
    }

    private static double StepOf(OpenTable table)
    {
        using var rows = table.Rows();
        var layout = table.Layout!;
        var head = new LimitedRows(rows, layout.FirstDataRow + LayoutSearch.HeadRows);
        var scan = StampScan.Of(head, layout, null, [], null, default);
        var order = DateOrderSearch.Of(scan.Stamps)?.Order ?? DateOrder.YearMonthDay;
        long[] ticks = layout.Time.Kind is TimeKind.Stamp or TimeKind.Split
            ? [.. scan.Stamps.Select(stamp => stamp.Ticks(order)).OfType<long>()]
            : [.. scan.Numbers.Select(number => number * layout.Time.UnitSeconds * TimeSpan.TicksPerSecond).Where(ticks => Math.Abs(ticks) < 9e18).Select(ticks => (long)Math.Round(ticks))];
        return ClockCheck.IntervalOf(ticks);
    }

    private static LogFile Read(string name, OpenTable table, LogReadOptions options, IProgress<double>? progress, CancellationToken cancellation)
    {
        var layout = table.Layout!;
        var warnings = table.Warnings.ToList();
        var questions = new List<string>();
        if (table.Separator == ',' && layout.HasHeadings && layout.NamedCount < layout.Headings.Length)
        {
            throw new FormatReadException(
                name, $"{layout.NamedCount} cells as there are headings", $"{layout.Headings.Length}",
                "The decimal mark may be the comma that separates the cells too: export the table with semicolons, tabs or quotes. Or a heading is missing, or a quote in one never closed.", layout.FirstDataLine);
        }

        var profile = ProfileFor(name, layout, options);
        if (profile is not null)
        {
            if (options.Profile is null) warnings.Add(new ReadWarning("The columns are read as a person confirmed for tables with these headings."));
            options = options with { DateOrder = options.DateOrder ?? profile.DateOrder, Stamps = options.Stamps ?? profile.Stamps, DecimalMark = options.DecimalMark ?? profile.DecimalMark };
        }

        TellPreamble(layout, warnings);
        StampScan stamps;
        using (var rows = table.Rows()) stamps = StampScan.Of(rows, layout, progress, warnings, MostRows(name, layout, options), cancellation);
        var mark = options.DecimalMark ?? stamps.DecimalMark(table.Separator, warnings);
        ValueScan values;
        using (var rows = table.Rows()) values = ValueScan.Of(name, rows, layout, stamps, mark, progress, warnings, cancellation);
        var timeline = LogTimeline.Of(name, layout, options, stamps, values.AreAlike, warnings, questions);
        values.Tell(warnings);
        var stated = (profile?.Columns ?? []).Concat(options.Columns);
        var proposals = LogColumnMatcher.Match(name, layout, values.Columns, stated, options, timeline.IntervalSeconds, warnings, questions);
        if (!proposals.Any(proposal => proposal is { Role: ColumnRole.Value, Quantity: not LogQuantity.Other })) questions.Add(LogQuestions.Columns);
        TellDuplicates(name, timeline, stamps, values, warnings);
        cancellation.ThrowIfCancellationRequested();
        var (log, standings) = Assemble(timeline, values, proposals);
        if (log.Columns.IsEmpty)
            throw new FormatReadException(name, "at least one column of values beside the times", "none", "Export the log with its values as numbers.");
        progress?.Report(1);
        return new LogFile(log, proposals, timeline.Clock, [.. warnings])
        {
            Separator = table.Separator, DecimalMark = mark, DateOrder = timeline.DateOrder, Stamps = timeline.Stamps, Standings = standings, Questions = [.. questions],
            IsConfirmed = profile is not null, FirstCells = [.. values.Columns.Select(column => column.First.ToImmutableArray())],
        };
    }

    private static (int Rows, Func<FormatReadException> Refusal) MostRows(string name, TableLayout layout, LogReadOptions options)
    {
        var most = (int)Math.Min(options.MostValues / (layout.Headings.Length + LogReadOptions.ValuesARow), int.MaxValue);
        return (most, () => new FormatReadException(
            name, FormattableString.Invariant($"at most {most:N0} rows of {layout.Headings.Length} columns, which is what this computer's memory has room for"), "more rows",
            "The values of a log are held all at once here. Export it in shorter pieces, as by weeks or months, with fewer columns, or at a longer interval."));
    }

    private static ColumnProfile? ProfileFor(string name, TableLayout layout, LogReadOptions options)
    {
        var headings = layout.Headings.Select(heading => heading.Text).ToList();
        if (options.Profile is not { } named) return options.Profiles.FirstOrDefault(profile => profile.Fits(headings));
        if (named.Fits(headings)) return named;
        var missing = named.Headings.Except(headings, StringComparer.OrdinalIgnoreCase).Select(heading => $"no '{heading}'");
        var more = headings.Except(named.Headings, StringComparer.OrdinalIgnoreCase).Select(heading => $"'{heading}' besides");
        throw new FormatReadException(name, "the headings of the profile that was named", string.Join(", ", missing.Concat(more).Take(6)), "Name the profile of this table, or none.");
    }

    private static void TellPreamble(TableLayout layout, List<ReadWarning> warnings)
    {
        if (layout.Preamble.Count > 0)
        {
            var first = string.Join(' ', layout.Preamble[0].Cells.Select(cell => cell.Text)).Trim();
            warnings.Add(new ReadWarning(
                $"{(layout.Preamble.Count == 1 ? "1 row above the headings is" : $"{layout.Preamble.Count} rows above the headings are")} not used; the first reads {Quoted.Of(first)}.", layout.Preamble[0].Line));
        }

        if (!layout.HasHeadings) warnings.Add(new ReadWarning("The table has no headings: what its columns hold can only be guessed from their numbers."));
    }

    private static void TellDuplicates(string name, LogTimeline timeline, StampScan stamps, ValueScan values, List<ReadWarning> warnings)
    {
        if (timeline.Duplicates.Count == 0) return;
        var different = timeline.Duplicates.Where(pair => !values.AreAlike(pair.Row, pair.Kept)).ToList();
        var same = timeline.Duplicates.Count - different.Count;
        if (same > 0) warnings.Add(new ReadWarning($"{(same == 1 ? "1 row stands" : $"{same} rows stand")} twice with the same time and values; once is enough."));
        if (2 * different.Count > timeline.Rows.Length && values.WordColumn() is { } channel)
        {
            throw new FormatReadException(
                name, "a row for each time, with a column for each channel", $"several rows at each time, told apart by their column '{channel}'",
                "Export the log with a column for each channel, or turn the table in a spreadsheet.");
        }

        if (different.Count > 0)
        {
            warnings.Add(new ReadWarning(
                $"{(different.Count == 1 ? "1 row bears" : $"{different.Count} rows bear")} the time of an earlier row but other values, and {(different.Count == 1 ? "is" : "are")} left out.", stamps.Lines[different[0].Row]));
        }
    }

    private static (IntervalLog Log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings) Assemble(LogTimeline timeline, ValueScan scan, ImmutableArray<ColumnProposal> proposals)
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        var standings = ImmutableDictionary.CreateBuilder<int, ReadOnlyMemory<Standing>>();
        var isWhole = IsWhole(timeline.Rows, scan);
        foreach (var proposal in proposals.Where(proposal => proposal.Role == ColumnRole.Value))
        {
            var numbers = scan.Columns[proposal.Index].Numbers!;
            // In place where every row is taken in its order.
            var picked = isWhole ? numbers : new double[timeline.Rows.Length];
            for (var row = 0; row < picked.Length; row++) picked[row] = Scaled(numbers[timeline.Rows[row]], proposal.Factor);
            values.Add(picked);
            var isOther = proposal.Quantity == LogQuantity.Other;
            var standing = proposals.FirstOrDefault(other => other.Role == ColumnRole.Standing && other.Heading == LogNames.StandingOf(proposal.Heading));
            if (standing is not null && scan.Columns[standing.Index].Standings is { } words) standings[columns.Count] = timeline.Rows.Select(row => words[row]).ToArray();
            columns.Add(new LogColumn(proposal.Heading, proposal.Quantity, proposal.Place, proposal.Statistic)
            {
                Order = proposal.Order, IsExport = proposal.IsExport, OtherUnit = isOther ? proposal.Unit : "",
            });
        }

        return (new IntervalLog(columns.ToImmutable(), timeline.Starts, [.. values], timeline.IntervalSeconds) { ClockSteps = timeline.Steps }, standings.ToImmutable());
    }

    private static bool IsWhole(int[] rows, ValueScan scan)
    {
        if (scan.Columns.FirstOrDefault(column => column.Numbers is not null)?.Numbers is not { } numbers || numbers.Length != rows.Length) return false;
        for (var row = 0; row < rows.Length; row++)
        {
            if (rows[row] != row) return false;
        }

        return true;
    }

    // By a division where that is exact: 0.1 % is 0.001, and not a bit beside it.
    private static double Scaled(double value, double factor) => factor switch
    {
        1 => value,
        < 1 => value / Math.Round(1 / factor),
        _ => value * factor,
    };

    /// <summary>A table that was opened, and its layout.</summary>
    private sealed record OpenTable(Func<TableRows> Rows, char? Separator, TableLayout? Layout, string? Why, ImmutableArray<ReadWarning> Warnings)
    {
        public static OpenTable Of(string name, Func<TableRows> rows, char? separator, ImmutableArray<ReadWarning> warnings)
        {
            var head = new List<HeadRow>();
            using (var top = rows())
            {
                while (head.Count < LayoutSearch.HeadRows && top.Read()) head.Add(top.Keep());
            }

            if (DayLayout.Of(name, head, out var why) is { } day)
                return new OpenTable(() => new DayRows(rows(), day), separator, day.Table, null, [.. warnings, .. day.Notes.Select(note => new ReadWarning(note))]);
            if (why is not null) return new OpenTable(rows, separator, null, why, warnings);
            var layout = LayoutSearch.Of(head, out why);
            return new OpenTable(rows, separator, layout, why, warnings);
        }
    }
}
