using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Logs;

public sealed class LogPiecesTests
{
    private const int Rows = 3000;
    private static readonly DateTime s_start = new(2026, 3, 2, 8, 0, 0);

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    public void Pieces_hold_what_the_whole_holds(string end)
    {
        var text = Table(end);
        var whole = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        var pieces = Open(text, 7000);
        Assert.InRange(pieces.EstimatedRows, 0.97 * Rows, 1.03 * Rows);
        var read = pieces.Read(null, TestContext.Current.CancellationToken).ToList();
        Assert.InRange(read.Count, 15, 30);
        Assert.Equal(whole.Log.Starts.ToArray(), read.SelectMany(piece => piece.Log.Starts.ToArray()));
        Assert.All(read, piece => Assert.Equal(whole.Log.Columns, piece.Log.Columns));
        for (var column = 0; column < whole.Log.Columns.Length; column++)
            Assert.Equal(whole.Log.Values(column).ToArray(), read.SelectMany(piece => piece.Log.Values(column).ToArray()));
        Assert.All(read, piece => Assert.False(piece.IsConfirmed && piece.Warnings.Any(warning => warning.Says.Contains("confirmed", StringComparison.Ordinal))));
    }

    [Fact]
    public void A_column_that_a_piece_lacks_is_missing_there_and_goes_on_after_it()
    {
        // I1 holds nothing from row 1000 to 2000, which is several pieces.
        var text = Table("\n", (row, cells) => row is >= 1000 and < 2000 ? [cells[0], cells[1], ""] : cells);
        var read = Open(text, 7000).Read(null, TestContext.Current.CancellationToken).ToList();
        var amperes = read.SelectMany(piece => piece.Log.Values(1).ToArray()).ToList();
        Assert.Equal(Rows, amperes.Count);
        Assert.All(Enumerable.Range(0, Rows), row => Assert.Equal(row is >= 1000 and < 2000, double.IsNaN(amperes[row])));
    }

    [Fact]
    public void Lines_and_rows_of_what_was_met_count_from_the_start_of_the_table()
    {
        // A word where a number belongs in row 2500, which stands on line 2,502; 60 s missing before row 2000.
        var text = Table("\n", (row, cells) => row == 2500 ? [cells[0], "broken", cells[2]] : cells, row => row >= 2000 ? 60 : 0);
        var whole = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        var read = Open(text, 7000).Read(null, TestContext.Current.CancellationToken).ToList();
        var wanted = Assert.Single(whole.Warnings, warning => warning.Line is not null);
        Assert.Contains(wanted.Line, read.SelectMany(piece => piece.Warnings).Select(warning => warning.Line));
        var gap = Assert.Single(whole.Clock, finding => finding.Kind == ClockFindingKind.Gap);
        Assert.Contains(gap.Row, read.SelectMany(piece => piece.Clock).Where(finding => finding.Kind == ClockFindingKind.Gap).Select(finding => finding.Row));
    }

    [Fact]
    public void A_recorder_that_was_set_to_another_interval_is_told_with_its_line()
    {
        var text = Table("\n", null, row => row >= 1500 ? 9 * (row - 1500) : 0);
        var refusal = Assert.Throws<FormatReadException>(() => Open(text, 7000).Read(null, TestContext.Current.CancellationToken).Count());
        Assert.Contains("an interval of 1 s throughout", refusal.Message, StringComparison.Ordinal);
        Assert.InRange(refusal.Line ?? 0, 1200, 1800);
    }

    [Fact]
    public void Tables_whose_lines_do_not_end_in_a_byte_are_left_to_be_read_whole()
    {
        Assert.Null(LogPieces.Open("wide.csv", new MemoryStream(Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Table("\n"))).ToArray()), new(), 7000, TestContext.Current.CancellationToken));
        Assert.Null(LogPieces.Open("old.csv", new MemoryStream(Encoding.UTF8.GetBytes(Table("\r"))), new(), 7000, TestContext.Current.CancellationToken));
    }

    private static LogPieces Open(string text, int pieceBytes) =>
        LogPieces.Open("log.csv", new MemoryStream(Encoding.UTF8.GetBytes(text)), new(), pieceBytes, TestContext.Current.CancellationToken)!;

    private static string Table(string end, Func<int, string[], string[]>? change = null, Func<int, int>? later = null)
    {
        var text = new StringBuilder("time,V1 (V),I1 (A)" + end);
        for (var row = 0; row < Rows; row++)
        {
            string[] cells =
            [
                s_start.AddSeconds(row + (later?.Invoke(row) ?? 0)).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
                (230 + Math.Sin(row * 0.37)).ToString("0.00", CultureInfo.InvariantCulture), (20 + (3 * Math.Sin(row * 0.011))).ToString("0.000", CultureInfo.InvariantCulture),
            ];
            text.Append(string.Join(',', change?.Invoke(row, cells) ?? cells)).Append(end);
        }

        return text.ToString();
    }
}
