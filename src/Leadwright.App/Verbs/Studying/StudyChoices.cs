using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
using Leadwright.App.Verbs.Reporting;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats;
using Leadwright.Formats.Limits;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Studying;

/// <summary>What is to be worked out of a survey's recordings, kept among the words of its report: the options of <c>study</c>, each under its own name.</summary>
internal static class StudyChoices
{
    /// <summary>What stands before the name of an option in its place.</summary>
    public const string Prefix = "study.";

    private const string Tariff = Prefix + "tariff";

    /// <summary>The places, in the order in which they are filled.</summary>
    public static ImmutableArray<ReportPlace> Places { get; } =
    [
        new(Prefix + "demand", "Lengths of demand windows, minutes", "The first counts: 15 or 15,30,60", 1),
        new(Prefix + "demand-kind", "Which demand counts", "block: fixed by the clock; sliding: a moving window", 1),
        new(Prefix + "rating", "Rating of the feeder, service or breaker, A", "For spare capacity", 1),
        new(Prefix + "cable", "What the cable carries as laid, A", "", 1),
        new(Prefix + "new-load", "Load to be added, kW", "", 1),
        new(Prefix + "pf", "Its power factor", "1 without it", 1),
        new(Prefix + "stated", "What you state of the existing load", "By commas: year, occupied, seasonal, no-generation, no-peak-shaving, protected", 1),
        new(Prefix + "hours", "Opening hours", "mon-fri 07:00-18:00, sat 08:00-12:00", 1),
        new(Prefix + "target-pf", "Wanted power factor", "0.95 without it", 1),
        new(Prefix + "bill-kwh", "Billed energy, kWh", "", 1),
        new(Prefix + "bill-days", "Days of the bill", "", 1),
        new(Prefix + "bill-kw", "Billed peak demand, kW", "", 1),
        new(Tariff, "Calendar of tariff periods", $"The text of a file {TariffReader.Schema}", 4),
    ];

    /// <summary>What is wrong with a text for a place; empty when nothing is.</summary>
    /// <param name="key">The place.</param>
    /// <param name="text">The text.</param>
    public static string Problem(string key, string text)
    {
        if (key != Tariff) return Parse([(key, text)]).Parsed.Errors is [var first, ..] ? first.Message : "";
        try
        {
            _ = TariffReader.Read(FileOf(text));
            return "";
        }
        catch (FormatReadException failure)
        {
            return failure.Message;
        }
    }

    /// <summary>What a survey says is to be worked out; null when it says nothing.</summary>
    /// <param name="survey">The survey; null for a file as named.</param>
    public static LoadStudyOptions? Of(SurveyState? survey)
    {
        var said = survey?.ReportWords.Where(word => word.Key.StartsWith(Prefix, StringComparison.Ordinal) && Problem(word.Key, word.Value).Length == 0).ToList();
        if (said is not { Count: > 0 }) return null;
        var (options, parsed) = Parse(said.Where(word => word.Key != Tariff).Select(word => (word.Key, word.Value)));
        var load = options.RequestOf(parsed).Load;
        return said.FirstOrDefault(word => word.Key == Tariff).Value is { } tariff ? load with { Tariff = TariffReader.Read(FileOf(tariff)) } : load;
    }

    /// <summary>A short text for what a survey says; empty for nothing.</summary>
    public static string KeyOf(SurveyState survey) =>
        string.Join('\n', survey.ReportWords.Where(word => word.Key.StartsWith(Prefix, StringComparison.Ordinal)).Select(word => $"{word.Key}={word.Value}"));

    // The verb's own options read the words: what is refused on the command line is refused here, in the same words.
    private static (StudyVerbOptions Options, ParseResult Parsed) Parse(IEnumerable<(string Key, string Text)> said)
    {
        var options = new StudyVerbOptions();
        var command = new Command("study");
        options.AddTo(command);
        NumberOptions.Guard(command);
        return (options, command.Parse([.. said.SelectMany(word => new[] { "--" + word.Key[Prefix.Length..], NumberOptions.WithPoint(command, "--" + word.Key[Prefix.Length..], word.Text) })]));
    }

    private static InputFile FileOf(string tariff) => new("tariff", Encoding.UTF8.GetBytes(tariff));
}
