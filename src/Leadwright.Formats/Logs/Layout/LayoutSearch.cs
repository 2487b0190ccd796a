using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Logs.Times;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs.Layout;

/// <summary>Finds the headings, the columns of time and the first row of values in the top rows of a table.</summary>
internal static class LayoutSearch
{
    /// <summary>So many rows are looked at.</summary>
    public const int HeadRows = 400;

    private const int AgreeingRows = 6;
    private const int CountedRows = 3;
    private const int MostHeadingRows = 4;
    private const int RowsForTime = 60;

    /// <summary>Finds the layout; null when the rows hold no table with times.</summary>
    /// <param name="head">The top rows.</param>
    /// <param name="why">Why there is none, for the error; null when there is one.</param>
    public static TableLayout? Of(List<HeadRow> head, out string? why)
    {
        why = null;
        var first = FirstStampRow(head);
        if (first < 0) first = FirstNumberRow(head);
        if (first < 0)
        {
            why = "no rows that begin with times";
            return null;
        }

        var body = head.Skip(first).Where(row => row.FilledCount > 0).Take(RowsForTime).ToList();
        var width = UsualWidth(body);
        var rows = HeadingRows(head, first, width);
        // Where no heading says how many columns there are, the widest row does.
        if (rows.Count == 0) width = body.Max(WidthOf);
        var time = TimeOf(body, width, Texts(rows, width));
        if (time is null)
        {
            why = "no column of dates and times, and no column of numbers that counts time";
            return null;
        }

        var headings = Headings(rows, width, time);
        var preamble = head.Take(rows.Count > 0 ? head.IndexOf(rows[0]) : first).Where(row => row.FilledCount > 0).ToList();
        var stated = headings.Where((_, column) => time.Holds(column)).Select(heading => heading.StatedOrder).FirstOrDefault(order => order is not null);
        return new TableLayout(headings, time, first, preamble, rows.Count > 0, stated)
        {
            NamedCount = rows.Count == 0 ? 0 : rows.Max(WidthOf) + (IsTimeUnderOneHeading(rows, width, time) ? 1 : 0), FirstDataLine = head[first].Line,
        };
    }

    /// <summary>What a cell says of time; null when nothing.</summary>
    public static StampParts? StampOf(CellKind kind, ReadOnlySpan<char> text, DateTime date)
    {
        if (kind == CellKind.Date) return StampParts.Of(date, date.Year > 1900, date.Year <= 1900 || date.TimeOfDay != TimeSpan.Zero);
        return kind == CellKind.Text && StampText.TryRead(text, out var parts) ? parts : null;
    }

    private static StampParts? StampOf(HeadRow row, int column) =>
        column < row.Cells.Length ? StampOf(row.Cells[column].Kind, row.Cells[column].Text, row.Cells[column].Date) : null;

    private static int WidthOf(HeadRow row)
    {
        var width = row.Cells.Length;
        while (width > 0 && row.Cells[width - 1].IsEmpty) width--;
        return width;
    }

    // A row or two with a cell too many must not make columns that are none, and shift the others. A column that one row in ten fills is one.
    private static int UsualWidth(List<HeadRow> body)
    {
        var widths = body.Select(WidthOf).OrderDescending().ToList();
        return widths[Math.Max(widths.Count / 10, widths.Count > AgreeingRows ? 1 : 0)];
    }

    private static int FirstStampRow(List<HeadRow> head)
    {
        for (var first = 0; first < head.Count; first++)
        {
            if (head[first].FilledCount == 0) continue;
            var next = head.Skip(first + 1).Where(row => row.FilledCount > 0).Take(AgreeingRows).ToList();
            for (var column = 0; column < head[first].Cells.Length; column++)
            {
                if (StampOf(head[first], column) is not { } stamp) continue;
                if (2 * next.Count(row => StampOf(row, column) is { } other && other.HasDate == stamp.HasDate) >= next.Count) return first;
            }
        }

        return -1;
    }

    private static int FirstNumberRow(List<HeadRow> head)
    {
        for (var first = 0; first < head.Count; first++)
        {
            var rows = head.Skip(first).Where(row => row.FilledCount > 0).Take(CountedRows).ToList();
            if (rows.Count >= 2 && rows.TrueForAll(row => row.FilledCount >= 2 && row.Cells.Count(IsNumber) >= 0.5 * row.FilledCount && IsNumber(row.Cells[FirstFilled(row)]))
                && WidthOf(rows[0]) == WidthOf(rows[1])) return first;
        }

        return -1;
    }

    private static int FirstFilled(HeadRow row) => Array.FindIndex(row.Cells, cell => !cell.IsEmpty);

    private static bool IsNumber(HeadCell cell) => cell.Kind == CellKind.Number || (cell.Kind == CellKind.Text && CellNumber.TryRead(cell.Text, '\0', out _, out _, out _));

