using System.Collections.Immutable;

namespace Leadwright.Core.Panels;

/// <summary>A lasting change of the supply voltage of all phases, such as a tap changer's.</summary>
/// <param name="AtSeconds">When it happens.</param>
/// <param name="Fraction">By how much all voltages change, as a fraction of nominal; the changes add up.</param>
public readonly record struct SupplyChange(double AtSeconds, double Fraction);

/// <summary>How the supply moves while a recording runs, from causes upstream of the panel.</summary>
/// <param name="Changes">Lasting changes, in any order.</param>
/// <param name="FlutterFraction">Standard deviation of a slow wandering of each phase for itself, as a fraction of nominal.</param>
/// <param name="FlutterSeconds">How long each value of the wandering lasts; above zero.</param>
/// <remarks>The wandering is a first-order autoregression with coefficient 0.9 from one value to the next.</remarks>
public sealed record SupplyHistory(
    ImmutableArray<SupplyChange> Changes, double FlutterFraction = 0, double FlutterSeconds = 0.2)
{
    /// <summary>A supply that does not move.</summary>
    public static SupplyHistory Still { get; } = new([]);

    /// <summary>The sum of the changes up to a time, as a fraction of nominal.</summary>
    internal double FractionAt(double seconds)
    {
        var sum = 0.0;
        foreach (var change in Changes)
        {
            if (change.AtSeconds <= seconds) sum += change.Fraction;
        }

        return sum;
    }

    /// <summary>Equal when all changes and the wandering are equal.</summary>
    public bool Equals(SupplyHistory? other) =>
        other is not null && Changes.SequenceEqual(other.Changes)
        && FlutterFraction.Equals(other.FlutterFraction) && FlutterSeconds.Equals(other.FlutterSeconds);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var change in Changes) hash.Add(change);
        hash.Add(FlutterFraction);
        hash.Add(FlutterSeconds);
        return hash.ToHashCode();
    }
}
