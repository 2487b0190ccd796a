using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Client.Model;

/// <summary>A service as it is offered to choose.</summary>
/// <param name="Kind">The service.</param>
/// <param name="Title">Its name in two or three words.</param>
/// <param name="Says">What tells it from the others.</param>
public sealed record ServiceChoice(ServiceKind Kind, string Title, string Says)
{
    /// <summary>All services, in the order in which a person would be asked.</summary>
    public static ImmutableArray<ServiceChoice> All { get; } =
    [
        new(ServiceKind.Wye, "3-phase, 4-wire", "Wye with neutral"),
        new(ServiceKind.Delta, "3-phase, 3-wire", "Delta, three clamps"),
        new(ServiceKind.DeltaTwoClamp, "3-phase, 3-wire", "Delta, clamps 1 and 3 only"),
        new(ServiceKind.HighLeg, "3-phase, 4-wire delta", "High leg: two lines at 120 V, one at 208 V"),
        new(ServiceKind.Split, "Single-phase, 3-wire", "Two legs and neutral"),
        new(ServiceKind.Network, "2 lines of a wye", "Two lines and neutral, 120/208 V"),
        new(ServiceKind.Single, "Single-phase, 2-wire", "One line and neutral"),
    ];

    /// <summary>The choice of a kind.</summary>
    public static ServiceChoice Of(ServiceKind kind) => All.First(choice => choice.Kind == kind);
}
