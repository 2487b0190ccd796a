using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Planning;

/// <summary>Something to look at before leaving the site.</summary>
/// <param name="Key">Its word in the journal and on the command line.</param>
/// <param name="Text">What is to be looked at.</param>
/// <param name="Hint">What to write down with it.</param>
public sealed record DepartingItem(string Key, string Text, string Hint);

/// <summary>The check before leaving the site, on paper, on the screen and on the command line. Common practice, no source.</summary>
public static class DepartingWording
{
    /// <summary>The items for a service: one switched load for each phase that it has.</summary>
    /// <param name="service">The service; three phases where it is not known.</param>
    public static ImmutableArray<DepartingItem> Of(ServiceKind? service)
    {
        var phases = service switch { ServiceKind.Single => 1, ServiceKind.Split or ServiceKind.Network => 2, _ => 3 };
        return
        [
            new("clock", Say.Of("leaving.the-recorders-clock-was-compared", "The recorder's clock was compared with a known clock"), Say.Of("leaving.by-how-much-it-differs", "By how much it differs, and which clock")),
            new("range", Say.Of("leaving.the-range-of-each-clamp", "The range of each clamp has room above the largest load expected"), Say.Of("leaving.range-and-the-largest-current", "Range, and the largest current expected")),
            new("memory", Say.Of("leaving.the-memory-lasts-beyond-the", "The memory lasts beyond the day of collection"), Say.Of("leaving.days-left-by-the-recorders", "Days left by the recorder's screen")),
            new("supply", Say.Of("leaving.the-recorder-runs-from-a", "The recorder runs from a supply that nobody unplugs, and its battery is charged"), Say.Of("leaving.what-it-is-fed-from", "What it is fed from")),
            .. Enumerable.Range(1, phases).Select(phase => new DepartingItem(
                string.Create(CultureInfo.InvariantCulture, $"load-{phase}"),
                phases == 1 ? Say.Of("leaving.one-known-load-was-switched", "One known load was switched: the clamp moved, upward") : Say.Of("leaving.one-known-load-was-switched-2", "One known load was switched on phase {phase}: clamp I{phase} moved and no other, upward", ("phase", phase)),
                Say.Of("leaving.which-load-and-by-how", "Which load, and by how many amperes"))),
            new("covers", Say.Of("leaving.covers-are-closed-or-barred", "Covers are closed or barred, locks are on, no lead is pinched"), Say.Of("leaving.what-stays-open-and-who", "What stays open, and who knows of it")),
        ];
    }
}
