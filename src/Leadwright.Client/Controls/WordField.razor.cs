using Leadwright.Client.Model.Shown;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>A place of the report that a person fills.</summary>
public sealed partial class WordField : ComponentBase
{
    private readonly string _id = $"words-{Guid.NewGuid():N}";

    /// <summary>The place with its words.</summary>
    [Parameter, EditorRequired]
    public ReportField Field { get; set; } = new("", "");

    /// <summary>What is wrong with what was typed; empty for nothing.</summary>
    [Parameter]
    public string Problem { get; set; } = "";

    /// <summary>Told with the words when the field is left.</summary>
    [Parameter]
    public EventCallback<string> Kept { get; set; }

    private string Below => string.Join(" · ", new[] { Field.Hint, Written }.Where(text => text.Length > 0));

    private string Written => Field.At is { } at ? $"{Field.Who}, {ShownText.Here(at)}" : "";

    private string? Described
    {
        get
        {
            var ids = string.Join(' ', new[] { Problem.Length > 0 ? $"{_id}-problem" : "", Below.Length > 0 ? $"{_id}-hint" : "" }.Where(id => id.Length > 0));
            return ids.Length > 0 ? ids : null;
        }
    }

    private Task KeepAsync(ChangeEventArgs args) => Kept.InvokeAsync(args.Value?.ToString() ?? "");
}
