using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Hookups;

/// <summary>What is known of the load; narrows the displacement that the check expects.</summary>
public enum LoadKind
{
    /// <summary>Ordinary mixed loads. The default.</summary>
    Mixed,

    /// <summary>Mostly motors.</summary>
    Motors,

    /// <summary>Mostly lighting and heating.</summary>
    Lighting,

    /// <summary>Mostly drives and rectifiers.</summary>
    Drives,

    /// <summary>Nothing is known of it.</summary>
    Unknown,
}

/// <summary>What a person says about the site, beyond the readings.</summary>
public sealed record CheckOptions
{
    /// <summary>The kind of load. Default <see cref="LoadKind.Mixed"/>.</summary>
    public LoadKind Load { get; init; }

    /// <summary>True when generation may send power back. Default false.</summary>
    public bool MayExport { get; init; }

    /// <summary>What a rotation indicator showed at the panel. Default <see cref="Rotation.Unknown"/>.</summary>
    public Rotation ToldRotation { get; init; }

    /// <summary>What was found at the panel when asked; at most one answer to each action. Default none.</summary>
    public ImmutableArray<ToldAnswer> Told { get; init; } = [];

    /// <summary>Equal when the same is known and the same was told, in the same order.</summary>
    public bool Equals(CheckOptions? other) =>
        other is not null && Load == other.Load && MayExport == other.MayExport && ToldRotation == other.ToldRotation
        && Told.SequenceEqual(other.Told);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Load, MayExport, ToldRotation, Told.Length);
}
