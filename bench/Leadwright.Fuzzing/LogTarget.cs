using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.Fuzzing;

/// <summary>Logs in tables of text.</summary>
/// <remarks>The checks of silent wrong readings: one number in one cell of a column of values is changed, and times and every other value must be what they were; or one mark too many
/// or too few stands in one row, whose values must then be what they were or missing, and every other row as it was.</remarks>
internal sealed class LogTarget(string name, byte[][] seeds) : FuzzTarget
{
    private readonly FormatTarget _format = new(name, seeds, Grammar.Text, input => RequireSound(LogReader.Read(new InputFile("f.csv", input))));
    private readonly IntervalLog _log = SeedFiles.Log();

    public override string Name => name;

    public override byte[] Make(Random chance) => _format.Make(chance);

    public override bool Read(byte[] input) => _format.Read(input);

    public override byte[] ReadChanged(Random chance) => chance.Next(2) == 0 ? ReadStray(chance) : ReadOther(chance);

    private byte[] ReadStray(Random chance)
    {
        var lines = Encoding.UTF8.GetString(seeds[^1]).TrimEnd('\n').Split('\n');
        var row = chance.Next(_log.Count);
        var line = lines[row + 1];
        var commas = Enumerable.Range(0, line.Length).Where(at => line[at] == ',').ToList();
        // Behind the times: what is done to a time is a time of another kind.
        var comma = commas[chance.Next(2, commas.Count)];
        lines[row + 1] = chance.Next(5) switch
        {
            0 => line.Remove(comma, 1),
            1 => line.Insert(comma, ","),
            2 => line.Insert(comma + 1, "\""),
            3 => line.Insert(comma + 1, chance.Next(2) == 0 ? "7," : "x,"),
            _ => line[..comma],
        };
        var input = Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n");
        var read = LogReader.Read(new InputFile("f.csv", input)).Log;
        for (var column = 0; column < _log.Columns.Length; column++)
        {
            var at = read.IndexOf(_log.Columns[column].Quantity, _log.Columns[column].Place);
            if (at < 0) throw new FuzzFailureException($"a mark in row {row} made column {column} another") { Input = input };
            for (var other = 0; other < _log.Count; other++)
            {
                var there = read.Starts.Span.IndexOf(_log.Starts.Span[other]);
                var value = there < 0 ? double.NaN : read.Values(at)[there];
                if (!value.Equals(_log.Values(column)[other]) && !(other == row && double.IsNaN(value)))
                    throw new FuzzFailureException($"a mark in row {row} made column {column} row {other} {value}") { Input = input };
            }
        }

        return input;
    }

    private byte[] ReadOther(Random chance)
    {
        var lines = Encoding.UTF8.GetString(seeds[^1]).TrimEnd('\n').Split('\n');
        var (row, column) = (chance.Next(_log.Count), chance.Next(_log.Columns.Length));
        var was = _log.Values(column)[row];
        var value = Math.Round(was * (0.5 + chance.NextDouble()), 3);
        var cells = lines[row + 1].Split(',');
        cells[column + 2] = value.ToString(CultureInfo.InvariantCulture);
        lines[row + 1] = string.Join(',', cells);
        var input = Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n");
        var read = LogReader.Read(new InputFile("f.csv", input)).Log;
        if (!read.Starts.Span.SequenceEqual(_log.Starts.Span)) throw new FuzzFailureException("a value changed the times") { Input = input };
        for (var other = 0; other < _log.Columns.Length; other++)
        {
            var at = read.IndexOf(_log.Columns[other].Quantity, _log.Columns[other].Place);
            if (at < 0) throw new FuzzFailureException($"a value of column {column} made column {other} another") { Input = input };
            for (var other2 = 0; other2 < _log.Count; other2++)
            {
                var wanted = (other, other2) == (column, row) ? value : _log.Values(other)[other2];
                if (!read.Values(at)[other2].Equals(wanted)) throw new FuzzFailureException($"a value of column {column} row {row} made column {other} row {other2} {read.Values(at)[other2]}") { Input = input };
            }
        }

        return input;
    }

    internal static void RequireSound(LogFile file)
    {
        if (!(file.Log.IntervalSeconds > 0)) throw new FuzzFailureException("an interval of nothing");
        for (var row = 1; row < file.Log.Count; row++)
        {
            if (file.Log.Starts.Span[row] <= file.Log.Starts.Span[row - 1]) throw new FuzzFailureException("times that do not rise");
        }

        foreach (var step in file.Log.ClockSteps)
        {
            if (step.Row <= 0 || step.Row >= file.Log.Count || step.Ticks == 0) throw new FuzzFailureException("a step of the clock at no row");
        }
    }
}
