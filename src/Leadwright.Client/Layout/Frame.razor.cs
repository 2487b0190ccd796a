using Leadwright.Client.Model.Waiting;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Layout;

/// <summary>What stands about every screen. It brings what waits on this device into its survey as soon as the program answers.</summary>
public sealed partial class Frame : LayoutComponentBase, IDisposable
{
    private static readonly TimeSpan s_pause = TimeSpan.FromSeconds(15);
    private readonly CancellationTokenSource _leaving = new();

    [Inject]
    private WaitingShelf Shelf { get; set; } = null!;

    [Inject]
    private TimeProvider Clock { get; set; } = null!;

    /// <inheritdoc/>
    public void Dispose()
    {
        Shelf.Changed -= StateHasChanged;
        _leaving.Cancel();
        _leaving.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        Shelf.Changed += StateHasChanged;
        await Shelf.OpenAsync();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender) return;
        using var timer = new PeriodicTimer(s_pause, Clock);
        try
        {
            while (await timer.WaitForNextTickAsync(_leaving.Token))
            {
                if (Shelf.HasKnown) await Shelf.PutKnownAsync(_leaving.Token);
            }
        }
        catch (OperationCanceledException)
        {
            // The page is gone; what waits is kept.
        }
    }
}