    private static double NumberOf(HeadRow row, int column)
    {
        if (column >= row.Cells.Length) return double.NaN;
        var cell = row.Cells[column];
        if (cell.Kind == CellKind.Number) return cell.Number;
        return cell.Kind == CellKind.Text && CellNumber.TryRead(cell.Text, '\0', out var value, out _, out _) ? value : double.NaN;
    }

    // The rows of headings, top to bottom; those nearest the values name the columns.
    private static List<HeadRow> HeadingRows(List<HeadRow> head, int first, int width)
    {
        var rows = new List<HeadRow>();
        for (var at = first - 1; at >= 0 && rows.Count < MostHeadingRows; at--)
        {
            var row = head[at];
            if (row.FilledCount == 0)
            {
                if (rows.Count == 0 && at == first - 1) continue;
                break;
            }

            var numbers = row.Cells.Count(cell => !cell.IsEmpty && IsNumber(cell));
            var isWide = rows.Count == 0
                ? row.FilledCount >= Math.Min(2, width) && WidthOf(row) >= 0.5 * width
                : row.FilledCount >= 2 && (row.Cells.Length >= width || rows[0].Cells[0].IsEmpty || (WidthOf(row) >= 0.5 * width && !(WidthOf(row) == 2 && width > 2)));
            if (!isWide || numbers > 0.3 * row.FilledCount || row.Cells[FirstFilled(row)].Text.EndsWith(':')) break;
            rows.Insert(0, row);
        }

        return rows;
    }

    private static string[] Texts(List<HeadRow> rows, int width)
    {
        var texts = new string[width];
        for (var column = 0; column < width; column++) texts[column] = string.Join(' ', rows.Select(row => CellText(row, column)).Where(text => text.Length > 0));
        return texts;
    }

    private static string CellText(HeadRow row, int column) => column < row.Cells.Length ? row.Cells[column].Text.Trim() : "";

    private static LogHeading[] Headings(List<HeadRow> rows, int width, TimeColumns time)
    {
        // Units that stand alone are the names too: date;kWh;kvarh.
        var units = rows.Count > 1 ? rows.Find(row => IsUnitRow(row, time)) : null;
        var names = rows.Where(row => row != units).Select((row, index) => Filled(row, width, isGroup: index < rows.Count - (units is null ? 1 : 2))).ToList();
        var headings = new LogHeading[Math.Max(width, rows.Count > 0 ? rows.Max(WidthOf) : 0)];
        var isJoint = IsTimeUnderOneHeading(rows, width, time);
        for (var column = 0; column < headings.Length; column++)
        {
            var from = isJoint && column > time.Column ? column - 1 : column;
            var text = string.Join(' ', names.Select(row => from < row.Length ? row[from] : "").Where(part => part.Length > 0).Distinct(StringComparer.Ordinal));
            var unit = units is null ? "" : CellText(units, from);
            headings[column] = LogHeading.Parse(text.Length == 0 ? $"column {column + 1}" : text, unit is "-" or "--" ? "" : unit) with { IsMadeUp = text.Length == 0 };
        }

        return headings;
    }

    // Where blanks part the cells, date and time are two of them under one heading. A time of day that has a heading of its own is not: there a heading was lost.
    private static bool IsTimeUnderOneHeading(List<HeadRow> rows, int width, TimeColumns time) =>
        rows.Count > 0 && time.Kind == TimeKind.Split && time.TimeOfDay == time.Column + 1 && rows.Max(WidthOf) == width - 1 && !rows.Exists(row => LogHeading.Parse(CellText(row, time.TimeOfDay)).IsTime);

    private static bool IsUnitRow(HeadRow row, TimeColumns time)
    {
        int units = 0, others = 0;
        for (var column = 0; column < row.Cells.Length; column++)
        {
            var text = row.Cells[column].Text.Trim();
            if (text.Length == 0 || time.Holds(column) || text is "-" or "--") continue;
            // A lone letter may be a phase as well as a unit: A, V.
            if (LogHeading.IsUnit(text)) units++;
            else others++;
        }

        return units > 0 && others <= 0.2 * units;
    }

    // A heading over a group of columns stands over the first of them.
    private static string[] Filled(HeadRow row, int width, bool isGroup)
    {
        var texts = new string[Math.Max(width, row.Cells.Length)];
        var last = "";
        for (var column = 0; column < texts.Length; column++)
        {
            var text = CellText(row, column);
            if (text.Length > 0) last = text;
            texts[column] = text.Length == 0 && isGroup ? last : text;
        }

        return texts;
    }

