using System.Globalization;
using Leadwright.Formats.Logs.Layout;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs.Times;

/// <summary>The first pass over a table: the time of every row, and what its numbers say of the decimal mark.</summary>
internal sealed class StampScan
{
    private const int EnoughVotes = 2000;
    private const int EnoughRows = 10;
    private const double MostShort = 0.02;
    private const int FewShort = 2;

    private readonly int[] _votes = new int[5];
    private readonly Dictionary<long, int> _lengths = [];
    private readonly Dictionary<int, int> _widths = [];

    /// <summary>The stamps of the rows, for times that are dates.</summary>
    public List<StampParts> Stamps { get; } = [];

    /// <summary>The times of the rows, for times that are numbers.</summary>
    public List<double> Numbers { get; } = [];

    /// <summary>The line of each row.</summary>
    public List<int> Lines { get; } = [];

    /// <summary>For each row from the first of values on: true when it has a time.</summary>
    public List<bool> IsTaken { get; } = [];

    /// <summary>True when each row names the stretch from its start to its end.</summary>
    public bool IsRange { get; private set; }

    /// <summary>The length of an interval by its start and end, seconds; null when rows don't state both.</summary>
    public double? StatedIntervalSeconds { get; private set; }

    /// <summary>How many cells every row has but for one in fifty at most; 0 where rows differ, as those whose empty cells at the end were left away.</summary>
    public int SettledWidth
    {
        get
        {
            if (Lines.Count < EnoughRows || _widths.Count == 0) return 0;
            var usual = _widths.MaxBy(pair => pair.Value);
            return Lines.Count - usual.Value <= Math.Max(FewShort, MostShort * Lines.Count) ? usual.Key : 0;
        }
    }

    /// <summary>Reads all rows.</summary>
    public static StampScan Of(TableRows rows, TableLayout layout, IProgress<double>? progress, List<ReadWarning> warnings, (int Rows, Func<FormatReadException> Refusal)? most, CancellationToken cancellation)
    {
        var scan = new StampScan();
        var unread = new List<(int Line, string Text)>();
        var unreadCount = 0;
        for (var row = 0; row < layout.FirstDataRow; row++) rows.Read();
        while (rows.Read())
        {
            if ((scan.IsTaken.Count & 0xFFF) == 0)
            {
                cancellation.ThrowIfCancellationRequested();
                if (most is { } bound && scan.Lines.Count > bound.Rows) throw bound.Refusal();
                progress?.Report(0.4 * rows.Progress);
            }

            var isTaken = scan.TakeTime(rows, layout.Time);
            scan.IsTaken.Add(isTaken);
            if (isTaken)
            {
                scan.Lines.Add(rows.Line);
                if (rows.IsHeldBySeparators) scan._widths[rows.Count] = scan._widths.GetValueOrDefault(rows.Count) + 1;
                scan.Vote(rows, layout);
            }
            else if (!IsBlank(rows))
            {
                unreadCount++;
                if (unread.Count < 3) unread.Add((rows.Line, Excerpt(rows)));
            }
        }

        if (unreadCount > 0)
        {
            var examples = string.Join(", ", unread.Select(row => string.Create(CultureInfo.InvariantCulture, $"line {row.Line} {Quoted.Of(row.Text)}")));
            warnings.Add(new ReadWarning(
                $"{(unreadCount == 1 ? "1 row has" : $"{unreadCount} rows have")} no time that can be read and {(unreadCount == 1 ? "is" : "are")} left out: {examples}.", unread[0].Line));
        }

        if (scan._lengths.Count > 0)
        {
            var usual = scan._lengths.MaxBy(pair => pair.Value);
            if (usual.Key > 0 && usual.Value > 0.5 * scan.Lines.Count) scan.StatedIntervalSeconds = (double)usual.Key / TimeSpan.TicksPerSecond;
        }

        return scan;
    }

