using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups;

/// <summary>What a service asks of a hook-up: its conductors, and the leads and clamps a recorder puts on it.</summary>
/// <param name="Kind">The kind of service.</param>
/// <param name="Name">Its word in commands and files, such as <c>delta-two-clamp</c>.</param>
/// <param name="Conductors">The conductors a lead or clamp can be on, ground left out.</param>
/// <param name="Leads">The leads that the usual hook-up has.</param>
/// <param name="Clamps">The clamps that the usual hook-up has, the neutral clamp left out.</param>
public sealed record Service(
    ServiceKind Kind,
    string Name,
    ImmutableArray<Conductor> Conductors,
    ImmutableArray<Lead> Leads,
    ImmutableArray<Clamp> Clamps)
{
    /// <summary>All services, in the order in which a person would be asked.</summary>
    public static ImmutableArray<Service> All { get; } =
    [
        new(ServiceKind.Wye, "wye", [Conductor.A, Conductor.B, Conductor.C, Conductor.N],
            [Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]),
        new(ServiceKind.Delta, "delta", [Conductor.A, Conductor.B, Conductor.C],
            [Lead.V1, Lead.V2, Lead.V3], [Clamp.I1, Clamp.I2, Clamp.I3]),
        new(ServiceKind.DeltaTwoClamp, "delta-two-clamp", [Conductor.A, Conductor.B, Conductor.C],
            [Lead.V1, Lead.V2, Lead.V3], [Clamp.I1, Clamp.I3]),
        new(ServiceKind.HighLeg, "high-leg", [Conductor.A, Conductor.B, Conductor.C, Conductor.N],
            [Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]),
        new(ServiceKind.Split, "split", [Conductor.A, Conductor.B, Conductor.N],
            [Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]),
        new(ServiceKind.Network, "network", [Conductor.A, Conductor.B, Conductor.N],
            [Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]),
        new(ServiceKind.Single, "single", [Conductor.A, Conductor.N], [Lead.V1, Lead.VN], [Clamp.I1]),
    ];

    /// <summary>True on services without a neutral, whose voltage channels are lead to lead.</summary>
    public bool IsThreeWire => Kind is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;

    /// <summary>True on services with three lines.</summary>
    public bool IsThreePhase => Kind is ServiceKind.Wye or ServiceKind.Delta or ServiceKind.DeltaTwoClamp or ServiceKind.HighLeg;

    /// <summary>True on services whose lines come one after the other: three of them, or two of the three.</summary>
    public bool HasRotation => IsThreePhase || Kind == ServiceKind.Network;

    /// <summary>How many of its conductors are lines.</summary>
    public int LineCount => Conductors.Count(conductor => conductor < Conductor.N);

    /// <summary>The service of a kind.</summary>
    public static Service Of(ServiceKind kind) => All.First(service => service.Kind == kind);

    /// <summary>The service with a name, in any case; null when there is none.</summary>
    public static Service? Named(string? name) =>
        All.FirstOrDefault(service => string.Equals(service.Name, name?.Trim(), StringComparison.OrdinalIgnoreCase));

    /// <summary>The conductor that a lead belongs on.</summary>
    public static Conductor HomeOf(Lead lead) => (Conductor)(int)lead;

    /// <summary>The conductor that a clamp belongs on.</summary>
    public static Conductor HomeOf(Clamp clamp) => (Conductor)(int)clamp;
}