    private static TimeColumns? TimeOf(List<HeadRow> body, int width, string[] texts)
    {
        var headings = texts.Select(text => LogHeading.Parse(text)).ToArray();
        var full = new List<int>();
        var dates = new List<int>();
        var times = new List<int>();
        for (var column = 0; column < width; column++)
        {
            int both = 0, date = 0, time = 0;
            foreach (var row in body)
            {
                if (StampOf(row, column) is not { } stamp) continue;
                if (stamp is { HasDate: true, HasTime: true }) both++;
                else if (stamp.HasDate) date++;
                else time++;
            }

            if (both + date + time < 0.5 * body.Count) continue;
            if (time > both + date) times.Add(column);
            else if (both > 0) full.Add(column);
            else dates.Add(column);
        }

        if (full.Count > 0)
        {
            var end = full.Skip(1).FirstOrDefault(other => FollowsEvenly(body, full[0], other) || headings[other].IsEnd, -1);
            return new TimeColumns(TimeKind.Stamp, full[0], -1, end, 1);
        }

        if (dates.Count > 0 && times.Count > 0)
        {
            var end = times.Skip(1).FirstOrDefault(other => FollowsEvenly(body, times[0], other) || headings[other].IsEnd, -1);
            return new TimeColumns(TimeKind.Split, dates[0], times[0], end, 1);
        }

        if (dates.Count > 0 && PlainClockOf(body, width, headings, dates[0]) is >= 0 and var clock) return new TimeColumns(TimeKind.Split, dates[0], clock, -1, 1) { IsPlainClock = true };
        return dates.Count == 0 && times.Count == 0 ? NumbersOf(body, width, headings) : null;
    }

    // A time of day without marks, 0015 to 2400, beside a date: where the heading says that it is one, or its zeros before the number do.
    private static int PlainClockOf(List<HeadRow> body, int width, LogHeading[] headings, int date)
    {
        for (var column = 0; column < width; column++)
        {
            if (column == date) continue;
            var (isClock, hasZeros, different) = (true, false, new HashSet<string>(StringComparer.Ordinal));
            foreach (var row in body.TakeWhile(_ => isClock))
            {
                var text = column < row.Cells.Length ? row.Cells[column].Text : "";
                isClock = StampText.TryReadPlainClock(text, out _);
                hasZeros |= text.Length is 4 or 6 && text[0] == '0';
                different.Add(text);
            }

            var isNamed = column < headings.Length && headings[column].IsTime;
            if (isClock && different.Count > 1 && (isNamed || (hasZeros && body.TrueForAll(row => row.Cells[column].Text.Length is 4 or 6)))) return column;
        }

        return -1;
    }

    // The second column is later than the first by the same time in every row.
    private static bool FollowsEvenly(List<HeadRow> body, int first, int second)
    {
        long? usual = null;
        foreach (var row in body)
        {
            if (StampOf(row, first) is not { } from || StampOf(row, second) is not { } to) return false;
            var length = (to.TimeTicks - from.TimeTicks + TimeSpan.TicksPerDay) % TimeSpan.TicksPerDay;
            usual ??= length;
            if (length != usual || length == 0 || length > TimeSpan.TicksPerHour) return false;
        }

        return body.Count > 1;
    }

    private static TimeColumns? NumbersOf(List<HeadRow> body, int width, LogHeading[] headings)
    {
        for (var column = 0; column < width; column++)
        {
            var numbers = body.Select(row => NumberOf(row, column)).ToList();
            if (numbers.Count < 2 || numbers.Exists(double.IsNaN) || !IsMonotonic(numbers)) continue;
            var unit = UnitText.Parse(headings[column].Unit);
            var isTime = headings[column].IsTime || (unit is { IsKnown: true, Base: "s" } && headings[column].Unit.Length > 0);
            var (least, most) = (numbers.Min(), numbers.Max());
            if (least >= 6e8 && most < 4.2e9) return new TimeColumns(TimeKind.Epoch, column, -1, -1, 1);
            if (least >= 6e11 && most < 4.2e12) return new TimeColumns(TimeKind.Epoch, column, -1, -1, 1e-3);
            if (least >= 6e14 && most < 4.2e15 && isTime) return new TimeColumns(TimeKind.Epoch, column, -1, -1, 1e-6);
            if (least >= 20000 && most < 80000 && numbers.Exists(number => number != Math.Floor(number)) && Math.Abs(numbers[1] - numbers[0]) < 0.05)
                return new TimeColumns(TimeKind.Serial, column, -1, -1, 86400);
            if (!isTime) continue;
            var seconds = headings[column].Unit.ToLowerInvariant() switch { "min" or "minutes" => 60, "h" or "hours" => 3600, _ => unit is { IsKnown: true, Base: "s" } ? unit.Factor : 1 };
            return new TimeColumns(TimeKind.Elapsed, column, -1, -1, seconds);
        }

        return null;
    }

    private static bool IsMonotonic(List<double> numbers)
    {
        int rises = 0, falls = 0;
        for (var row = 1; row < numbers.Count; row++)
        {
            if (numbers[row] > numbers[row - 1]) rises++;
            else if (numbers[row] < numbers[row - 1]) falls++;
        }

        return rises >= 0.9 * (numbers.Count - 1) || falls >= 0.9 * (numbers.Count - 1);
    }
}
