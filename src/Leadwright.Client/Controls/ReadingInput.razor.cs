using Leadwright.Client.Model;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>One large field for one number, with a sign key where phones' number pads have no minus.</summary>
public sealed partial class ReadingInput : ComponentBase
{
    private string _id = "";

    /// <summary>The row that it is in.</summary>
    [Parameter, EditorRequired]
    public ReadingRow Row { get; set; } = null!;

    /// <summary>The field.</summary>
    [Parameter, EditorRequired]
    public ReadingField Field { get; set; } = null!;

    /// <summary>The text in it.</summary>
    [Parameter]
    public string Text { get; set; } = "";

    /// <summary>What is wrong with the text; empty when nothing is.</summary>
    [Parameter]
    public string Error { get; set; } = "";

    /// <summary>Told when the text changes.</summary>
    [Parameter]
    public EventCallback<string> TextChanged { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet() => _id = $"field-{Field.Key.Replace('.', '-')}";

    private Task ChangeSign() => TextChanged.InvokeAsync(DecimalText.WithOtherSign(Text));
}
