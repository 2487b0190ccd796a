using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Leadwright.Core.Logs;
using Leadwright.Formats;

namespace Leadwright.Documents.Words;

/// <summary>The words of documents in one language: templates with places for values, to be edited by whoever writes the reports.</summary>
/// <remarks>The sentences that the checks themselves speak (verdict, evidence, spans, corrections, findings) come from the Reports project and are English.</remarks>
public sealed partial class ReportWords
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.words/1";

    private readonly ImmutableSortedDictionary<string, string> _words;

    private ReportWords(ImmutableSortedDictionary<string, string> words)
    {
        _words = words;
        Days = [.. Of("days").Split(' ')];
        Months = [.. Of("months").Split(' ')];
        DecimalMark = Of("decimal-mark");
        Language = Of("language");
    }

    /// <summary>The shipped words, English.</summary>
    public static ReportWords English { get; } = new(Parse(new InputFile("english.json", Shipped())));

    /// <summary>The language, such as <c>en</c>.</summary>
    public string Language { get; }

    /// <summary>Short names of the days, Sunday first.</summary>
    public ImmutableArray<string> Days { get; }

    /// <summary>Short names of the months.</summary>
    public ImmutableArray<string> Months { get; }

    /// <summary>The decimal mark of numbers.</summary>
    public string DecimalMark { get; }

    /// <summary>The shipped file, to start one of your own from.</summary>
    public static byte[] Shipped()
    {
        using var stream = typeof(ReportWords).Assembly.GetManifestResourceStream("Words.english")
            ?? throw new InvalidOperationException("This is a bug in Leadwright: the words are not in the program.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    /// <summary>The shipped words with those of a file in their place.</summary>
    /// <param name="file">The file; it needs only the words that differ.</param>
    /// <exception cref="FormatReadException">It is no file of words, names a word that there is none of, or has a place for a value that the word does not have.</exception>
    public static ReportWords Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var words = English._words;
        foreach (var (key, text) in Parse(file))
        {
            if (!words.TryGetValue(key, out var shipped))
                throw new FormatReadException(file.Name, "a word of the shipped file", $"'{key}', which it does not have", "Print the shipped file with 'leadwright report --show-words'.", field: key);
            foreach (var place in PlacesOf(text).Except(PlacesOf(shipped), StringComparer.Ordinal))
                throw new FormatReadException(file.Name, $"only the places of \"{shipped}\"", $"{{{place}}}", field: key);
            words = words.SetItem(key, text);
        }

        var read = new ReportWords(words);
        if (read.Days.Length != 7 || read.Months.Length != 12)
            throw new FormatReadException(file.Name, "seven words in 'days' and twelve in 'months', with spaces between", $"{read.Days.Length} and {read.Months.Length}", field: "days");
        return read;
    }

    /// <summary>A word.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="values">What stands in its places: name and value.</param>
    public string Of(string key, params ReadOnlySpan<(string Name, string Value)> values)
    {
        if (!_words.TryGetValue(key, out var text)) throw new InvalidOperationException($"This is a bug in Leadwright: there is no word '{key}'.");
        foreach (var (name, value) in values) text = text.Replace($"{{{name}}}", value, StringComparison.Ordinal);
        return Kept(text);
    }

    // A number and its unit stay on one line.
    private static string Kept(string text) => UnitAfterNumber().Replace(text, "\u00a0");

    [GeneratedRegex(@"(?<=[0-9]) (?=(%|kWh|kW|kvarh|kvar|A|V|Hz|ms|s|min|h|d|×)(?![A-Za-z]))")]
    private static partial Regex UnitAfterNumber();

    /// <summary>A number in a .NET format, with the decimal mark and a true minus.</summary>
    public string Number(double value, string format) =>
        double.IsFinite(value) ? WithoutMinusZero(value.ToString(format, CultureInfo.InvariantCulture)).Replace(".", DecimalMark, StringComparison.Ordinal).Replace('-', '−') : "–";

    private static string WithoutMinusZero(string text) => text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? text.TrimStart('-') : text;

    /// <summary>A number with so many significant digits; thousands apart from ten thousand on; a dash for none.</summary>
    public string Digits(double value, int digits)
    {
        if (!double.IsFinite(value)) return "–";
        if (value == 0) return "0";
        var before = (int)Math.Floor(Math.Log10(Math.Abs(value)) + 1e-12) + 1;
        var decimals = Math.Clamp(digits - before, 0, 6);
        var rounded = before > digits ? Math.Round(value / Math.Pow(10, before - digits)) * Math.Pow(10, before - digits) : decimals == 0 ? Math.Round(value) : value;
        var text = Number(rounded, decimals == 0 ? "0" : "0." + new string('0', decimals));
        if (decimals > 0 || Math.Abs(rounded) < 10000) return text;
        for (var at = text.Length - 3; at > (text[0] == '−' ? 1 : 0); at -= 3) text = text.Insert(at, "\u00a0");
        return text;
    }

    /// <summary>A day as <c>Mon 2 Mar</c>.</summary>
    public string Day(DateTime time) => !RecordTime.IsDated(time) ? RecordTime.Text(time, "") : $"{Days[(int)time.DayOfWeek]} {Date(time)}";

    /// <summary>A date as <c>2 Mar</c>.</summary>
    public string Date(DateTime time) => !RecordTime.IsDated(time) ? RecordTime.Text(time, "") : $"{time.Day.ToString(CultureInfo.InvariantCulture)} {Months[time.Month - 1]}";

    /// <summary>A time as <c>Mon 2 Mar 2026 14:02</c>.</summary>
    public string Time(DateTime time) =>
        !RecordTime.IsDated(time) ? RecordTime.Text(time, "") : $"{Day(time)} {time.Year.ToString(CultureInfo.InvariantCulture)} {time.ToString(time.Second == 0 && time.Millisecond == 0 ? "HH:mm" : "HH:mm:ss", CultureInfo.InvariantCulture)}";

    /// <summary>A time as <c>2026-03-02 14:02</c>, for tables.</summary>
    public static string Stamp(DateTime time) =>
        RecordTime.Text(time, time.Ticks % TimeSpan.TicksPerMinute == 0 ? "yyyy-MM-dd HH:mm" : time.Ticks % TimeSpan.TicksPerSecond == 0 ? "yyyy-MM-dd HH:mm:ss" : "yyyy-MM-dd HH:mm:ss.fff");

    /// <summary>A length of time with its unit.</summary>
    public string Length(double seconds) => Kept(seconds switch
    {
        < 1 => $"{Digits(seconds, 2)} s",
        < 60 => $"{Number(seconds, "0.#")} s",
        < 7200 => $"{Number(seconds / 60, "0.#")} min",
        < 48 * 3600 => $"{Number(seconds / 3600, "0.#")} h",
        _ => $"{Number(seconds / 86400, "0.#")} d",
    });

    private static ImmutableSortedDictionary<string, string> Parse(InputFile file)
    {
        var words = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        try
        {
            using var document = JsonDocument.Parse(file.Bytes, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            foreach (var property in document.RootElement.EnumerateObject())
            {
                if (property.Name == "schema")
                {
                    if (property.Value.GetString() != Schema) throw Refused(file, "schema", property.Value.GetRawText());
                    continue;
                }

                words[property.Name] = property.Value.ValueKind == JsonValueKind.String ? property.Value.GetString()! : throw Refused(file, property.Name, property.Value.GetRawText());
            }
        }
        catch (Exception failure) when (failure is JsonException or InvalidOperationException)
        {
            throw new FormatReadException(file.Name, "a JSON object of words: { \"key\": \"words\", … }", failure.Message, innerException: failure);
        }

        return words.ToImmutable();
    }

    private static FormatReadException Refused(InputFile file, string field, string found) =>
        new(file.Name, field == "schema" ? $"\"{Schema}\"" : "a text in quotes", found, field: field);

    private static IEnumerable<string> PlacesOf(string text)
    {
        for (var at = text.IndexOf('{', StringComparison.Ordinal); at >= 0; at = text.IndexOf('{', at + 1))
        {
            var end = text.IndexOf('}', at);
            if (end > at) yield return text[(at + 1)..end];
        }
    }
}
