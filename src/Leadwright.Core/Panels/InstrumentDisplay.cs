using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>What an instrument shows, how finely, and in which conventions.</summary>
/// <remarks>The default shows everything unrounded, angles positive when leading and from one reference, power to the load
/// positive, and states so.</remarks>
public sealed record InstrumentDisplay
{
    /// <summary>Everything, unrounded.</summary>
    public static InstrumentDisplay Everything { get; } = new();

    /// <summary>Volts and amperes alone.</summary>
    public static InstrumentDisplay MagnitudesOnly { get; } = new()
    {
        ShowsAngles = false, ShowsWatts = false, ShowsVars = false, ShowsVoltAmperes = false, ShowsPowerFactor = false,
        ShowsVoltageSum = false,
    };

    /// <summary>Volts, amperes, watts and vars, but no angles.</summary>
    public static InstrumentDisplay NoAngles { get; } = new() { ShowsAngles = false, ShowsVoltageSum = false };

    /// <summary>Volts and amperes with angles, but no powers.</summary>
    public static InstrumentDisplay NoPowers { get; } = new()
    {
        ShowsWatts = false, ShowsVars = false, ShowsVoltAmperes = false, ShowsPowerFactor = false, ShowsVoltageSum = false,
    };

    /// <summary>Angles of volts and amperes.</summary>
    public bool ShowsAngles { get; init; } = true;

    /// <summary>Watts by phase or element.</summary>
    public bool ShowsWatts { get; init; } = true;

    /// <summary>Vars by phase or element, of the fundamental.</summary>
    public bool ShowsVars { get; init; } = true;

    /// <summary>Volt-amperes by phase or element.</summary>
    public bool ShowsVoltAmperes { get; init; } = true;

    /// <summary>Power factor by phase or element: watts over volt-amperes, with the sign of the watts.</summary>
    public bool ShowsPowerFactor { get; init; } = true;

    /// <summary>Volts between the leads, besides those to neutral.</summary>
    public bool ShowsLineToLine { get; init; } = true;

    /// <summary>The sum of the three voltages sample by sample, on wye services, as a snapshot of samples gives it.</summary>
    public bool ShowsVoltageSum { get; init; } = true;

    /// <summary>The spread of each phasor, as averaging over windows gives it.</summary>
    public bool ShowsSpread { get; init; }

    /// <summary>Significant digits of volts, amperes and powers, 2 to 15. Default 15: not rounded.</summary>
    public int SignificantDigits { get; init; } = 15;

    /// <summary>Decimals of angles, 0 to 15. Default 15: not rounded.</summary>
    public int AngleDecimals { get; init; } = 15;

    /// <summary>The sign that the instrument really gives to angles. <see cref="AngleSign.NotStated"/> counts as leading positive.</summary>
    public AngleSign AngleSign { get; init; } = AngleSign.LeadPositive;

    /// <summary>What current angles are really measured from. <see cref="CurrentAngleReference.NotStated"/> counts as common.</summary>
    /// <remarks>A current's own voltage is its channel's; on three-clamp delta the line against the star point, with two
    /// clamps V12 for clamp 1 and V32 for clamp 3; for a neutral clamp that of phase 1.</remarks>
    public CurrentAngleReference CurrentAngleReference { get; init; } = CurrentAngleReference.Common;

    /// <summary>The sign that power to the load really gets. <see cref="PowerSign.NotStated"/> counts as positive.</summary>
    public PowerSign PowerSign { get; init; } = PowerSign.LoadPositive;

    /// <summary>False when the readings are passed on without saying which conventions the instrument has.</summary>
    public bool StatesConventions { get; init; } = true;
}
