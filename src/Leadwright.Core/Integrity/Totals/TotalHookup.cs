using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>A hook-up that a total power may be read by.</summary>
/// <param name="Leads">Conductor of each lead, the neutral's last.</param>
/// <param name="Clamps">Conductor and direction of each clamp, by clamp.</param>
/// <param name="Enter">What it costs to go into it, natural logarithm.</param>
internal sealed record TotalHookup(int[] Leads, (int On, int Sign)[] Clamps, double Enter)
{
    /// <summary>True where leads were moved.</summary>
    public bool MovesLeads => !Leads.AsSpan().SequenceEqual([0, 1, 2, 3]);

    /// <summary>True where leads and clamps are in the same places, or the same two clamps on one conductor, whichever was moved.</summary>
    public bool IsLike(TotalHookup other) => (Leads.AsSpan().SequenceEqual(other.Leads) && Clamps.AsSpan().SequenceEqual(other.Clamps))
        || (OnOne is var (moved, on) && other.OnOne is var (others, there) && (Math.Min(moved, on), Math.Max(moved, on)) == (Math.Min(others, there), Math.Max(others, there)));

    /// <summary>True where the clamps of two lines are exchanged in one and their leads in the other, which makes the same total.</summary>
    public bool IsTwin(TotalHookup other, out int first, out int second)
    {
        var (leads, clamps) = MovesLeads ? (this, other) : (other, this);
        (first, second) = (Array.FindIndex([0, 1, 2], line => leads.Leads[line] != line), Array.FindLastIndex([0, 1, 2], line => leads.Leads[line] != line));
        if (first < 0 || clamps.MovesLeads) return false;
        foreach (var line in (ReadOnlySpan<int>)[0, 1, 2])
        {
            if (clamps.Clamps[line] != (leads.Leads[line], 1) || leads.Clamps[line] != (line, 1)) return false;
        }

        return true;
    }

    /// <summary>The two clamps that are on one conductor, the moved one first; null for none.</summary>
    public (int Moved, int On)? OnOne { get; private init; }

    /// <summary>The right hook-up first, then one slip each: a clamp or two turned, clamps exchanged or rotated, leads exchanged, two clamps on one conductor.</summary>
    public static List<TotalHookup> Of(GuardFrame frame, ReadOnlySpan<int> clamps)
    {
        int[] right = [0, 1, 2, 3], all = clamps.ToArray();
        (int, int)[] straight = [(0, 1), (1, 1), (2, 1)];
        var hookups = new List<TotalHookup> { new(right, straight, 3) };
        foreach (var clamp in all) hookups.Add(new(right, With(straight, (clamp, (clamp, -1))), 10));
        for (var first = 0; first < all.Length; first++)
        {
            for (var second = first + 1; second < all.Length; second++)
            {
                var (one, other) = (all[first], all[second]);
                hookups.Add(new(right, With(straight, (one, (one, -1)), (other, (other, -1))), 14));
                hookups.Add(new(right, With(straight, (one, (other, 1)), (other, (one, 1))), 12));
                hookups.Add(new(right, With(straight, (one, (other, 1))), 12) { OnOne = (one, other) });
                hookups.Add(new(right, With(straight, (other, (one, 1))), 12) { OnOne = (other, one) });
            }
        }

        for (var first = 0; first < frame.Lines; first++)
        {
            for (var second = first + 1; second < frame.Lines; second++)
            {
                int[] swapped = [0, 1, 2, 3];
                (swapped[first], swapped[second]) = (second, first);
                hookups.Add(new(swapped, straight, 12));
            }
        }

        if (all.Length == 3)
        {
            hookups.Add(new(right, [(1, 1), (2, 1), (0, 1)], 13));
            hookups.Add(new(right, [(2, 1), (0, 1), (1, 1)], 13));
        }

        return hookups;
    }

    /// <summary>The same as a hook-up of leads and clamps, on top of the right one.</summary>
    public Hookup On(Hookup right)
    {
        var (leads, clamps) = (right.Leads, right.Clamps);
        foreach (var lead in right.Leads.Keys.Where(lead => lead != Lead.VN)) leads = leads.SetItem(lead, (Circuits.Conductor)Leads[(int)lead]);
        foreach (var clamp in right.Clamps.Keys.Where(clamp => clamp != Clamp.IN))
            clamps = clamps.SetItem(clamp, new ClampPlace((Circuits.Conductor)Clamps[(int)clamp].On, Clamps[(int)clamp].Sign < 0, 1));
        return right with { Leads = leads, Clamps = clamps };
    }

    private static (int, int)[] With((int, int)[] clamps, params ReadOnlySpan<(int Clamp, (int, int) Place)> changes)
    {
        (int, int)[] changed = [.. clamps];
        foreach (var (clamp, place) in changes) changed[clamp] = place;
        return changed;
    }
}
