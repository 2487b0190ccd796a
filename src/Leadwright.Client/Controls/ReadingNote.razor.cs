using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>A line about how a file was read; where it asks something, with what to do about it.</summary>
public sealed partial class ReadingNote : ComponentBase
{
    /// <summary>The line.</summary>
    [Parameter, EditorRequired]
    public string Note { get; set; } = "";

    /// <summary>The survey.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    /// <summary>The recording.</summary>
    [Parameter, EditorRequired]
    public string Recording { get; set; } = "";
}
