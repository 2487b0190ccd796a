using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Fields for how a file is to be read: the writing of its letters, and the start of a log without dates.</summary>
public sealed partial class ReadingFields : ComponentBase
{
    /// <summary>Begin of the names of its fields on the page.</summary>
    [Parameter, EditorRequired]
    public string Name { get; set; } = "";

    /// <summary>What is said.</summary>
    [Parameter, EditorRequired]
    public SaidReading Said { get; set; } = new();

    /// <summary>Told what is said now.</summary>
    [Parameter]
    public EventCallback<SaidReading> SaidChanged { get; set; }

    /// <summary>Whether the writing of letters is asked.</summary>
    [Parameter]
    public bool TakesEncoding { get; set; } = true;

    /// <summary>Whether the start is asked.</summary>
    [Parameter]
    public bool TakesStart { get; set; } = true;

    /// <summary>Whether nothing can be said now.</summary>
    [Parameter]
    public bool IsDisabled { get; set; }

    private string Id(string field) => $"{Name}-{field}";

    private static string Text(ChangeEventArgs args) => args.Value?.ToString()?.Trim() ?? "";
}
