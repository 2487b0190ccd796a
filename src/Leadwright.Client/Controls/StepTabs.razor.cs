using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The questions of a screen as tabs; those that can't be answered yet are no links.</summary>
public sealed partial class StepTabs : ComponentBase
{
    /// <summary>The screen's address.</summary>
    [Parameter, EditorRequired]
    public string Root { get; set; } = "";

    /// <summary>The questions' names; in lower case they are their addresses.</summary>
    [Parameter, EditorRequired]
    public IReadOnlyList<string> Names { get; set; } = [];

    /// <summary>Which one is on the screen, from 0.</summary>
    [Parameter]
    public int Here { get; set; }

    /// <summary>The last one that can be gone to, from 0.</summary>
    [Parameter]
    public int Reached { get; set; } = int.MaxValue;
}
