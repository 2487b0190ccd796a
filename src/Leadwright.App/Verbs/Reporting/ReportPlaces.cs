using System.Collections.Immutable;
using System.Globalization;
using Leadwright.App.Verbs.Studying;
using Leadwright.Core.Circuits;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>A place of the report that a person fills.</summary>
/// <param name="Key">Its word in the journal and on the command line.</param>
/// <param name="Title">What it is.</param>
/// <param name="Hint">How it is filled; empty where the title says it.</param>
/// <param name="LineCount">Lines that are usual: 1 for a single one.</param>
internal sealed record ReportPlace(string Key, string Title, string Hint, int LineCount);

/// <summary>The places of the report that a person fills; a survey keeps their words in its journal.</summary>
internal static class ReportPlaces
{
    /// <summary>The parts that are wanted, by commas; all without it.</summary>
    public const string Parts = "parts";

    /// <summary>The paper of a PDF.</summary>
    public const string Paper = "paper";

    /// <summary>What stands before the name of a part in the place of its note.</summary>
    public const string NotePrefix = "note.";

    private const int MostLetters = 8000;
    private const int MostPercent = 50;
    private static readonly string[] s_papers = ["a4", "letter"];

    /// <summary>All but the notes, in the order in which they are filled.</summary>
    public static ImmutableArray<ReportPlace> All { get; } =
    [
        new("customer", "Customer", "Name and address, a line each", 3),
        new("site", "Site", "", 1),
        new("panel", "Panel or place in it", "", 1),
        new("purpose", "What the survey was for", "", 3),
        new("questions", "What the customer asked", "One question a line; what follows the question mark is your answer", 4),
        new("firm", "Your firm", "", 1),
        new("firm-lines", "Its address and the like", "A line each", 3),
        new("author", "Written by", "", 1),
        new("number", "Number of the report", "", 1),
        new("date", "Date of the report", "As 2026-03-16; the end of the data without it", 1),
        new("instruments", "Recorder, clamps and their calibration", "A line each, as Recorder: make, number, calibrated on", 3),
        new("accuracy", "Accuracy of recorder and clamps together, percent", "Added to the interval of the energy; left out without it", 1),
        new("colours", "The site's conductor colours", $"One of {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}; letters without it", 1),
        new(Paper, "Paper", "a4 or letter", 1),
        new(Parts, "Parts that are wanted", "By commas; all without it", 1),
    ];

    /// <summary>The place for a note in a part of the report.</summary>
    /// <param name="part">The part's name.</param>
    public static ReportPlace NoteOf(string part) => new(NotePrefix + part, $"Note in: {ReportWords.English.Of($"part.{part}")}", "", 3);

    /// <summary>The place of a word; null when there is none.</summary>
    public static ReportPlace? Of(string key) => key.StartsWith(StudyChoices.Prefix, StringComparison.Ordinal) ? StudyChoices.Places.FirstOrDefault(place => place.Key == key) : key.StartsWith(NotePrefix, StringComparison.Ordinal)
        ? ReportBuilder.PartNames.Contains(key[NotePrefix.Length..]) ? NoteOf(key[NotePrefix.Length..]) : null
        : All.FirstOrDefault(place => place.Key == key);

    /// <summary>All places: those of the notes and of the study too.</summary>
    public static IEnumerable<ReportPlace> WithNotes => [.. All, .. ReportBuilder.PartNames.Select(NoteOf), .. StudyChoices.Places];

    /// <summary>A text as it is kept: line ends alike, nothing blank around it.</summary>
    public static string Clean(string text) =>
        string.Join('\n', text.ReplaceLineEndings("\n").Split('\n').Select(line => line.TrimEnd())).Trim();

    /// <summary>What is wrong with a text for a place; empty when it may be kept.</summary>
    /// <param name="place">The place.</param>
    /// <param name="text">The text, cleaned; empty goes back to what stands there without it.</param>
    public static string Problem(ReportPlace place, string text)
    {
        if (text.Length == 0) return "";
        if (text.Length > MostLetters) return string.Create(CultureInfo.InvariantCulture, $"'{place.Key}' has {text.Length} letters; {MostLetters} are taken.");
        if (text.Any(letter => char.IsControl(letter) && letter is not '\n' and not '\t')) return $"'{place.Key}' holds a control character. Type the text, or copy it as plain text.";
        if (place.LineCount == 1 && text.Contains('\n', StringComparison.Ordinal)) return $"'{place.Key}' takes one line.";
        return place.Key switch
        {
            "date" => DateOf(text) is null ? $"'{text}' is no date such as 2026-03-16." : "",
            "accuracy" => AccuracyOf(text) is null ? $"'{text}' is no percentage from 0 to {MostPercent}." : "",
            "colours" => ConductorColours.WithId(text) is null ? $"There is no scheme '{text}'. {place.Hint}." : "",
            Paper => s_papers.Contains(text, StringComparer.Ordinal) ? "" : $"'{text}' is not one of {string.Join(", ", s_papers)}.",
            Parts => PartsOf(text).Except(ReportBuilder.PartNames, StringComparer.Ordinal).FirstOrDefault() is { } wrong ? $"'{wrong}' is not one of {string.Join(", ", ReportBuilder.PartNames)}."
                : PartsOf(text).IsEmpty ? "Choose one part at least." : "",
            "instruments" => LinesOf(text).FirstOrDefault(line => !line.Contains(':', StringComparison.Ordinal)) is { } line ? $"'{line}' has no colon. Write what it is, a colon, and which one: Recorder: R-1, calibrated 2026-01." : "",
            _ => place.Key.StartsWith(StudyChoices.Prefix, StringComparison.Ordinal) ? StudyChoices.Problem(place.Key, text) : "",
        };
    }

    /// <summary>The lines of a text that say something.</summary>
    public static ImmutableArray<string> LinesOf(string text) => [.. text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];

    /// <summary>Names of parts.</summary>
    public static ImmutableArray<string> PartsOf(string text) => [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];

    /// <summary>A date; null when it is none.</summary>
    public static DateOnly? DateOf(string? text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    /// <summary>A percentage with a decimal point or comma; null when it is none.</summary>
    public static double? AccuracyOf(string text) =>
        double.TryParse(text.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var percent) && percent is >= 0 and <= MostPercent ? percent : null;

    /// <summary>A question of the customer's, and what was answered to it; empty where nothing was.</summary>
    public static (string Question, string Answer) QuestionOf(string line) =>
        line.IndexOf('?', StringComparison.Ordinal) is >= 0 and var mark ? (line[..(mark + 1)].Trim(), line[(mark + 1)..].Trim()) : (line.Trim(), "");
}
