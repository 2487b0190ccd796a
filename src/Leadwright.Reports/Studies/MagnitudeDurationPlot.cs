using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Reports.Studies;

/// <summary>Events by duration and magnitude, with the ITI and SEMI F47 curves.</summary>
internal static class MagnitudeDurationPlot
{
    private const double Shortest = 0.0002, Longest = 600;

    // One colour and one kind of line for each curve.
    private static readonly (string Colour, string Dashes)[] s_lines = [("#1f4e79", ""), ("#00695c", "7 3"), ("#6a3d9a", "2 3"), ("#7a4b00", "9 3 2 3")];

    public static string Of(ImmutableArray<StudyEvent> events, ImmutableArray<ToleranceCurve> curves)
    {
        var shown = events.Where(found => found.HasMagnitude).ToList();
        var most = Math.Max(200, 1.05 * shown.Max(found => found.ExtremePercent));
        var counts = curves.Select(curve => string.Create(
            CultureInfo.InvariantCulture, $"{shown.Count(found => found.RegionOf(curve) == ToleranceRegion.Below)} below {curve.Name}{(curve.Upper.IsEmpty ? "" : $" and {shown.Count(found => found.RegionOf(curve) == ToleranceRegion.Above)} above it")}"));
        var frame = new PlotFrame(
            "Events by duration and magnitude", $"{shown.Count} events; {string.Join(", ", counts)}.", (Shortest, Longest), (0, most), isLogX: true)
            .TicksY("% of nominal")
            .TicksX([(0.001, "1 ms"), (0.01, "10 ms"), (0.1, "0.1 s"), (1, "1 s"), (10, "10 s"), (100, "100 s")], "duration");
        var taken = new List<(double X, double Y)>();
        for (var index = 0; index < curves.Length; index++)
        {
            var (colour, dashes) = s_lines[index % s_lines.Length];
            frame.Line(Steps(curves[index].Lower), colour, dashes, 2).Line(Steps(curves[index].Upper).Where(point => point.Y <= most), colour, dashes, 2);
            var steps = curves[index].Lower.IsEmpty ? curves[index].Upper : curves[index].Lower;
            if (steps.IsEmpty) continue;
            // A curve without end is named above its end, another one below its first step that asks for something.
            var step = steps.FirstOrDefault(found => found.StartPercent > 0, steps[0]);
            var (x, y) = steps[^1].ToSeconds >= Longest
                ? (frame.X(20), frame.Y(Math.Min(steps[^1].EndPercent, most)) - 6) : (frame.X(Math.Max(step.FromSeconds, Shortest)), frame.Y(Math.Min(step.StartPercent, most)) + 17);
            while (taken.Exists(at => Math.Abs(at.X - x) < 160 && Math.Abs(at.Y - y) < 15)) y += 15;
            taken.Add((x, y));
            frame.Label(x, y, curves[index].Name, colour, isBold: true);
        }

        frame.Label(PlotFrame.PlotEnd, 24, "o dip   + swell   × interruption", "#a13d00", "end");
        foreach (var found in shown)
        {
            var (at, y) = (frame.X(Math.Clamp(found.Seconds, Shortest, Longest)), frame.Y(found.ExtremePercent));
            frame.Mark($"<path d=\"{Sign(found.Kind, at, y)}\" fill=\"none\" stroke=\"#a13d00\" stroke-width=\"2\"><title>{found.Kind} {RecordTime.Text(found.Start, "yyyy-MM-dd HH:mm:ss.fff")}</title></path>");
        }

        return frame.End();
    }

    private static string Sign(string kind, double x, double y) => kind switch
    {
        "swell" => string.Create(CultureInfo.InvariantCulture, $"M{x - 6:0.#} {y:0.#}h12M{x:0.#} {y - 6:0.#}v12"),
        "interruption" => string.Create(CultureInfo.InvariantCulture, $"M{x - 5:0.#} {y - 5:0.#}l10 10m0-10l-10 10"),
        _ => string.Create(CultureInfo.InvariantCulture, $"M{x - 5:0.#} {y:0.#}a5 5 0 1 0 10 0a5 5 0 1 0-10 0"),
    };

    private static IEnumerable<(double X, double Y)> Steps(ImmutableArray<ToleranceStep> steps)
    {
        foreach (var step in steps)
        {
            yield return (Math.Max(step.FromSeconds, Shortest), step.StartPercent);
            yield return (Math.Min(step.ToSeconds, Longest), step.EndPercent);
        }
    }
}
