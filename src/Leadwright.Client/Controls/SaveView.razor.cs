using Leadwright.Client.Devices;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Leadwright.Client.Controls;

/// <summary>Something to look at with the ways to save it.</summary>
public sealed partial class SaveView : ComponentBase, IAsyncDisposable
{
    private ElementReference _place;
    private IJSObjectReference? _module;

    /// <summary>What it is called, in the file as well.</summary>
    [Parameter, EditorRequired]
    public string Title { get; set; } = "";

    /// <summary>The name of its files, without the ending.</summary>
    [Parameter, EditorRequired]
    public string FileName { get; set; } = "";

    /// <summary>Its numbers as a table; null where it has none.</summary>
    [Parameter]
    public Func<string>? Table { get; set; }

    /// <summary>What is looked at.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }

    [Inject]
    private IJSRuntime Script { get; set; } = null!;

    [Inject]
    private IDevice Device { get; set; } = null!;

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_module is not null) await _module.DisposeAsync();
    }

    private async Task DrawAsync(bool isPng)
    {
        _module ??= await Script.InvokeAsync<IJSObjectReference>("import", "./chart/view.js");
        await _module.InvokeVoidAsync("saveView", _place, $"{FileName}.{(isPng ? "png" : "svg")}", Title, isPng);
    }

    private async Task TableAsync() => await Device.SaveFileAsync($"{FileName}.csv", Table!());
}
