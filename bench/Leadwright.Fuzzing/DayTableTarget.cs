using System.Globalization;
using System.Text;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.Fuzzing;

/// <summary>Tables of one row a day.</summary>
/// <remarks>The check of silent wrong readings: one number of one cell is changed, or one cell emptied; times and every other value must be what they were.</remarks>
internal sealed class DayTableTarget : FuzzTarget
{
    private const int Days = 3, PerDay = 24;
    private static readonly byte[][] s_seeds = Seeds();
    private readonly FormatTarget _format = new("csv-days", s_seeds, Grammar.Text, input => LogTarget.RequireSound(LogReader.Read(new InputFile("f.csv", input))));

    public override string Name => "csv-days";

    public override byte[] Make(Random chance) => _format.Make(chance);

    public override bool Read(byte[] input) => _format.Read(input);

    public override byte[] ReadChanged(Random chance)
    {
        var (changed, value) = (chance.Next(Days * PerDay), Math.Round(1 + (40 * chance.NextDouble()), 2));
        // An empty hour of the night counts as the one that clocks leave out.
        var isEmptied = changed % PerDay > 6 && chance.Next(4) == 0;
        var input = Table(";", row => row == changed ? isEmptied ? "" : value.ToString(CultureInfo.InvariantCulture) : Number(row), Enumerable.Range(0, PerDay).Select(hour => $"{hour:00}:00"), "Energy (kWh)");
        var log = LogReader.Read(new InputFile("f.csv", input)).Log;
        if (log.Count != Days * PerDay) throw new FuzzFailureException($"a value made {log.Count} rows of {Days * PerDay}") { Input = input };
        for (var row = 0; row < log.Count; row++)
        {
            var wanted = row == changed ? isEmptied ? double.NaN : 1000 * value : 1000 * Value(row);
            var read = log.Values(0)[row];
            if (log.Starts.Span[row] != new DateTime(2026, 3, 2).AddHours(row).Ticks || !(Math.Abs(read - wanted) <= 1e-9 * Math.Abs(wanted) || (double.IsNaN(read) && double.IsNaN(wanted))))
                throw new FuzzFailureException($"a value of row {changed} made row {row} {read}") { Input = input };
        }

        return input;
    }

    private static double Value(int row) => 1 + (row % 11 * 0.25) + (row % 7);

    private static string Number(int row) => Value(row).ToString(CultureInfo.InvariantCulture);

    private static byte[] Table(string mark, Func<int, string> value, IEnumerable<string> heads, string title) => Encoding.UTF8.GetBytes(
        $"{title}\n\nDate{mark}{string.Join(mark, heads)}\n" + string.Concat(Enumerable.Range(0, Days).Select(day =>
            string.Create(CultureInfo.InvariantCulture, $"2026-03-{day + 2:00}{mark}{string.Join(mark, Enumerable.Range(0, PerDay).Select(hour => value((day * PerDay) + hour)))}\n"))));

    private static byte[][] Seeds()
    {
        var clocks = Table(";", Number, Enumerable.Range(1, PerDay).Select(hour => $"{hour:00}:00"), "Load of the invented board, kW");
        var counted = Table(",", Number, Enumerable.Range(1, PerDay).Select(hour => $"H{hour:00}"), "Energy (kWh)");
        var more = Encoding.UTF8.GetBytes("Datum;Einheit;" + string.Join(';', Enumerable.Range(1, 25)) + "\n" + string.Concat(
            ((string[])["24.10.2026", "25.10.2026", "26.10.2026"]).Select((day, at) => $"{day};kWh;{string.Join(';', Enumerable.Range(0, 24 + (at == 1 ? 1 : 0)).Select(hour => $"{hour + at},5"))}{(at == 1 ? "" : ";")}\n")));
        // Words of the trade in GB 18030.
        byte[] pages = [.. Convert.FromBase64String("yrG85DtMMbXn0bkoVik7TDG158H3KEEp"), .. Encoding.ASCII.GetBytes("\n" + string.Concat(Enumerable.Range(0, 20).Select(row => $"2026-03-02 {row:00}:00;23{row % 10};4{row % 7}\n")))];
        return [clocks, counted, more, pages];
    }
}
