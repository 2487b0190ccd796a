using Leadwright.Client.Controls;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>What the screens of a survey share: which survey and recording it is, the work that is waited for, what went wrong.</summary>
public abstract class SurveyScreen : ComponentBase, IDisposable
{
    private CancellationTokenSource _leaving = new();
    private string _loaded = "";

    /// <summary>The survey's name in the address.</summary>
    [Parameter]
    public string Id { get; set; } = "";

    /// <summary>The recording; empty for the last.</summary>
    [Parameter, SupplyParameterFromQuery(Name = "recording")]
    public string? RecordingName { get; set; }

    /// <summary>The running program.</summary>
    [Inject]
    protected ISurveyApi Api { get; set; } = null!;

    /// <summary>How numbers and words are shown.</summary>
    [Inject]
    protected ShownText Shown { get; set; } = null!;

    /// <summary>The survey; null until it is known.</summary>
    protected SurveySheet? Sheet { get; private set; }

    /// <summary>How far the work is; null when none is waited for.</summary>
    protected WorkState? Work { get; private set; }

    /// <summary>What went wrong; empty when nothing did.</summary>
    protected string Problem { get; set; } = "";

    /// <summary>True when everything the screen shows is there.</summary>
    protected bool IsReady { get; private set; }

    /// <summary>The recording that is looked at; empty where there is none.</summary>
    protected string Recording { get; private set; } = "";

    /// <summary>Ends what the screen waits for.</summary>
    protected CancellationToken Leaving => _leaving.Token;

    /// <summary>Told how far work is.</summary>
    protected IProgress<WorkState> Progress => new ScreenProgress(state =>
    {
        Work = state;
        StateHasChanged();
    });

    /// <inheritdoc/>
    public void Dispose()
    {
        _leaving.Cancel();
        _leaving.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <inheritdoc/>
    protected override async Task OnParametersSetAsync()
    {
        var wanted = $"{Id}?{RecordingName}";
        if (_loaded == wanted) return;
        _loaded = wanted;
        await LoadAsync();
    }

    /// <summary>Loads the survey and what the screen shows of it.</summary>
    protected async Task LoadAsync()
    {
        await _leaving.CancelAsync();
        _leaving.Dispose();
        _leaving = new CancellationTokenSource();
        var mine = _leaving.Token;
        (Problem, IsReady, Work) = ("", false, null);
        try
        {
            Sheet = await Api.OpenAsync(Id, mine);
            Recording = RecordingName ?? (Sheet.Recordings.IsEmpty ? "" : Sheet.Recordings[^1].Name);
            if (Recording.Length > 0 || !NeedsRecording) await FillAsync(mine);
            IsReady = true;
        }
        catch (OperationCanceledException)
        {
            if (mine.IsCancellationRequested && !_leaving.IsCancellationRequested) return;
            Problem = "It was stopped. Nothing was changed.";
        }
        catch (SurveyApiException failure)
        {
            Problem = failure.Message;
        }

        Work = null;
    }

    /// <summary>True for a screen that shows nothing until there is a recording.</summary>
    protected virtual bool NeedsRecording => true;

    /// <summary>Loads what the screen shows of the recording.</summary>
    /// <param name="cancellation">Ends it.</param>
    protected abstract Task FillAsync(CancellationToken cancellation);

    /// <summary>Stops the work that is waited for.</summary>
    protected Task StopAsync() => _leaving.CancelAsync();

    /// <summary>Gives charts the columns of the recording.</summary>
    /// <param name="isMended">True for the mended table.</param>
    protected ColumnSource Source(bool isMended) => (names, from, to, width, cancellation) =>
        Api.FrameAsync(Id, Recording, isMended, names, from, to, width, cancellation);

    private sealed class ScreenProgress(Action<WorkState> report) : IProgress<WorkState>
    {
        public void Report(WorkState value) => report(value);
    }
}