    /// <summary>The decimal mark by all numbers.</summary>
    /// <param name="separator">The separator; null for tables that have none.</param>
    /// <param name="warnings">Receives what had to be assumed.</param>
    public char DecimalMark(char? separator, List<ReadWarning> warnings)
    {
        int points = _votes[(int)MarkUse.Point], commas = _votes[(int)MarkUse.Comma];
        if (points > 0 && commas > 0)
        {
            var mark = points >= commas ? '.' : ',';
            warnings.Add(new ReadWarning($"Some numbers have a decimal point and some a decimal comma; the {(mark == '.' ? "point" : "comma")} is taken, as in most."));
            return mark;
        }

        if (points + commas > 0) return points > 0 ? '.' : ',';
        int openPoints = _votes[(int)MarkUse.PointOrGroups], openCommas = _votes[(int)MarkUse.CommaOrGroups];
        if (openPoints + openCommas == 0) return '.';
        // Nothing but numbers such as 1,234: within a table separated by commas they were quoted for their thousands.
        var isDecimal = openPoints > 0 || separator is not ',';
        var own = openPoints > 0 ? "point" : "comma";
        warnings.Add(new ReadWarning(
            $"Every {own} in a number has three digits after it: it is taken for {(isDecimal ? "a decimal mark" : "a mark of thousands")}. State the decimal mark if it is not."));
        return openPoints > 0 || !isDecimal ? '.' : ',';
    }

    private bool TakeTime(TableRows rows, TimeColumns time)
    {
        if (time.Kind is not (TimeKind.Stamp or TimeKind.Split))
        {
            var number = rows.NumberOf(time.Column);
            if (double.IsNaN(number) && !(rows.KindOf(time.Column) == CellKind.Text && CellNumber.TryRead(rows.TextOf(time.Column), '\0', out number, out _, out _))) return false;
            Numbers.Add(number);
            return true;
        }

        if (StampAt(rows, time.Column) is not { HasDate: true } stamp) return false;
        if (time.Kind == TimeKind.Split)
        {
            if ((time.IsPlainClock ? PlainClockAt(rows, time.TimeOfDay) : StampAt(rows, time.TimeOfDay)) is not { HasTime: true } clock) return false;
            stamp = stamp.With(clock);
        }

        if (stamp.IsRange) IsRange = true;
        if (time.End >= 0 && StampAt(rows, time.End) is { } end)
        {
            var length = (end.TimeTicks - stamp.TimeTicks + TimeSpan.TicksPerDay) % TimeSpan.TicksPerDay;
            if (_lengths.Count < 1000 || _lengths.ContainsKey(length)) _lengths[length] = _lengths.GetValueOrDefault(length) + 1;
        }

        Stamps.Add(stamp);
        return true;
    }

    private static StampParts? StampAt(TableRows rows, int column) =>
        column < rows.Count ? LayoutSearch.StampOf(rows.KindOf(column), rows.TextOf(column), rows.DateOf(column)) : null;

    private static StampParts? PlainClockAt(TableRows rows, int column) =>
        column < rows.Count && StampText.TryReadPlainClock(rows.TextOf(column), out var parts) ? parts : null;

    private void Vote(TableRows rows, TableLayout layout)
    {
        if (_votes[(int)MarkUse.Point] + _votes[(int)MarkUse.Comma] >= EnoughVotes) return;
        for (var cell = 0; cell < rows.Count; cell++)
        {
            if (rows.KindOf(cell) != CellKind.Text || layout.Time.Holds(cell)) continue;
            if (CellNumber.TryRead(rows.TextOf(cell), '\0', out _, out var use, out _)) _votes[(int)use]++;
        }
    }

    private static bool IsBlank(TableRows rows)
    {
        for (var cell = 0; cell < rows.Count; cell++)
        {
            if (rows.KindOf(cell) != CellKind.Empty) return false;
        }

        return true;
    }

    private static string Excerpt(TableRows rows)
    {
        var parts = new List<string>();
        for (var cell = 0; cell < Math.Min(rows.Count, 6); cell++) parts.Add(rows.TextOf(cell).ToString());
        return string.Join(" ", parts).Trim();
    }
}
