using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>Draws virtual weeks, one for each number.</summary>
/// <remarks>Three weeks in ten have no mishap, though some of them an outage or a dip; five have one, two have two or three. A quarter of the
/// mishaps last to the end, one in eight from the first interval to the last. Shares are assumed.</remarks>
public sealed record WeekPopulation
{
    /// <summary>Seed of the population.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Length of an interval, seconds; 0 to draw 600 or 60. Default 0.</summary>
    public int IntervalSeconds { get; init; }

    /// <summary>The service; null to draw it, wye for more than half. Default null.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>The only kind of mishap to draw; null for all. Default null.</summary>
    public MishapKind? Only { get; init; }

    /// <summary>What the recorder writes; null to draw it among those with volts, amperes and watts. Default null.</summary>
    public WeekColumns? Columns { get; init; }

    /// <summary>True for weeks without any mishap. Default false.</summary>
    public bool IsClean { get; init; }

    /// <summary>The recipe of a number.</summary>
    public WeekRecipe Recipe(int index)
    {
        var random = new SeededRandom(Seed).Fork((ulong)index + 1000);
        var service = Service ?? random.NextUnit() switch
        {
            < 0.55 => ServiceKind.Wye,
            < 0.67 => ServiceKind.Delta,
            < 0.75 => ServiceKind.DeltaTwoClamp,
            < 0.87 => ServiceKind.Split,
            < 0.92 => ServiceKind.HighLeg,
            < 0.96 => ServiceKind.Network,
            _ => ServiceKind.Single,
        };
        var (nominal, hertz) = service switch
        {
            ServiceKind.Wye => random.Below(3) switch { 0 => ("120/208", 60), 1 => ("277/480", 60), _ => ("230/400", 50) },
            ServiceKind.Network => random.Chance(0.5) ? ("120/208", 60) : ("230/400", 50),
            ServiceKind.Delta or ServiceKind.DeltaTwoClamp => random.Chance(0.5) ? ("480", 60) : ("400", 50),
            ServiceKind.Single => random.Chance(0.7) ? ("230", 50) : ("120", 60),
            _ => ("120/240", 60),
        };
        NominalVoltage.TryParse(nominal, service, out var volts);
        var recipe = new WeekRecipe
        {
            Service = service,
            Nominal = volts!,
            Hertz = hertz,
            Site = (SiteKind)random.Below(5),
            Seed = random.NextBits(),
            IntervalSeconds = IntervalSeconds > 0 ? IntervalSeconds : random.Chance(0.7) ? 600 : 60,
            Columns = Columns ?? random.NextUnit() switch { < 0.5 => WeekColumns.Everything, < 0.85 => WeekColumns.VoltsAmperesWattsVars, _ => WeekColumns.VoltsAmperesWatts },
            HasSolar = random.Chance(0.15),
            HasNeutralClamp = service == ServiceKind.Wye && random.Chance(0.2),
        };
        return recipe with { Mishaps = new MishapDraw(recipe, random).Draw(Only, IsClean) };
    }

    /// <summary>The week of a number.</summary>
    public VirtualWeek Week(int index) => VirtualWeek.Make(Recipe(index));
}
