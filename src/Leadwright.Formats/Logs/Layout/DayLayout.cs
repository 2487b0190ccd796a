using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs.Layout;

/// <summary>A value of a day in a table of one row a day.</summary>
/// <param name="Cell">Index of its cell.</param>
/// <param name="Ticks">Time of day, ticks; a whole day for 24:00.</param>
/// <param name="Time">The time of day as a cell says it.</param>
/// <param name="IsRepeated">True for an hour that stands in the headings a second time: the one by which the longest day of the year is longer.</param>
internal readonly record struct DaySlot(int Cell, long Ticks, string Time, bool IsRepeated);

/// <summary>A table of one row a day, with a column for each interval of the day.</summary>
/// <param name="Table">How the table is laid out once each value has its row: date, time, value, words.</param>
/// <param name="DateCell">Index of the cell of the date.</param>
/// <param name="Slots">The values of a day.</param>
/// <param name="WordCells">Indices of cells of words, kept beside each value.</param>
/// <param name="FirstRow">Index of the first row of values, among all rows.</param>
/// <param name="StepTicks">Length of an interval, ticks.</param>
/// <param name="IsCounted">True when the headings count the intervals, and say no times.</param>
internal sealed partial record DayLayout(TableLayout Table, int DateCell, DaySlot[] Slots, int[] WordCells, int FirstRow, long StepTicks, bool IsCounted)
{
    private const int RowsForHeadings = 60;
    private const int RowsForDates = 60;
    private const int FewestSlots = 24;

    /// <summary>How many values a usual day has.</summary>
    public int UsualCount => (int)(TimeSpan.TicksPerDay / StepTicks);

    /// <summary>What is to be told of it.</summary>
    public ImmutableArray<string> Notes { get; private init; } = [];

    /// <summary>Finds the layout; null when the table is none of one row a day.</summary>
    /// <param name="source">Name of the file, which may say the unit.</param>
    /// <param name="head">The top rows.</param>
    /// <param name="why">Why it can't be read though it is one; null when it can, or is none.</param>
    public static DayLayout? Of(string source, List<HeadRow> head, out string? why)
    {
        why = null;
        for (var at = 0; at < Math.Min(head.Count, RowsForHeadings); at++)
        {
            if (head[at].FilledCount < FewestSlots) continue;
            var (slots, step, rest) = ByClock(head[at]);
            var isCounted = slots is null;
            if (slots is null) (slots, step, rest) = ByCount(head[at]);
            if (slots is null) continue;
            var body = head.Skip(at + 1).Where(row => row.FilledCount > 0).Take(RowsForDates).ToList();
            if (body.Count == 0 || DateOf(body, slots) is not (>= 0 and var date)) continue;
            if (isCounted && !IsDaily(body, date)) continue;
            var words = WordsOf(head[at], body, date, slots);
            if (Parted(head[at], body, date, words) is { } parted)
            {
                why = $"one row a day with {slots.Length} values, but several rows for a day{parted}";
                return null;
            }

            return Of(source, head, at, body, date, slots, step, rest, words) with { IsCounted = isCounted };
        }

        return null;
    }

