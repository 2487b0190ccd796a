using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>The changes of the conductors' currents as sums of the clamps' changes, under one arrangement of the clamps.</summary>
/// <remarks>All that goes out comes back: where one conductor has no clamp, its current is minus the sum of the others. Where
/// more have none, those lines are unknown, and the neutral (where there is one) takes what is left.</remarks>
internal sealed class ConductorCurrents
{
    /// <summary>What the first clamp's change is to be multiplied by; by conductor.</summary>
    public double[] Scale { get; } = new double[LeadRows.Conductors];

    /// <summary>The conductor whose current is minus the sum of the others; −1 where there is none.</summary>
    public int Rest { get; private set; }

    /// <summary>Lines whose current no clamp tells, as bits.</summary>
    public int Unknown { get; private set; }

    /// <summary>The one line that no clamp tells of, where a neutral takes what is left; −1 where there are none or several.</summary>
    public int Unread => Rest == Place.N && System.Numerics.BitOperations.PopCount((uint)Unknown) == 1
        ? System.Numerics.BitOperations.TrailingZeroCount(Unknown) : -1;

    /// <summary>True when every conductor has a clamp: they must add up to nothing.</summary>
    public bool Closes { get; private set; }

    /// <summary>True when the neutral's own clamp tells its current.</summary>
    public bool KnowsNeutral { get; private set; }

    /// <summary>How many conductors have a clamp.</summary>
    public int ReadCount { get; private set; }

    /// <summary>First clamp on each conductor; −1 where there is none.</summary>
    public int[] First { get; } = new int[LeadRows.Conductors];

    /// <summary>Reads an arrangement.</summary>
    /// <param name="map">The clamps.</param>
    /// <param name="positions">Position in the map of each clamp that the steps know.</param>
    /// <param name="service">The service.</param>
    public void Read(ClampMap map, int[] positions, Service service)
    {
        Array.Clear(Scale);
        Rest = -1;
        Array.Fill(First, -1);
        for (var clamp = 0; clamp < positions.Length; clamp++)
        {
            var place = map.On[positions[clamp]];
            if (place == Place.Air || First[place] >= 0) continue;
            First[place] = clamp;
            Scale[place] = (map.Reversed[positions[clamp]] ? -1 : 1) / map.ScaleOf(positions[clamp]);
        }

        ReadCount = First.Count(clamp => clamp >= 0);
        var hasNeutral = !service.IsThreeWire;
        var free = -1;
        var count = 0;
        foreach (var conductor in service.Conductors)
        {
            if (First[(int)conductor] >= 0) continue;
            free = (int)conductor;
            count++;
        }

        KnowsNeutral = hasNeutral && First[Place.N] >= 0;
        Closes = count == 0;
        Unknown = 0;
        if (count == 0) return;
        if (count == 1)
        {
            Rest = free;
            return;
        }

        foreach (var conductor in service.Conductors)
        {
            if (First[(int)conductor] < 0 && (int)conductor != Place.N) Unknown |= 1 << (int)conductor;
        }

        if (hasNeutral && !KnowsNeutral) Rest = Place.N;
    }

    /// <summary>Takes out a conductor's clamp, whose readings tell nothing; a line without a clamp of its own is then unknown too.</summary>
    /// <param name="conductor">The conductor.</param>
    public void Lose(int conductor)
    {
        First[conductor] = -1;
        Closes = false;
        if (conductor == Place.N)
        {
            // What the lines carry comes back through it all the same; a line worked out with its help is known no more.
            KnowsNeutral = false;
            if (Rest is >= 0 and < Place.N) Unknown |= 1 << Rest;
            Rest = Place.N;
            return;
        }

        Unknown |= 1 << conductor;
        if (Rest is < 0 or Place.N) return;
        Unknown |= 1 << Rest;
        Rest = -1;
    }

    /// <summary>The largest current that flows by an arrangement, amperes: a clamp whose ratio is off reads another one than there is.</summary>
    /// <param name="map">The clamps.</param>
    /// <param name="positions">Position in the map of each clamp that the steps know.</param>
    /// <param name="read">The largest current of each of these as read, amperes.</param>
    public static double Largest(ClampMap map, int[] positions, ReadOnlySpan<double> read)
    {
        double flowing = 0, any = 0;
        for (var clamp = 0; clamp < positions.Length; clamp++)
        {
            any = Math.Max(any, read[clamp]);
            if (map.On[positions[clamp]] != Place.Air) flowing = Math.Max(flowing, read[clamp] / map.ScaleOf(positions[clamp]));
        }

        return flowing > 0 ? flowing : any;
    }

    /// <summary>A number that is equal for arrangements that give the same sums.</summary>
    public static long Key(ClampMap map, int[] positions)
    {
        long key = 0;
        for (var clamp = 0; clamp < positions.Length; clamp++)
        {
            var position = positions[clamp];
            var place = map.On[position];
            var code = place == Place.Air ? 8 : (place * 2) + (map.Reversed[position] ? 1 : 0);
            var scale = map.ScaleCodeOf(position);
            key = (key * 64) + (code * 7) + (place == Place.Air ? 0 : scale);
        }

        return key;
    }
}
