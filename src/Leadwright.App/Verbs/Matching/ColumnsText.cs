using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Reports.Guarding;

namespace Leadwright.App.Verbs.Matching;

/// <summary>How a log was read, in words and as a line of JSON.</summary>
internal static class ColumnsText
{
    private const int WidestHeading = 36;
    private const int WidestWords = 44;
    private const string Time = "yyyy-MM-dd HH:mm:ss";

    public static void Write(TextWriter output, string path, LogFile file, bool isDecided)
    {
        var log = file.Log;
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{path}: {log.Count} rows of {log.IntervalSeconds:0.###} s, {RecordTime.Text(log.From, Time)} to {RecordTime.Text(log.To, Time)}"));
        output.WriteLine($"  {How(file)}.");
        var heading = Math.Min(WidestHeading, file.Columns.Max(column => column.Heading.Length));
        var words = Math.Min(WidestWords, file.Columns.Max(column => WordsOf(column).Length));
        foreach (var column in file.Columns)
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{column.Index + 1,4}  {column.Heading.PadRight(heading)}  {WordsOf(column).PadRight(words)}  {(column.Role == ColumnRole.Value ? $"{column.Confidence:P0}" : ""),5}  {column.Why}").TrimEnd());
        }

        if (!file.Warnings.IsEmpty)
        {
            output.WriteLine("What was assumed, or not understood:");
            foreach (var warning in file.Warnings) output.WriteLine($"  {(warning.Line is { } line ? string.Create(CultureInfo.InvariantCulture, $"line {line}: ") : "")}{warning.Says}");
        }

        foreach (var finding in file.Clock.Take(10)) output.WriteLine($"  clock: {ClockWording.Of(finding)}");
        if (!file.Questions.IsEmpty)
        {
            output.WriteLine("Only you can know:");
            foreach (var question in file.Questions) output.WriteLine($"  {question}{AskedQuestions.AnswerOf(question)}");
        }

        if (!isDecided) output.WriteLine("Correct a column with --set \"HEADING=WORDS\", in the words of the third column here; --keep remembers all of it for tables with these headings.");
    }

    public static string JsonLine(string path, LogFile file)
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", "leadwright.columns-read/1");
            writer.WriteString("file", path);
            writer.WriteNumber("rows", file.Log.Count);
            writer.WriteNumber("interval_seconds", file.Log.IntervalSeconds);
            writer.WriteString("from", RecordTime.Iso(file.Log.From, "s"));
            writer.WriteString("to", RecordTime.Iso(file.Log.To, "s"));
            writer.WriteString("stamps", file.Stamps == StampPlace.End ? "end" : "start");
            writer.WriteBoolean("confirmed", file.IsConfirmed);
            writer.WriteStartArray("columns");
            foreach (var column in file.Columns)
            {
                writer.WriteStartObject();
                writer.WriteNumber("column", column.Index + 1);
                writer.WriteString("heading", column.Heading);
                writer.WriteString("words", WordsOf(column));
                if (column.Role == ColumnRole.Value) writer.WriteNumber("confidence", Math.Round(column.Confidence, 4));
                writer.WriteString("why", column.Why);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            Texts(writer, "warnings", file.Warnings.Select(warning => warning.Says));
            Texts(writer, "clock", file.Clock.Select(ClockWording.Of));
            Texts(writer, "questions", file.Questions);
            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.ToArray()) + "\n";
    }

    /// <summary>How the table was read, in a line without its full stop.</summary>
    public static string How(LogFile file) => string.Join("; ", HowOf(file));

    private static IEnumerable<string> HowOf(LogFile file)
    {
        if (file.Separator is { } separator)
        {
            yield return $"cells parted by {separator switch { '\t' => "tabs", ';' => "semicolons", ',' => "commas", '|' => "bars", _ => "blanks" }}";
            yield return $"decimal {(file.DecimalMark == ',' ? "comma" : "point")}";
        }

        if (file.DateOrder is { } order) yield return $"dates as {order switch { DateOrder.DayMonthYear => "day, month, year", DateOrder.MonthDayYear => "month, day, year", _ => "year, month, day" }}";
        yield return $"rows stamped at the {(file.Stamps == StampPlace.End ? "end" : "start")} of their interval";
        if (file.IsConfirmed) yield return "columns as a person confirmed them";
    }

    private static string WordsOf(ColumnProposal column) => column.Role switch
    {
        ColumnRole.Time => "time",
        ColumnRole.Standing => "standing",
        _ => ColumnStatementText.Of(column),
    };

    private static void Texts(Utf8JsonWriter writer, string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (var text in texts) writer.WriteStringValue(text);
        writer.WriteEndArray();
    }
}