    private static DayLayout Of(string source, List<HeadRow> head, int at, List<HeadRow> body, int date, DaySlot[] slots, long step, string rest, int[] words)
    {
        var notes = ImmutableArray.CreateBuilder<string>();
        var usual = (int)(TimeSpan.TicksPerDay / step);
        notes.Add(string.Create(CultureInfo.InvariantCulture, $"The table has one row a day with {slots.Length} values; they are read one after the other, {TimeSpan.FromTicks(step).TotalMinutes:0.###} minutes each."));
        var others = Enumerable.Range(0, head[at].Cells.Length).Where(cell => cell != date && !words.Contains(cell) && !Array.Exists(slots, slot => slot.Cell == cell)
            && body.Exists(row => cell < row.Cells.Length && !row.Cells[cell].IsEmpty)).Select(cell => Quoted.Of(TextOf(head[at], cell))).ToList();
        if (others.Count > 0) notes.Add($"{(others.Count == 1 ? "Column" : "Columns")} {string.Join(", ", others.Take(20))} {(others.Count == 1 ? "stands" : "stand")} once a day and {(others.Count == 1 ? "is" : "are")} not read.");
        var value = ValueOf(source, head, at, body, rest, words, usual, notes);
        var dateText = TextOf(head[at], date);
        var dateHeading = LogHeading.Parse(dateText.Length > 0 ? dateText : "Date");
        LogHeading[] headings = [dateHeading, LogHeading.Parse("Time of the heading"), value, .. words.Select(cell => LogHeading.Parse(TextOf(head[at], cell) is { Length: > 0 } text ? text : $"column {cell + 1}"))];
        var table = new TableLayout(headings, new TimeColumns(TimeKind.Split, 0, 1, -1, 1), 0, [.. head.Take(at).Where(row => row.FilledCount > 0)], true, dateHeading.StatedOrder)
        {
            NamedCount = headings.Length, FirstDataLine = body[0].Line,
        };
        return new DayLayout(table, date, slots, words, at + 1, step, false) { Notes = notes.ToImmutable() };
    }

    // Times of day in the headings: evenly, all around the clock, with one hour twice at most.
    private static (DaySlot[]? Slots, long Step, string Beside) ByClock(HeadRow row)
    {
        var slots = new List<DaySlot>();
        string? rest = null;
        for (var cell = 0; cell < row.Cells.Length; cell++)
        {
            if (ClockOf(row.Cells[cell], out var beside) is not { } clock)
            {
                // What stands behind the day, as its total.
                if (slots.Count >= FewestSlots) break;
                slots.Clear();
                continue;
            }

            if (rest is null || slots.Count == 0) rest = beside;
            else if (rest != beside) rest = "";
            slots.Add(new DaySlot(cell, clock.Ticks, clock.IsRange ? "-" : "", false));
        }

        if (slots.Count < FewestSlots) return default;
        var step = slots[1].Ticks - slots[0].Ticks;
        if (step <= 0 || TimeSpan.TicksPerHour % step != 0 || slots[0].Ticks > step) return default;
        var repeats = 0;
        for (var index = 1; index < slots.Count; index++)
        {
            if (slots[index].Ticks == 0 && index == slots.Count - 1) slots[index] = slots[index] with { Ticks = TimeSpan.TicksPerDay };
            var move = slots[index].Ticks - slots[index - 1].Ticks;
            if (move == step) continue;
            if (move != step - TimeSpan.TicksPerHour || ++repeats > 1) return default;
        }

        var perHour = (int)(TimeSpan.TicksPerHour / step);
        if ((slots.Count - (repeats * perHour)) * step != TimeSpan.TicksPerDay) return default;
        var seen = new HashSet<long>();
        return ([.. slots.Select(slot => slot with { Time = Worded(slot.Ticks, slot.Time.Length > 0 ? step : 0), IsRepeated = !seen.Add(slot.Ticks) })], step, rest ?? "");
    }

