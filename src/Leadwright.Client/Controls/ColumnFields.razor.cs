using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Matching;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>One column of a table, and the fields that say what it holds.</summary>
public sealed partial class ColumnFields : ComponentBase
{
    /// <summary>The column as it is read.</summary>
    [Parameter, EditorRequired]
    public ColumnMatchRow Row { get; set; } = null!;

    /// <summary>What is said of the columns.</summary>
    [Parameter, EditorRequired]
    public ColumnMatchDraft Draft { get; set; } = null!;

    /// <summary>Told when something was said.</summary>
    [Parameter]
    public EventCallback Said { get; set; }

    private string Reason => Row.Why.Length == 0 ? "" : $"{char.ToUpperInvariant(Row.Why[0])}{Row.Why[1..]}.";

    private string Id(string field) => string.Create(CultureInfo.InvariantCulture, $"column-{Row.Number}-{field}");

    private string? Invalid(ColumnField field) => Draft.ProblemOf(Row, field).Length > 0 ? "true" : null;

    private string? Described(ColumnField field) => Draft.ProblemOf(Row, field).Length > 0 ? ProblemId(field) : null;

    private string ProblemId(ColumnField field) => Id($"{field.ToString().ToLowerInvariant()}-problem");

    private RenderFragment? Problem(ColumnField field)
    {
        var says = Draft.ProblemOf(Row, field);
        if (says.Length == 0) return null;
        return builder =>
        {
            builder.OpenElement(0, "p");
            builder.AddAttribute(1, "class", "error");
            builder.AddAttribute(2, "id", ProblemId(field));
            builder.AddContent(3, says);
            builder.CloseElement();
        };
    }

    private Task SayAsync(ColumnEntry entry)
    {
        Draft.Say(Row, entry);
        return Said.InvokeAsync();
    }

    private static string Text(ChangeEventArgs args) => args.Value?.ToString()?.Trim() ?? "";

    private static int OrderOf(ChangeEventArgs args) => int.TryParse(Text(args), NumberStyles.None, CultureInfo.InvariantCulture, out var order) ? order : 0;
}
