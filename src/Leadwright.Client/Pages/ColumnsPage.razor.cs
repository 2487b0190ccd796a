using System.Collections.Immutable;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Logs;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The screen on which a person says what the columns of a recording hold, and confirms it.</summary>
public sealed partial class ColumnsPage : SurveyScreen
{
    private static readonly Choice<string>[] s_stamps = [new("start", "Its start"), new("end", "Its end")];

    private static readonly Choice<string>[] s_dates =
        [new("day-month-year", "Day, month, year"), new("month-day-year", "Month, day, year"), new("year-month-day", "Year, month, day")];

    private ColumnMatchSheet? _sheet;
    private ColumnMatchDraft _draft = new(new ColumnMatchSheet());
    private WorkState? _work;
    private ElementReference _title;
    private SaidReading _said = new();
    private bool _showsAll;
    private string _problem = "";
    private string _done = "";

    private ImmutableArray<ColumnMatchRow> Rows => _showsAll || _draft.Unsure.IsEmpty ? _draft.Values : [.. _draft.Values.Where(row => row.IsUnsure || _draft.Wrong.Contains(row))];

    private string Guard => $"surveys/{Uri.EscapeDataString(Id)}/guard{(Sheet is { Recordings.Length: > 1 } ? $"?recording={Uri.EscapeDataString(Recording)}" : "")}";

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        (_problem, _done, _showsAll) = ("", "", false);
        Take(await Api.MatchAsync(Id, Recording, cancellation: cancellation));
    }

    private void Take(ColumnMatchSheet sheet) => (_sheet, _draft, _said) = (sheet, new ColumnMatchDraft(sheet), sheet.Said);

    // Those of units and contradictions are answered at the columns; those of times have their own fields.
    private static ImmutableArray<string> Asked(ColumnMatchSheet sheet) =>
        [.. sheet.Questions.Where(question => !(sheet.AsksStamps && question == LogQuestions.Stamps) && !(sheet.AsksDates && LogQuestions.AsksForDates(question)))];

    private string Headline(ColumnMatchSheet sheet) => _draft.Unsure.Length switch
    {
        0 when sheet.IsConfirmed => "The columns, as they were confirmed",
        0 => "What each column holds",
        1 => "One column is not sure",
        var count => $"{count} columns are not sure",
    };

    // What was said of columns goes: under other letters they have other headings.
    private async Task ReadAgainAsync()
    {
        if (_work is not null) return;
        (_problem, _done) = ("", "");
        _work = new WorkState("", "Reading the recording as you say", -1);
        try
        {
            Take(await Api.MatchAsync(Id, Recording, _said, Leaving));
            await _title.FocusAsync();
        }
        catch (SurveyApiException failure)
        {
            _problem = failure.Message;
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        finally
        {
            _work = null;
        }
    }

    private async Task ConfirmAsync()
    {
        if (_work is not null) return;
        (_problem, _done) = ("", "");
        if (_sheet is { } sheet && _said != sheet.Said)
        {
            _problem = "Nothing was confirmed: how the file is read was changed. Press 'Show it read so' first, and look at the columns.";
            return;
        }

        if (_draft.Keep() is not { } keep)
        {
            var wrong = _draft.Wrong;
            _problem = $"Nothing was confirmed: look at {(wrong.Length == 1 ? "column" : "columns")} {string.Join(", ", wrong.Select(row => $"{row.Number} '{row.Heading}'"))}.";
            return;
        }

        _work = new WorkState("", "Confirming", -1);
        try
        {
            var done = await Api.ConfirmAsync(Id, Recording, keep, new ConfirmProgress(this), Leaving);
            var isShowingAll = _showsAll;
            await LoadAsync();
            (_done, _showsAll) = (done, isShowingAll);
            StateHasChanged();
            if (Problem.Length == 0) await _title.FocusAsync();
        }
        catch (SurveyApiException failure)
        {
            _problem = failure.Message;
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        finally
        {
            _work = null;
        }
    }

    private sealed class ConfirmProgress(ColumnsPage page) : IProgress<WorkState>
    {
        public void Report(WorkState value)
        {
            page._work = value;
            page.StateHasChanged();
        }
    }
}
