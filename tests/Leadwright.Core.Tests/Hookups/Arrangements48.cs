using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>The 48 ways to put three clamps on three lines: six orders, eight sets of directions.</summary>
internal static class Arrangements48
{
    public static ImmutableArray<int[]> Orders => Ideal.Orders;

    /// <summary>All of them on a four-wire service with its leads right.</summary>
    public static ImmutableArray<Hookup> Wye { get; } =
        [.. Ideal.Orders.SelectMany(order => Enumerable.Range(0, 8).Select(mask => Make(order, mask)))];

    /// <summary>The lines of clamps 1 to 3, as numbers.</summary>
    public static int[] OrderOf(Hookup hookup) => [.. LineClamps(hookup).Select(place => (int)place.On!)];

    public static bool[] ReversedOf(Hookup hookup) => [.. LineClamps(hookup).Select(place => place.Reversed)];

    public static int ChangedPlaces(int[] order) => order.Where((line, clamp) => line != clamp).Count();

    public static bool IsExchange(int[] order) => ChangedPlaces(order) == 2;

    /// <summary>The class of six that a balanced load of unknown displacement can't be told apart in: whether two clamps
    /// are exchanged, and which clamp faces the other way than the other two.</summary>
    public static (bool IsExchange, int Odd) ClassOf(Hookup hookup)
    {
        var reversed = ReversedOf(hookup);
        var odd = Array.FindIndex(reversed, turned => reversed.Count(other => other == turned) == 1);
        return (IsExchange(OrderOf(hookup)), odd);
    }

    /// <summary>By how many degrees the clamps' angles lag those of the right hook-up, common to all three once the class is
    /// fixed: the displacement that a reading would mean is larger by this under the right order.</summary>
    public static double ShiftOf(Hookup hookup)
    {
        // A clamp one line forward reads a current 120 degrees later; reversal adds half a turn.
        var odd = ClassOf(hookup).Odd;
        var clamp = odd < 0 ? 0 : odd;
        var moved = (OrderOf(hookup)[clamp] - clamp + 3) % 3;
        var reference = (odd >= 0) != ReversedOf(hookup)[clamp] ? 180 : 0;
        return Angle.WrapDegrees((120 * moved) + reference);
    }

    public static string Words(Hookup hookup) => string.Join(' ', hookup.Clamps.Select(clamp =>
        $"{clamp.Key}:{(clamp.Value.Reversed ? "-" : "")}{clamp.Value.On}"));

    private static Hookup Make(int[] order, int mask) => Ideal.Expected(ServiceKind.Wye).WithClamps(
        (Clamp.I1, (Conductor)order[0], (mask & 1) != 0),
        (Clamp.I2, (Conductor)order[1], (mask & 2) != 0),
        (Clamp.I3, (Conductor)order[2], (mask & 4) != 0));

    private static IEnumerable<ClampPlace> LineClamps(Hookup hookup) =>
        new[] { Clamp.I1, Clamp.I2, Clamp.I3 }.Select(clamp => hookup.Clamps[clamp]);
}
