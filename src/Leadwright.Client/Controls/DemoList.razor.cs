using System.Collections.Immutable;
using Leadwright.Core.Panels;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The invented panels to try; computed when the list is first opened.</summary>
public sealed partial class DemoList : ComponentBase
{
    private ImmutableArray<DemoPanel> _panels;
    private int _round;

    /// <summary>True to show the list at once.</summary>
    [Parameter]
    public bool IsOpen { get; set; }

    /// <summary>Told which panel was chosen.</summary>
    [Parameter]
    public EventCallback<DemoPanel> Chosen { get; set; }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender && IsOpen) await MakeAsync();
    }

    // A chosen panel closes the list: a new round is a new list, and that one starts closed.
    private Task Choose(DemoPanel panel)
    {
        _round++;
        return Chosen.InvokeAsync(panel);
    }

    private async Task MakeAsync()
    {
        if (!_panels.IsDefault) return;

        // One breath for the browser to draw the list open before the panels are computed.
        await Task.Yield();
        _panels = DemoPanels.All();
        StateHasChanged();
    }
}
