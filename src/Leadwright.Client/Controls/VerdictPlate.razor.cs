using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The verdict at arm's length: a word, a shape and a colour, any of which alone tells it.</summary>
public sealed partial class VerdictPlate : ComponentBase
{
    private string _look = "";
    private string _word = "";

    /// <summary>The verdict.</summary>
    [Parameter, EditorRequired]
    public Verdict Verdict { get; set; }

    /// <summary>Another word for it; empty for the verdict's own.</summary>
    [Parameter]
    public string Word { get; set; } = "";

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        (_look, _word) = Verdict switch
        {
            Verdict.Correct => ("correct", "Correct"),
            Verdict.Faulty => ("faulty", "Faulty"),
            _ => ("undecided", "Cannot tell yet"),
        };
        if (Word.Length > 0) _word = Word;
    }
}
