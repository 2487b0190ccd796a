using System.Collections.Immutable;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>What is known of the site: nominal voltage, load, export, rotation, frequency, colours.</summary>
public sealed partial class SiteQuestions : ComponentBase
{
    private static readonly ImmutableArray<Choice<LoadKind>> s_loads =
    [
        new(LoadKind.Mixed, "Mixed"), new(LoadKind.Motors, "Motors"), new(LoadKind.Lighting, "Lighting, heating"),
        new(LoadKind.Drives, "Drives, rectifiers"), new(LoadKind.Unknown, "Not known"),
    ];

    private static readonly ImmutableArray<Choice<bool>> s_certainty =
        [new(false, "Yes, as chosen"), new(true, "Not sure: find it from the readings")];

    private static readonly ImmutableArray<Choice<bool>> s_exports = [new(false, "No"), new(true, "Yes, generation")];

    private static readonly ImmutableArray<Choice<Rotation>> s_rotations =
        [new(Rotation.Unknown, "Not looked"), new(Rotation.Abc, "A-B-C"), new(Rotation.Acb, "A-C-B")];

    private static readonly ImmutableArray<Choice<double?>> s_frequencies =
        [new(null, "Not stated"), new(50, "50 Hz"), new(60, "60 Hz")];

    private ImmutableArray<Choice<string>> _nominals = [];

    /// <summary>What was told so far.</summary>
    [Parameter, EditorRequired]
    public HookupDraft Draft { get; set; } = new();

    /// <summary>What is wrong with the nominal voltage; empty when nothing is.</summary>
    [Parameter]
    public string NominalError { get; set; } = "";

    /// <summary>Told when something changes.</summary>
    [Parameter]
    public EventCallback<HookupDraft> Changed { get; set; }

    private ServiceKind Kind => Draft.Service ?? ServiceKind.Wye;

    /// <inheritdoc/>
    protected override void OnParametersSet() =>
        _nominals = [.. NominalChoices.Of(Kind).Select(text => new Choice<string>(text, text)), new("", "Not stated")];
}
