using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The list of surveys, and where new ones begin.</summary>
public sealed partial class SurveysPage : ComponentBase
{
    private ImmutableArray<SurveyCard>? _surveys;
    private string _problem = "";
    private string _done = "";
    private string _folder = "";
    private string _put = "";
    private string _name = "";
    private string _nameProblem = "";
    private string _formProblem = "";
    private string _place = "";
    private string _service = "";
    private string _nominal = "";
    private bool _isMaking;
    private bool _showsArchived;

    [Inject]
    private ISurveyApi Api { get; set; } = null!;

    [Inject]
    private WaitingShelf Shelf { get; set; } = null!;

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        await LoadAsync();
        if (_surveys is null || await Shelf.PutKnownAsync() is not { IsEmpty: false } put) return;
        _put = string.Join(" ", put.Select(item => $"{(item.Plan is null ? "The hook-up check" : "The plan")} of {ShownText.Here(item.Made)} is in the survey '{item.SurveyName}' now."));
        await LoadAsync();
    }

    private static string Address(SurveyCard survey) => $"surveys/{Uri.EscapeDataString(survey.Id)}/guard";

    private static string Facts(SurveyCard survey)
    {
        string[] parts =
        [
            survey.Place,
            survey.Nominal.Length > 0 ? $"{survey.Nominal} V" : "",
            survey.RecordingCount switch { 0 => "no recording yet", 1 => "one recording", var count => string.Create(CultureInfo.InvariantCulture, $"{count} recordings") },
            survey.Changed == default ? "" : $"changed {ShownText.Here(survey.Changed)}",
        ];
        return string.Join(" · ", parts.Where(part => part.Length > 0));
    }

    private async Task LoadAsync()
    {
        _problem = "";
        try
        {
            _surveys = await Api.ListAsync();
            _folder = (await Api.SessionAsync()).Folder;
        }
        catch (SurveyApiException failure)
        {
            (_surveys, _problem) = (null, failure.Message);
        }
    }

    private async Task MakeAsync()
    {
        _nameProblem = _name.Trim().Length == 0 ? "Give the site's name, so that the survey is found again." : "";
        _isMaking = true;
        if (_nameProblem.Length > 0) return;
        _formProblem = "";
        try
        {
            Open((await Api.MakeAsync(new NewSurvey(_name) { Place = _place, Service = _service, Nominal = _nominal })).Id);
        }
        catch (SurveyApiException failure)
        {
            _formProblem = failure.Message;
        }
    }

    private void Open(string id) => Navigation.NavigateTo($"surveys/{Uri.EscapeDataString(id)}/guard");

    private Task DuplicateAsync(SurveyCard survey) => DoAsync(async () =>
    {
        var copy = await Api.DuplicateAsync(survey.Id);
        await LoadAsync();
        _done = $"Duplicated as '{copy.Name}'.";
    });

    private Task ArchiveAsync(SurveyCard survey) => DoAsync(async () =>
    {
        await Api.ArchiveAsync(survey.Id, !survey.IsArchived);
        await LoadAsync();
        _done = survey.IsArchived ? $"'{survey.Name}' is in the list again." : $"'{survey.Name}' was put away. Nothing of it is gone.";
    });

    private async Task DoAsync(Func<Task> work)
    {
        _done = "";
        try
        {
            await work();
        }
        catch (SurveyApiException failure)
        {
            _problem = failure.Message;
        }
    }
}
