using System.Globalization;
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
                ? lasting == 0 ? "The recorder is followed: no alarm lasts" : string.Create(CultureInfo.InvariantCulture, $"The recorder is followed: {lasting} {(lasting == 1 ? "alarm lasts" : "alarms last")}")
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

    private Task StartAsync() => DoAsync(() => Api.StartFollowAsync(Id, _path.Trim(), _leaving.Token));

    private Task StopAsync() => DoAsync(() => Api.StopFollowAsync(Id, _leaving.Token));

    private async Task DoAsync(Func<Task<FollowSheet>> ask)
    {
        (_isBusy, _problem) = (true, "");
        _turn++;
        try
        {
            _sheet = await ask();
            _turn++;
            if (_sheet.IsRunning && !_isAsking) _ = KeepAskingAsync();
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
                    (_sheet, _problem) = (sheet, "");
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
