using System.CommandLine;
using System.Globalization;
using Leadwright.App.Verbs.Reporting;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The part <c>words</c> of the verb <c>survey</c>: what a person writes into the report.</summary>
internal static class SurveyWordsVerb
{
    /// <summary>The command.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be done.</param>
    /// <param name="clock">The clock of the entries.</param>
    public static Command Command(TextWriter output, TextWriter error, TimeProvider clock)
    {
        var folder = new Argument<string>("FOLDER") { Description = "The survey's folder." };
        var set = new Option<string[]>("--set")
        {
            Description = "A place and its words, as customer=\"Invented Bakery\". The same place again adds a line; nothing after the sign goes back to the survey's own. Places: "
                + $"{string.Join(", ", ReportPlaces.All.Select(place => place.Key))}, note.PART for a note in a part of the report, and study.OPTION for what is to be worked out, as study.rating=400.",
            HelpName = "PLACE=WORDS",
            DefaultValueFactory = _ => [],
        };
        set.Validators.Add(result =>
        {
            foreach (var (place, text) in SaidOf(result.Tokens.Select(token => token.Value)))
            {
                if (ReportPlaces.Of(place) is not { } known) result.AddError($"--set: there is no place '{place}'. Places: {string.Join(", ", ReportPlaces.WithNotes.Select(one => one.Key))}.");
                else if (ReportPlaces.Problem(known, text) is { Length: > 0 } problem) result.AddError($"--set: {problem}");
            }
        });
        var why = SurveyOptions.Text("--why", "Why, for the journal.", "TEXT");
        var who = SurveyOptions.Text("--who", "Who does this, for the journal; the account's name without it.", "NAME");
        var command = new Command("words", "Keeps the words of the report that people write: for whom it is, notes in its parts, paper, which parts are wanted. Without --set it shows them, with who wrote them and when.") { folder, set, why, who };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            var path = parsed.GetValue(folder)!;
            var said = SaidOf(parsed.GetValue(set) ?? []);
            if (said.Count > 0)
            {
                using var survey = SurveyFolder.Open(path, SurveyAccess.Write, new SurveyAuthor(parsed.GetValue(who) ?? Environment.UserName, clock));
                foreach (var (place, text) in said.Where(pair => survey.State.ReportWords.GetValueOrDefault(pair.Place, "") != pair.Text))
                    survey.Append(new ReportWordsChanged(place, text), parsed.GetValue(why) ?? "");
            }

            using var shown = SurveyFolder.Open(path);
            Write(output, shown);
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static List<(string Place, string Text)> SaidOf(IEnumerable<string> texts) =>
    [
        .. texts.Select(text => text.IndexOf('=', StringComparison.Ordinal) is > 0 and var sign ? (Place: text[..sign].Trim(), Text: text[(sign + 1)..]) : (Place: text, Text: ""))
            .GroupBy(pair => pair.Place, StringComparer.Ordinal).Select(group => (group.Key, ReportPlaces.Clean(string.Join('\n', group.Select(pair => pair.Text))))),
    ];

    private static void Write(TextWriter output, SurveyFolder survey)
    {
        if (survey.State.ReportWords.IsEmpty) output.WriteLine("No words of the report were written yet. Write some: --set customer=\"...\"");
        foreach (var place in ReportPlaces.WithNotes)
        {
            if (!survey.State.ReportWords.TryGetValue(place.Key, out var text)) continue;
            var entry = survey.Entries.Last(one => one.Payload is ReportWordsChanged words && words.Place == place.Key);
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{place.Key}: {text.Replace("\n", "\n  ", StringComparison.Ordinal)}  [{entry.Who}, {entry.At.UtcDateTime:yyyy-MM-dd HH:mm'Z'}]"));
        }
    }
}
