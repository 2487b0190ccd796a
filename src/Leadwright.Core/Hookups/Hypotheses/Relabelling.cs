using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>The ways to exchange the names of the lines. What leads and clamps read does not change when both follow.</summary>
/// <param name="To">New name of each place: A, B, C, N, air.</param>
/// <param name="TurnsRotation">True when an A-B-C supply becomes A-C-B.</param>
internal sealed record Relabelling(ImmutableArray<int> To, bool TurnsRotation)
{
    private static readonly ImmutableArray<Relabelling> s_threePhase =
    [
        new([0, 1, 2, 3, 4], false), new([1, 2, 0, 3, 4], false), new([2, 0, 1, 3, 4], false),
        new([0, 2, 1, 3, 4], true), new([2, 1, 0, 3, 4], true), new([1, 0, 2, 3, 4], true),
    ];

    private static readonly ImmutableArray<Relabelling> s_split = [new([0, 1, 2, 3, 4], false), new([1, 0, 2, 3, 4], false)];

    private static readonly ImmutableArray<Relabelling> s_network = [new([0, 1, 2, 3, 4], false), new([1, 0, 2, 3, 4], true)];

    /// <summary>All relabellings of a service's lines, the identity first.</summary>
    public static ImmutableArray<Relabelling> Of(Service service) =>
        service switch
        {
            { IsThreePhase: true } => s_threePhase,
            { Kind: ServiceKind.Network } => s_network,
            { Kind: ServiceKind.Split } => s_split,
            _ => [s_split[0]],
        };

    public Rotation Apply(Rotation rotation) =>
        !TurnsRotation ? rotation : rotation == Rotation.Abc ? Rotation.Acb : Rotation.Abc;
}
