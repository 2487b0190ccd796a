using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>Draws the loads of a site.</summary>
/// <remarks>Sizes, hours and duty are assumed to be those of ordinary small sites: common practice, no source.</remarks>
internal static class SiteLoads
{
    private static readonly double[] s_always = Hours(1);

    public static List<SiteLoad> Draw(WeekRecipe recipe, double ratingAmperes, SeededRandom random)
    {
        var volts = recipe.Nominal.LineToNeutralVolts;
        var lines = LinesOf(recipe.Service);
        var isThreePhase = lines == 3;
        var hasNeutral = recipe.Service is not (ServiceKind.Delta or ServiceKind.DeltaTwoClamp);
        var rated = volts * ratingAmperes;
        var loads = new List<SiteLoad>();
        var (open, close) = recipe.Site switch
        {
            SiteKind.Office => (7.5, 18.0),
            SiteKind.Workshop => (6.5, 16.0),
            SiteKind.Shop => (8.0, 20.0),
            SiteKind.Farm => (5.0, 19.0),
            _ => (6.0, 23.0),
        };
        open += random.Uniform(-0.7, 0.7);
        close += random.Uniform(-0.7, 0.7);

        // What is always there, and what follows the day, on each line for itself.
        for (var line = 0; line < lines; line++)
        {
            var (from, to) = Place(recipe.Service, line, hasNeutral);
            loads.Add(Steady(from, to, rated * random.Uniform(0.02, 0.07), random.Uniform(0.8, 0.99), s_always, s_always, 0.06, random.Uniform(1, 1.08)));
            loads.Add(Steady(
                from, to, rated * random.Uniform(0.06, 0.22), random.Uniform(0.85, 0.99),
                Day(recipe.Site, open, close), Weekend(recipe.Site, open, close), random.Uniform(0.06, 0.16), random.Uniform(1, 1.15)));
            var count = recipe.Site == SiteKind.Dwelling ? 7 : 4;
            for (var index = 0; index < count; index++)
            {
                loads.Add(Switched(
                    from, to, rated * random.LogUniform(0.01, 0.09), random.Chance(0.6) ? 1 : random.Uniform(0.7, 0.98),
                    Scale(Day(recipe.Site, open, close), random.Uniform(0.1, 0.5)), Scale(Weekend(recipe.Site, open, close), random.Uniform(0.1, 0.5)),
                    random.LogUniform(180, 5400), false));
            }

            // Refrigeration and the like: day and night.
            loads.Add(Switched(from, to, rated * random.Uniform(0.01, 0.035), random.Uniform(0.6, 0.85), Hours(random.Uniform(0.3, 0.6)), Hours(0.4), random.Uniform(300, 1200), true));
        }

        if (isThreePhase)
        {
            var motors = recipe.Site is SiteKind.Workshop or SiteKind.Farm ? 5 : 2;
            for (var index = 0; index < motors; index++)
            {
                loads.Add(Switched(
                    -1, -1, 3 * rated * random.LogUniform(0.015, 0.1), random.Uniform(0.72, 0.9),
                    Scale(Day(recipe.Site, open, close), random.Uniform(0.2, 0.7)), Scale(Weekend(recipe.Site, open, close), random.Uniform(0.05, 0.3)),
                    random.LogUniform(240, 7200), true));
            }

            loads.Add(Steady(
                -1, -1, 3 * rated * random.Uniform(0.02, 0.1), random.Uniform(0.88, 0.98), Day(recipe.Site, open, close), Weekend(recipe.Site, open, close),
                0.1, random.Uniform(1.02, 1.2)));
        }
        else if (lines == 2)
        {
            loads.Add(Switched(0, 1, 2 * rated * random.Uniform(0.04, 0.12), 1, Scale(Day(recipe.Site, open, close), 0.3), Hours(0.2), 1500, false));
            loads.Add(Switched(0, 1, 2 * rated * random.Uniform(0.03, 0.1), 0.88, Hours(0.35), Hours(0.35), 900, true));
        }

        return loads;
    }

    public static int LinesOf(ServiceKind service) => service switch
    {
        ServiceKind.Single => 1,
        ServiceKind.Split or ServiceKind.Network => 2,
        _ => 3,
    };

    private static (int From, int To) Place(ServiceKind service, int line, bool hasNeutral)
    {
        // On a high-leg service single-phase loads keep off the high leg.
        if (service == ServiceKind.HighLeg && line == 1) return (0, 2);
        return hasNeutral ? (line, 3) : (line, (line + 1) % 3);
    }

    private static SiteLoad Steady(int from, int to, double watts, double factor, double[] workday, double[] weekend, double wander, double distortion) =>
        new()
        {
            From = from, To = to, Watts = watts, Vars = Vars(watts, factor), WorkdayShares = workday, WeekendShares = weekend, Wander = wander,
            Distortion = distortion,
        };

    private static SiteLoad Switched(int from, int to, double watts, double factor, double[] workday, double[] weekend, double onSeconds, bool isMotor) =>
        new()
        {
            From = from, To = to, Watts = watts, Vars = Vars(watts, factor), WorkdayShares = workday, WeekendShares = weekend, OnSeconds = onSeconds,
            IsMotor = isMotor && factor < 1,
        };

    private static double Vars(double watts, double factor) => watts * Math.Sqrt(1 - (factor * factor)) / factor;

    private static double[] Hours(double share) => [.. Enumerable.Repeat(share, 24)];

    private static double[] Scale(double[] shares, double factor) => [.. shares.Select(share => Math.Min(0.95, share * factor))];

    private static double[] Day(SiteKind site, double open, double close) => [.. Enumerable.Range(0, 24).Select(hour => site switch
    {
        SiteKind.Dwelling => 0.25 + (0.5 * Bump(hour, 7.5, 1.5)) + (0.9 * Bump(hour, 19.5, 2.5)) + (0.15 * Bump(hour, 12.5, 1.5)),
        SiteKind.Farm => 0.3 + (0.8 * Bump(hour, 6, 1.6)) + (0.8 * Bump(hour, 17.5, 1.8)) + (0.2 * Bump(hour, 11, 3)),
        _ => 0.12 + (0.88 / ((1 + Math.Exp(-2 * (hour - open))) * (1 + Math.Exp(2 * (hour - close))))),
    })];

    private static double[] Weekend(SiteKind site, double open, double close) => site switch
    {
        SiteKind.Dwelling or SiteKind.Farm => Day(site, open, close),
        SiteKind.Shop => Scale(Day(site, open, close), 0.7),
        _ => Scale(Day(site, open, close), 0.2),
    };

    private static double Bump(double hour, double centre, double width) => Math.Exp(-0.5 * (hour - centre) * (hour - centre) / (width * width));
}
