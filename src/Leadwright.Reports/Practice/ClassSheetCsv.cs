using System.Globalization;
using System.Text;
using Leadwright.Core.Practice;

namespace Leadwright.Reports.Practice;

/// <summary>Writes a class sheet as a table for any spreadsheet: RFC 4180, decimal points, lines ended by LF.</summary>
public static class ClassSheetCsv
{
    /// <summary>One row for each trainee and exercise.</summary>
    /// <param name="sheet">The sheet.</param>
    public static string Of(ClassSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var text = new StringBuilder("trainee,form,level,exercise,right,confidence,brier,further_readings,points\n");
        foreach (var entry in sheet.Entries)
        {
            text.Append(CultureInfo.InvariantCulture, $"{Cell(entry.Trainee)},{ExerciseKey.WordOf(entry.Exercise.Form)},{entry.Exercise.Level},{ExerciseSeal.Close(entry.Exercise)},")
                .Append(CultureInfo.InvariantCulture, $"{(entry.IsRight ? "yes" : "no")},{entry.Confidence:0.####},{entry.Brier:0.######},{entry.Steps},{entry.Points:0.##}\n");
        }

        return text.ToString();
    }

    // A name that begins like a formula would be worked out by a spreadsheet.
    private static string Cell(string text)
    {
        var safe = text.Length > 0 && text[0] is ('=' or '+' or '-' or '@') ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\n\r") < 0 ? safe : $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
