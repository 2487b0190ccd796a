using System.CommandLine;
using System.Globalization;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The part <c>departing</c> of the verb <c>survey</c>: the check before leaving the site, signed.</summary>
internal static class SurveyDepartingVerb
{
    /// <summary>The command.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be done.</param>
    /// <param name="clock">The clock of the entries.</param>
    public static Command Command(TextWriter output, TextWriter error, TimeProvider clock)
    {
        var folder = new Argument<string>("FOLDER") { Description = "The survey's folder." };
        var answers = new Argument<string[]>("ITEM=ANSWER")
        {
            Description = $"For each item one of {string.Join(", ", DepartingItems.Answers)}, and a remark after a colon: clock=yes:\"3 s slow\". All of them sign the check; none lists the items and what was signed.",
            Arity = ArgumentArity.ZeroOrMore,
        };
        answers.Validators.Add(result =>
        {
            foreach (var token in result.Tokens)
            {
                if (token.Value.IndexOf('=', StringComparison.Ordinal) <= 0) result.AddError($"'{token.Value}' is no ITEM=ANSWER such as clock=yes.");
            }
        });
        var who = SurveyOptions.Text("--who", "Who signs; the account's name without it.", "NAME");
        var note = SurveyOptions.Text("--note", "What else is to be known.", "TEXT");
        var command = new Command("departing", "Signs the check before leaving the site: clock, range, memory, supply, one switched load for each phase, covers.") { folder, answers, note, who };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            var path = parsed.GetValue(folder)!;
            var given = parsed.GetValue(answers) ?? [];
            if (given.Length == 0)
            {
                using var shown = SurveyFolder.Open(path);
                Write(output, shown.State);
                return Task.FromResult(ExitCode.NothingWrong);
            }

            using var survey = SurveyFolder.Open(path, SurveyAccess.Write, new SurveyAuthor(parsed.GetValue(who) ?? Environment.UserName, clock));
            var items = DepartingItems.Of(survey.State.Panel);
            var said = given.Select(AnswerOf).GroupBy(pair => pair.Key, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.Last().Said, StringComparer.Ordinal);
            var name = parsed.GetValue(who) ?? Environment.UserName;
            var more = (parsed.GetValue(note) ?? "").Trim();
            if (DepartingItems.Problem(items, said, name, more) is { Length: > 0 } problem) throw new InputRefusedException(ExitCode.WrongUsage, problem);
            survey.Append(DepartingItems.Signed(items, said, more));
            Write(output, survey.State);
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static (string Key, (string Answer, string Remark) Said) AnswerOf(string text)
    {
        var sign = text.IndexOf('=', StringComparison.Ordinal);
        var answer = text[(sign + 1)..];
        var colon = answer.IndexOf(':', StringComparison.Ordinal);
        return (text[..sign].Trim(), colon < 0 ? (answer.Trim(), "") : (answer[..colon].Trim(), answer[(colon + 1)..].Trim()));
    }

    private static void Write(TextWriter output, SurveyState state)
    {
        if (state.Departure is not { } signed)
        {
            output.WriteLine("Not signed yet. Items:");
            foreach (var item in DepartingItems.Of(state.Panel)) output.WriteLine($"  {item.Key}: {item.Text} ({item.Hint})");
            return;
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Signed by {signed.Who}, {signed.At.UtcDateTime:yyyy-MM-dd HH:mm'Z'}:"));
        foreach (var item in signed.Items) output.WriteLine($"  {item.Key ?? "item"}: {DepartingItems.AnswerText(item)}. {item.Text}{(item.Remark is { } remark ? $" ({remark})" : "")}");
        if (signed.Note.Length > 0) output.WriteLine($"  {signed.Note}");
    }
}
