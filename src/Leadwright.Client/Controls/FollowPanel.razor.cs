using System.Globalization;
using Leadwright.Client.Model.Guarding;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Follows a recorder that still runs.</summary>
public sealed partial class FollowPanel : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource _leaving = new();
    private FollowSheet? _sheet;
    private string _path = "";
    private string _problem = "";
    private bool _isBusy;
    private int _turn;
    private bool _isAsking;
    private string _news = "";
    private ElementReference _stop;
    private ElementReference _field;

    // What was pressed goes with the answer: the focus waits for what comes in its place.
    private bool? _awaitsRunning;

    /// <summary>The survey.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    /// <summary>Time between two looks at the alarms.</summary>
    [Parameter]
    public TimeSpan Pause { get; set; } = TimeSpan.FromSeconds(2);

    [Inject]
    private ISurveyApi Api { get; set; } = null!;

    private string Title
    {
        get
        {
            var lasting = _sheet?.Alarms.Count(alarm => alarm.Cleared is null) ?? 0;
            return _sheet is { IsRunning: true }
                ? string.Create(CultureInfo.InvariantCulture, $"The recorder is followed: {(lasting == 0 ? "no alarm" : lasting == 1 ? "1 alarm" : $"{lasting} alarms")} now")
                : "Follow a recorder that still runs";
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _leaving.Cancel();
        _leaving.Dispose();
    }

    /// <inheritdoc/>
    protected override Task OnInitializedAsync() => DoAsync(() => Api.FollowAsync(Id, _leaving.Token));

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_awaitsRunning is not { } awaited || _isBusy || (_sheet?.IsRunning ?? false) != awaited) return;
        _awaitsRunning = null;
        await (awaited ? _stop : _field).FocusAsync();
    }

    private Task StartAsync() => DoAsync(() => Api.StartFollowAsync(Id, _path.Trim(), _leaving.Token), true);

    private Task StopAsync() => DoAsync(() => Api.StopFollowAsync(Id, _leaving.Token), false);

    private static string Who(FollowAlarm alarm) => alarm.Channels.IsEmpty ? "Recorder" : string.Join(", ", alarm.Channels);

    private void Take(FollowSheet sheet)
    {
        var news = FollowNews.Of(_sheet, sheet);
        // What was read out stays until there is more: taking it away could be read out too.
        if (news.Length > 0) _news = news;
        _sheet = sheet;
    }

    private async Task DoAsync(Func<Task<FollowSheet>> ask, bool? awaitsRunning = null)
    {
        (_isBusy, _problem, _awaitsRunning) = (true, "", awaitsRunning);
        _turn++;
        try
        {
            Take(await ask());
            _turn++;
            if (_sheet is { IsRunning: true } && !_isAsking) _ = KeepAskingAsync();
        }
        catch (SurveyApiException failure)
        {
            (_problem, _awaitsRunning) = (failure.Message, null);
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        finally
        {
            _isBusy = false;
        }
    }

    // Asked again and again while it runs; a program that is away for a while is asked on.
    private async Task KeepAskingAsync()
    {
        _isAsking = true;
        try
        {
            while (_sheet is { IsRunning: true })
            {
                await Task.Delay(Pause, _leaving.Token);
                try
                {
                    var turn = _turn;
                    var sheet = await Api.FollowAsync(Id, _leaving.Token);

                    // One that was asked for before a button was pressed tells of the time before.
                    if (turn != _turn) continue;
                    Take(sheet);
                    _problem = "";
                }
                catch (SurveyApiException failure)
                {
                    _problem = failure.Message;
                }

                await InvokeAsync(StateHasChanged);
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or ObjectDisposedException)
        {
            // The page was left.
        }
        finally
        {
            _isAsking = false;
        }
    }
}
