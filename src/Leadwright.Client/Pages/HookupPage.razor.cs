using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Leadwright.Client.Controls;
using Leadwright.Client.Devices;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;
using Leadwright.Formats.Readings;
using Leadwright.Reports.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The hook-up screen: on a phone one question at a time, on a desk all at once with the verdict beside them.</summary>
public sealed partial class HookupPage : ComponentBase, IDisposable
{
    private static readonly TimeSpan s_shortestPause = TimeSpan.FromMilliseconds(150);
    private static readonly TimeSpan s_longestPause = TimeSpan.FromMilliseconds(900);

    private static readonly ImmutableArray<Choice<ServiceKind?>> s_services =
        [.. ServiceChoice.All.Select(choice => new Choice<ServiceKind?>(choice.Kind, choice.Title, choice.Says))];

    private readonly ElementReference[] _titles = new ElementReference[4];
    private CancellationTokenSource? _pausing;
    private HookupStep _step;
    private HookupStep? _focused;
    private bool _isDemo;
    private bool _isReading;
    private string _fileProblem = "";
    private string _kept = "";
    private SurveySheet? _survey;
    private bool _isKeeping;

    /// <summary>The question on the screen: service, site, readings or verdict; anything else is the first.</summary>
    [Parameter]
    public string? StepName { get; set; }

    /// <summary>Given when the invented panels are wanted at once.</summary>
    [SupplyParameterFromQuery(Name = "demo")]
    public string? Demo { get; set; }

    /// <summary>The survey that the check is made for; null for none.</summary>
    [Parameter, SupplyParameterFromQuery(Name = "survey")]
    public string? SurveyId { get; set; }

    [Inject]
    private ISurveyApi Api { get; set; } = null!;

    [Inject]
    private HookupSheet Sheet { get; set; } = null!;

    [Inject]
    private WaitingShelf Shelf { get; set; } = null!;

    [Inject]
    private IDevice Device { get; set; } = null!;

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    [Inject]
    private TimeProvider Clock { get; set; } = null!;

    private bool CanGoOn => _step != HookupStep.Service || Sheet.Draft.Service is not null;

    private string OnWord => _step == HookupStep.Readings ? "Verdict" : "Continue";