    // Headings that count the intervals of a day from 1 or 0: as many as a day has, or an hour more.
    private static (DaySlot[]? Slots, long Step, string Beside) ByCount(HeadRow row)
    {
        for (var first = 0; first < row.Cells.Length; first++)
        {
            var match = Counted().Match(row.Cells[first].Text.Trim());
            if (!match.Success || !int.TryParse(match.Groups[2].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number > 1) continue;
            var count = 1;
            while (first + count < row.Cells.Length && Counted().Match(row.Cells[first + count].Text.Trim()) is { Success: true } next && next.Groups[1].Value == match.Groups[1].Value
                && int.TryParse(next.Groups[2].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var following) && following == number + count) count++;
            foreach (var usual in (ReadOnlySpan<int>)[24, 48, 96, 144, 288, 1440])
            {
                if (count != usual && count != usual + (usual / 24)) continue;
                var step = TimeSpan.TicksPerDay / usual;
                var unit = match.Groups[1].Value.Trim(' ', '_', '-', '.');
                // 'V1' is a first value rather than a voltage: a letter alone says no unit.
                return ([.. Enumerable.Range(0, count).Select(index => new DaySlot(first + index, index * step, "", index >= usual))], step, unit.Length > 1 && LogHeading.IsUnit(unit) ? unit : "");
            }
        }

        return default;
    }

    private static (long Ticks, bool IsRange)? ClockOf(HeadCell cell, out string beside)
    {
        beside = "";
        if (LayoutSearch.StampOf(cell.Kind, cell.Text, cell.Date) is { } plain) return plain is { HasDate: false, HasTime: true } ? (plain.TimeTicks, plain.IsRange) : null;
        if (Times.StampText.TryReadPlainClock(cell.Text, out var digits) && cell.Text.Length == 4) return (digits.TimeTicks, false);
        var match = ClockInText().Match(cell.Text);
        if (!match.Success || LayoutSearch.StampOf(CellKind.Text, match.Value, default) is not { HasDate: false, HasTime: true } found) return null;
        beside = (cell.Text[..match.Index] + " " + cell.Text[(match.Index + match.Length)..]).Trim(' ', '-', '_', ',', ';', ':');
        return (found.TimeTicks, found.IsRange);
    }

    private static string Worded(long ticks, long range)
    {
        static string Clock(long ticks) => string.Create(CultureInfo.InvariantCulture, $"{ticks / TimeSpan.TicksPerHour:00}:{ticks / TimeSpan.TicksPerMinute % 60:00}:{ticks / TimeSpan.TicksPerSecond % 60:00}");
        return range == 0 ? Clock(ticks) : $"{Clock(ticks)}-{Clock(ticks + range)}";
    }

    /// <summary>An interval of the day as a cell says it.</summary>
    /// <param name="ticks">Its start, time of day.</param>
    public string Worded(long ticks) => Worded(ticks, StepTicks);

    private static int DateOf(List<HeadRow> body, DaySlot[] slots)
    {
        var width = body.Max(row => row.Cells.Length);
        for (var cell = 0; cell < width; cell++)
        {
            if (Array.Exists(slots, slot => slot.Cell == cell)) continue;
            if (2 * body.Count(row => StampAt(row, cell) is { HasDate: true }) > body.Count) return cell;
        }

        return -1;
    }

    private static Times.StampParts? StampAt(HeadRow row, int cell) =>
        cell < row.Cells.Length ? LayoutSearch.StampOf(row.Cells[cell].Kind, row.Cells[cell].Text, row.Cells[cell].Date) : null;

    // A table of harmonics counts its columns too; its rows have times of day, or bear the same date.
    private static bool IsDaily(List<HeadRow> body, int date)
    {
        var dates = body.Select(row => StampAt(row, date)).OfType<Times.StampParts>().Where(stamp => stamp.HasDate).ToList();
        if (dates.Exists(stamp => stamp.TimeTicks != 0)) return false;
        var width = body.Max(row => row.Cells.Length);
        for (var cell = 0; cell < width; cell++)
        {
            if (cell != date && body.TrueForAll(row => StampAt(row, cell) is { HasDate: false, HasTime: true })) return false;
        }

        return dates.Count == dates.Distinct().Count();
    }

    private static int[] WordsOf(HeadRow heading, List<HeadRow> body, int date, DaySlot[] slots)
    {
        var width = Math.Max(heading.Cells.Length, body.Max(row => row.Cells.Length));
        return [.. Enumerable.Range(0, width).Where(cell => cell != date && !Array.Exists(slots, slot => slot.Cell == cell)
            && 2 * body.Count(row => cell < row.Cells.Length && row.Cells[cell] is { IsEmpty: false, Kind: CellKind.Text } text && !CellNumber.TryRead(text.Text, '\0', out _, out _, out _)) > body.Count)];
    }

    // Several meters or quantities under each other: which column tells them apart.
    private static string? Parted(HeadRow heading, List<HeadRow> body, int date, int[] words)
    {
        var days = body.Where(row => StampAt(row, date) is { HasDate: true }).GroupBy(row => StampAt(row, date)!.Value).Where(day => day.Count() > 1).ToList();
        if (4 * days.Sum(day => day.Count()) < body.Count) return null;
        foreach (var cell in words.Concat(Enumerable.Range(0, date)))
        {
            if (cell == date) continue;
            var texts = days[0].Select(row => TextOf(row, cell)).Distinct(StringComparer.Ordinal).ToList();
            if (texts.Count > 1) return $", told apart by their column {Quoted.Of(TextOf(heading, cell))} ({string.Join(", ", texts.Take(4).Select(Quoted.Of))})";
        }

        return "";
    }

    // What the values are: said beside the times, in a column of words, above the table, or by the file's name; else a person is asked.
    private static LogHeading ValueOf(string source, List<HeadRow> head, int at, List<HeadRow> body, string rest, int[] words, int usual, ImmutableArray<string>.Builder notes)
    {
        var suffix = string.Create(CultureInfo.InvariantCulture, $", {usual} a day");
        IEnumerable<string> said = words.Select(cell => body.Select(row => TextOf(row, cell)).Distinct(StringComparer.Ordinal).ToList()).Where(texts => texts.Count == 1).Select(texts => texts[0]);
        var above = head.Take(at).SelectMany(row => row.Cells).Select(cell => cell.Text.Trim()).Where(text => text.Length is > 1 and < 80);
        foreach (var text in said.Prepend(rest).Concat(words.Select(cell => TextOf(head[at], cell))).Concat(above))
        {
            if (text.Length < 2) continue;
            if (LogHeading.IsUnit(text)) return new LogHeading($"Values [{LogHeading.BareUnit(text)}]{suffix}", "Values", LogHeading.BareUnit(text));
            if (LogHeading.Parse(text) is { Unit.Length: > 1 } parsed && LogHeading.IsUnit(parsed.Unit)) return parsed with { Text = parsed.Text + suffix };
        }

        var units = Word().Matches(Path.GetFileNameWithoutExtension(source)).Select(match => match.Value).Where(word => word.Length > 1 && UnitText.Parse(word) is { IsKnown: true, Base: "W" or "Wh" or "var" or "varh" or "VA" or "VAh" }
            && !word.Equals("var", StringComparison.OrdinalIgnoreCase) && !word.Equals("va", StringComparison.OrdinalIgnoreCase)).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        if (units.Count == 1)
        {
            notes.Add($"The unit {units[0]} is taken from the file's name, since the table says none.");
            return new LogHeading($"Values [{units[0]}]{suffix}", "Values", units[0]);
        }

        return new LogHeading($"Values{suffix}", "", "") { IsMadeUp = true };
    }

    private static string TextOf(HeadRow row, int cell) => cell < row.Cells.Length ? row.Cells[cell].Text.Trim() : "";

    [GeneratedRegex(@"^(\D*?)0*(\d{1,4})$", RegexOptions.CultureInvariant)]
    private static partial Regex Counted();

    [GeneratedRegex(@"(?<!\d)\d{1,2}[:.]\d{2}(:\d{2})?(\s?[AaPp][Mm])?(\s?[-\u2013]\s?\d{1,2}[:.]\d{2}(:\d{2})?(\s?[AaPp][Mm])?)?(?!\d)", RegexOptions.CultureInvariant)]
    private static partial Regex ClockInText();

    [GeneratedRegex(@"\p{L}+", RegexOptions.CultureInvariant)]
    private static partial Regex Word();
}
