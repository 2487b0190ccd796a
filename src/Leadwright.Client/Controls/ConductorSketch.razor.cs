using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>A small drawing of a service's conductors in the colours of the site.</summary>
public sealed partial class ConductorSketch : ComponentBase
{
    private Service _service = Service.Of(ServiceKind.Wye);
    private int _width;

    /// <summary>The service.</summary>
    [Parameter, EditorRequired]
    public ServiceKind Kind { get; set; }

    /// <summary>The colours of the site.</summary>
    [Parameter, EditorRequired]
    public ColourScheme Scheme { get; set; } = ConductorColours.All[0];

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        _service = Service.Of(Kind);
        _width = 4 + (24 * _service.Conductors.Length);
    }
}
