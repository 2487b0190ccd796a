using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Reports.Studies;

/// <summary>Events by duration and magnitude, with the ITI and SEMI F47 curves.</summary>
internal static class MagnitudeDurationPlot
{
    private const double Shortest = 0.0002, Longest = 600;

    public static string Of(ImmutableArray<StudyEvent> events)
    {
        var shown = events.Where(found => found.HasMagnitude).ToList();
        var most = Math.Max(200, 1.05 * shown.Max(found => found.ExtremePercent));
        var frame = new PlotFrame(
            "Events by duration and magnitude",
            FormattableString.Invariant($"{shown.Count} events; {shown.Count(found => found.RegionOf(ToleranceCurve.Iti) == ToleranceRegion.Below)} below the ITI curve, {shown.Count(found => found.RegionOf(ToleranceCurve.Iti) == ToleranceRegion.Above)} above it, {shown.Count(found => found.RegionOf(ToleranceCurve.SemiF47) == ToleranceRegion.Below)} below SEMI F47."),
            (Shortest, Longest), (0, most), isLogX: true)
            .TicksY("% of nominal")
            .TicksX([(0.001, "1 ms"), (0.01, "10 ms"), (0.1, "0.1 s"), (1, "1 s"), (10, "10 s"), (100, "100 s")], "duration");
        frame.Line(Steps(ToleranceCurve.Iti.Lower), "#1f4e79", width: 2).Line(Steps(ToleranceCurve.Iti.Upper).Where(point => point.Y <= most), "#1f4e79", width: 2);
        frame.Line(Steps(ToleranceCurve.SemiF47.Lower), "#00695c", "7 3", 2);
        frame.Label(560, 24, "ITI full").Label(640, 24, "SEMI F47 dashed").Label(770, 24, "dip o  swell +  interruption x");
        foreach (var found in shown)
        {
            var (x, y) = (frame.X(Math.Clamp(found.Seconds, Shortest, Longest)), frame.Y(found.ExtremePercent));
            frame.Mark($"<path d=\"{Sign(found.Kind, x, y)}\" fill=\"none\" stroke=\"#a13d00\" stroke-width=\"2\"><title>{found.Kind} {found.Start.ToString("yyyy-MM-dd HH:mm:ss.fff", CultureInfo.InvariantCulture)}</title></path>");
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
