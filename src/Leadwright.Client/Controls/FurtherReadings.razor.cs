using System.Collections.Immutable;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Reports.Practice;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Offers further readings and switching actions, kind first, then place; shows what was found.</summary>
public sealed partial class FurtherReadings : ComponentBase
{
    private ImmutableArray<SettlingKind> _kinds = [];
    private SettlingKind? _open;

    /// <summary>What may be done.</summary>
    [Parameter, EditorRequired]
    public ImmutableArray<SettlingAction> Actions { get; set; } = [];

    /// <summary>What was found, in order.</summary>
    [Parameter]
    public ImmutableArray<TakenReading> Taken { get; set; } = [];

    /// <summary>True to show at once what the instrument shows after a load was switched.</summary>
    [Parameter]
    public bool ShowsAfter { get; set; }

    /// <summary>Told what is to be done.</summary>
    [Parameter]
    public EventCallback<SettlingAction> Chosen { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet() => _kinds = [.. Actions.Select(action => action.Kind).Distinct()];

    // Who speaks to the device says what is written on the button.
    private static string PlaceOf(SettlingAction action) => ActionWording.PlaceOf(action) is { Length: > 0 } place ? place : "Do it";

    private bool IsTaken(SettlingAction action) => Taken.Any(taken => taken.Action == action);

    // What has one place only needs no second tap.
    private Task Pick(SettlingKind kind)
    {
        var places = Actions.Where(action => action.Kind == kind).ToArray();
        if (places.Length == 1 && !IsTaken(places[0]))
        {
            _open = null;
            return Chosen.InvokeAsync(places[0]);
        }

        _open = _open == kind ? null : kind;
        return Task.CompletedTask;
    }

    private Task Take(SettlingAction action) => Chosen.InvokeAsync(action);
}