    /// <inheritdoc/>
    public void Dispose()
    {
        _pausing?.Cancel();
        _pausing?.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        await Sheet.OpenAsync();
        if (SurveyId is { Length: > 0 } id) await OpenSurveyAsync(id);
    }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        _step = Enum.TryParse<HookupStep>(StepName, true, out var step) && Enum.IsDefined(step) ? step : HookupStep.Service;
        _isDemo = Demo is not null || Navigation.Uri.Contains("?demo", StringComparison.Ordinal);
        _kept = "";
        if (Sheet.IsStale && _step == HookupStep.Verdict) Sheet.Judge();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        // A new question is read out from its heading; the first one is where the browser starts anyway.
        if (_focused is not null && _focused != _step) await _titles[(int)_step].FocusAsync();
        _focused = _step;
    }

    private static string StepWord(HookupStep step) => step.ToString().ToLowerInvariant();

    private string Address(HookupStep step) => $"hook-up/{StepWord(step)}{(SurveyId is { Length: > 0 } id ? $"?survey={Uri.EscapeDataString(id)}" : "")}";

    private static string Name(HookupStep step) => step switch
    {
        HookupStep.Service => "Service",
        HookupStep.Site => "Site",
        HookupStep.Readings => "Readings",
        _ => "Verdict",
    };

    private async Task ChooseService(ServiceKind? service)
    {
        if (service is not { } kind) return;
        await Sheet.ChooseServiceAsync(kind);
        await JudgeSoonAsync();
    }

    private async Task Change(HookupDraft draft)
    {
        await Sheet.ChangeAsync(draft);
        await JudgeSoonAsync();
    }

    private async Task Type(TypedText typed)
    {
        await Sheet.TypeAsync(typed.Key, typed.Text);
        await JudgeSoonAsync();
    }

    private async Task Tell(ToldAnswer told)
    {
        await Sheet.TellAsync(told);
        await ShowNewVerdictAsync();
    }

    private async Task Withdraw(ToldAnswer told)
    {
        await Sheet.WithdrawAsync(told);
        await ShowNewVerdictAsync();
    }

    // The button that was tapped is gone with its question: reading goes on from the verdict.
    private async Task ShowNewVerdictAsync()
    {
        Sheet.Judge();
        StateHasChanged();
        await _titles[(int)HookupStep.Verdict].FocusAsync();
    }

    private async Task Clear()
    {
        await Sheet.ClearAsync();
        Sheet.Judge();
    }

    private async Task TakePanel(DemoPanel panel)
    {
        await Sheet.TakeAsync(panel.Readings, panel.Options, panel.Name, true);
        ShowVerdict();
    }

    private async Task TakeRecording(LoadedRecording? recording)
    {
        await Sheet.TakeAsync(recording);
        await JudgeSoonAsync();
    }

    private async Task OpenFiles(ImmutableArray<Formats.InputFile> files)
    {
        (_isReading, _fileProblem) = (true, "");
        StateHasChanged();

        // One breath for the browser to draw before a long file keeps it busy.
        await Task.Delay(1);
        var opened = OpenedFile.Of(files, Sheet.Draft.Service);
        _isReading = false;
        if (opened.Problem.Length > 0)
        {
            _fileProblem = opened.Problem;
            return;
        }

        await Sheet.TakeAsync(opened);
        if (Sheet.Draft.Service is null) Navigation.NavigateTo(Address(HookupStep.Service));
        else ShowVerdict(opened.Recording is null ? HookupStep.Verdict : HookupStep.Readings);
    }

    private void ShowVerdict(HookupStep step = HookupStep.Verdict)
    {
        Sheet.Judge();
        Navigation.NavigateTo(Address(step));
    }

    // Judging at every key would keep a slow phone from typing on: the slower the device, the longer the pause that it waits for.
    private async Task JudgeSoonAsync()
    {
        var pause = Sheet.LastTook < s_shortestPause ? s_shortestPause : Sheet.LastTook > s_longestPause ? s_longestPause : Sheet.LastTook;
        if (_pausing is not null) await _pausing.CancelAsync();
        _pausing?.Dispose();
        _pausing = new CancellationTokenSource();
        try
        {
            await Task.Delay(pause, Clock, _pausing.Token);
        }
        catch (OperationCanceledException)
        {
            return;
        }

        Sheet.Judge();
    }

    private async Task CopyReadings() =>
        _kept = await Device.CopyAsync(ReadingsOut()) ? "Copied." : "The browser does not allow copying: save the file instead.";

    private async Task SaveReadings()
    {
        await Device.SaveFileAsync("readings.json", ReadingsOut());
        _kept = "Saved as readings.json.";
    }

    private async Task SaveVerdict()
    {
        await Device.SaveFileAsync("verdict.json", VerdictOut());
        _kept = "Saved as verdict.json.";
    }

    private string VerdictOut()
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer)) CheckJson.Write(Sheet.Answer!.Document, writer);
        return Encoding.UTF8.GetString(buffer.ToArray());
    }

    // What the survey knows of the panel is asked no second time; where the program is away the check goes on without.
    private async Task OpenSurveyAsync(string id)
    {
        try
        {
            _survey = await Api.OpenAsync(id);
            if (Sheet.Draft.Service is not null || Service.Named(_survey.Service) is not { } service) return;
            await Sheet.ChooseServiceAsync(service.Kind);
            if (_survey.Nominal.Length > 0) await Sheet.ChangeAsync(Sheet.Draft with { Nominal = _survey.Nominal });
        }
        catch (SurveyApiException failure)
        {
            _kept = failure.Message;
        }
    }

    // First kept on this device, then sent: what gets lost on the way is sent again, and the survey takes it once.
    private async Task KeepInSurvey()
    {
        if (Sheet.Answer is not { } answer) return;
        (_isKeeping, _kept) = (true, "");
        try
        {
            using var verdict = JsonDocument.Parse(VerdictOut());
            using var readings = Sheet.Recording is null ? JsonDocument.Parse(ReadingsOut()) : null;
            var check = new HookupKeep(verdict.RootElement.Clone(), readings?.RootElement.Clone())
            {
                Told = [.. DraftReading.OptionsOf(Sheet.Draft).Told.Select(told => told.ToString())],
            };
            var content = $"{SurveyId} {check.Verdict} {check.Readings} {string.Join(' ', check.Told)}";
            if (content == Sheet.KeptContent)
            {
                _kept = "This check is kept already. Read again for another one.";
                return;
            }

            var survey = SurveyId is { Length: > 0 } id ? _survey ?? new SurveyCard(id, id) : null;
            if (await Shelf.KeepAsync(check, answer.Document.Headline, survey) is not { } item)
            {
                _kept = "This browser refuses to keep it (a private window, or no room). Save the readings as a file.";
                return;
            }

            Sheet.KeptContent = content;
            await SendAsync(item, survey);
        }
        finally
        {
            _isKeeping = false;
        }
    }

    private async Task SendAsync(WaitingItem item, SurveyCard? survey)
    {
        if (survey is null)
        {
            _kept = "Kept on this device. Under Surveys it is put into the survey that it belongs to.";
            return;
        }

        try
        {
            await Shelf.PutAsync(item, survey);
            _kept = $"Kept in the survey '{survey.Name}', with its time.";
        }
        catch (SurveyApiException failure)
        {
            _kept = failure.IsAway ? "The program does not answer. The check is kept on this device and goes into the survey once the program is in reach." : failure.Message;
        }
    }

    private string ReadingsOut() => Encoding.UTF8.GetString(ReadingsWriter.Write(
        Sheet.Answer!.Readings, DraftReading.OptionsOf(Sheet.Draft).Told));
}
