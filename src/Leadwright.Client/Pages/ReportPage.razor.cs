using System.Globalization;
using Leadwright.Client.Controls;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The report screen: which parts, whose words, the report as it is now, and its files.</summary>
public sealed partial class ReportPage : SurveyScreen
{
    private static readonly (string Title, string[] Places)[] s_groups =
    [
        ("For whom, and what for", ["customer", "site", "panel", "purpose", "questions"]),
        ("From whom", ["firm", "firm-lines", "author", "number", "date"]),
        ("Instruments and site", ["instruments", "accuracy", "colours"]),
    ];

    private static readonly Choice<string>[] s_papers = [new("a4", "A4", "210 × 297 mm"), new("letter", "Letter", "8.5 × 11 in")];

    private ReportSheet? _report;
    private ReportMade? _made;
    private WorkState? _making;
    private string _makingProblem = "";
    private string _kept = "";
    private string _anchor = "";
    private (string Place, string Says) _problem = ("", "");

    [Inject]
    private TimeProvider Clock { get; set; } = null!;

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        (_made, _kept, _anchor, _problem) = (null, "", "", ("", ""));
        _report = await Api.ReportAsync(Id, cancellation);
        // The words can be written while the report is worked out.
        _ = MakeAsync();
    }

    private async Task MakeAsync()
    {
        (_makingProblem, _making) = ("", null);
        try
        {
            _made = await Api.MakeReportAsync(Id, Recording, new MakingProgress(this), Leaving);
        }
        catch (SurveyApiException failure)
        {
            _makingProblem = failure.Message;
        }
        catch (Exception failure) when (failure is OperationCanceledException or ObjectDisposedException)
        {
            return;
        }

        StateHasChanged();
    }

    private string ProblemOf(string place) => _problem.Place == place ? _problem.Says : "";

    private async Task KeepAsync(string place, string text)
    {
        if (_report is null) return;
        try
        {
            _report = await Api.WriteAsync(Id, new WordsChange(place, text, _report.Sequence), Leaving);
            _problem = ("", "");
            _kept = string.Create(CultureInfo.InvariantCulture, $"Kept at {Clock.GetLocalNow():HH:mm:ss}.");
            _anchor = place.StartsWith("note.", StringComparison.Ordinal) ? $"#{place[5..]}" : "";
        }
        catch (SurveyApiException failure)
        {
            // What was typed stays in its field.
            (_problem, _kept) = ((place, failure.Message), "");
            if (failure.IsConflict) await SeeAgainAsync();
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
    }

    // The next try is made knowing what the other wrote.
    private async Task SeeAgainAsync()
    {
        try
        {
            if (_report is { } seen) _report = seen with { Sequence = (await Api.ReportAsync(Id, Leaving)).Sequence };
        }
        catch (Exception failure) when (failure is SurveyApiException or OperationCanceledException)
        {
            // It stays as it was.
        }
    }

    private Task ChooseAsync(ReportPartCard part, bool isChosen)
    {
        var wanted = _report!.Parts.Where(one => one.Id == part.Id ? isChosen : one.IsChosen).Select(one => one.Id).ToList();
        if (wanted.Count == 0)
        {
            _problem = ("parts", "A report has one part at least.");
            return Task.CompletedTask;
        }

        return KeepAsync("parts", wanted.Count == _report.Parts.Length ? "" : string.Join(',', wanted));
    }

    private string Address(string ending, bool isSaved) =>
        $"api/surveys/{Uri.EscapeDataString(Id)}/report/document.{ending}?recording={Uri.EscapeDataString(Recording)}{(isSaved ? "&save=true" : "")}";

    private string Version(ReportSheet report) => string.Create(CultureInfo.InvariantCulture, $"{Address("html", false)}&v={report.Sequence}{_anchor}");

    private sealed class MakingProgress(ReportPage page) : IProgress<WorkState>
    {
        public void Report(WorkState value)
        {
            page._making = value;
            page.StateHasChanged();
        }
    }
}
