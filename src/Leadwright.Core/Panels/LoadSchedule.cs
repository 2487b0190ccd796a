using System.Collections.Immutable;

namespace Leadwright.Core.Panels;

/// <summary>When a load is on.</summary>
/// <param name="StartsOn">Whether it is on before the first switching.</param>
/// <param name="SwitchSeconds">The times at which it changes over, ascending; the new state holds from that time on.</param>
public sealed record LoadSchedule(bool StartsOn, ImmutableArray<double> SwitchSeconds)
{
    /// <summary>Always on.</summary>
    public static LoadSchedule AlwaysOn { get; } = new(true, []);

    /// <summary>Whether the load is on at a time.</summary>
    public bool IsOnAt(double seconds)
    {
        var isOn = StartsOn;
        foreach (var time in SwitchSeconds)
        {
            if (time > seconds) break;
            isOn = !isOn;
        }

        return isOn;
    }

    /// <summary>Equal when the load is on at the same times.</summary>
    public bool Equals(LoadSchedule? other) =>
        other is not null && StartsOn == other.StartsOn && SwitchSeconds.SequenceEqual(other.SwitchSeconds);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.Add(StartsOn);
        foreach (var time in SwitchSeconds) hash.Add(time);
        return hash.ToHashCode();
    }
}
