using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Clamps of three lines that went one place on read as they do where they went one place back on lines that follow each other the other way about: which it was only the voltages' answers tell.</summary>
internal static class MirroredWay
{
    /// <summary>The hook-up that shows the same powers on lines in the other order; the same one where its clamps did not all go one place on.</summary>
    public static Hookup Of(Hookup hookup) => !IsOne(hookup) ? hookup : hookup with
    {
        Clamps = hookup.Clamps.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Key == Clamp.IN ? pair.Value : pair.Value with { On = (Conductor)(((2 * (int)pair.Key) + 3 - (int)pair.Value.On!.Value) % 3) }),
    };

    /// <summary>True where the leads are right and all three clamps went one place on, or one back.</summary>
    public static bool IsOne(Hookup hookup)
    {
        Arrangement places = Arrangement.Of(hookup);
        if (places.Leads is not [0, 1, 2, 3]) return false;
        var step = places.Clamps[0];
        return step is 1 or 2 && places.Clamps[1] == (1 + step) % 3 && places.Clamps[2] == (2 + step) % 3;
    }
}
