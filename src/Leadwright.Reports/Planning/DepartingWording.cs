using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;

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
            new("clock", "The recorder's clock was compared with a known clock", "By how much it differs, and which clock"),
            new("range", "The range of each clamp has room above the largest load expected", "Range, and the largest current expected"),
            new("memory", "The memory lasts beyond the day of collection", "Days left by the recorder's screen"),
            new("supply", "The recorder runs from a supply that nobody unplugs, and its battery is charged", "What it is fed from"),
            .. Enumerable.Range(1, phases).Select(phase => new DepartingItem(
                string.Create(CultureInfo.InvariantCulture, $"load-{phase}"),
                phases == 1 ? "One known load was switched: the clamp moved, upward" : string.Create(CultureInfo.InvariantCulture, $"One known load was switched on phase {phase}: clamp I{phase} moved and no other, upward"),
                "Which load, and by how many amperes")),
            new("covers", "Covers are closed or barred, locks are on, no lead is pinched", "What stays open, and who knows of it"),
        ];
    }
}
