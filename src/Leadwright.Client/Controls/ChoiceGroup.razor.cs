using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>One question with a few answers, of which one holds.</summary>
/// <typeparam name="TValue">What is chosen.</typeparam>
public sealed partial class ChoiceGroup<TValue> : ComponentBase
{
    private readonly string _name = $"choice-{Guid.NewGuid():N}";

    /// <summary>The question.</summary>
    [Parameter, EditorRequired]
    public string Legend { get; set; } = "";

    /// <summary>A line under the question; empty for none.</summary>
    [Parameter]
    public string Hint { get; set; } = "";

    /// <summary>The answers.</summary>
    [Parameter, EditorRequired]
    public IReadOnlyList<Choice<TValue>> Choices { get; set; } = [];

    /// <summary>A picture for each answer.</summary>
    [Parameter]
    public RenderFragment<TValue>? Picture { get; set; }

    /// <summary>A class for the looks: <c>cards</c>, <c>compact</c> or none.</summary>
    [Parameter]
    public string Class { get; set; } = "";

    /// <summary>The answer that holds.</summary>
    [Parameter]
    public TValue? Value { get; set; }

    /// <summary>Told when another answer is chosen.</summary>
    [Parameter]
    public EventCallback<TValue> ValueChanged { get; set; }
}
