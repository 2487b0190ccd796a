namespace Leadwright.Core.Studies.Limits;

/// <summary>Where a rule applies. What is null or NaN makes no condition.</summary>
public sealed record LimitScope
{
    /// <summary>Nominal frequency, hertz.</summary>
    public double Hertz { get; init; } = double.NaN;

    /// <summary>Line-to-line voltage above this, V.</summary>
    public double VoltsAbove { get; init; } = double.NaN;

    /// <summary>Line-to-line voltage up to this, V.</summary>
    public double VoltsUpTo { get; init; } = double.NaN;

    /// <summary>Short-circuit over demand current from this on.</summary>
    public double RatioFrom { get; init; } = double.NaN;

    /// <summary>Short-circuit over demand current below this.</summary>
    public double RatioBelow { get; init; } = double.NaN;

    /// <summary>Name of the nominal system, as the source writes it.</summary>
    public string? System { get; init; }

    /// <summary>Place in the system: <c>service</c> or <c>utilization</c>.</summary>
    public string? Point { get; init; }

    /// <summary>Whether the rule applies at a site; null when the site does not say enough.</summary>
    /// <param name="site">The site.</param>
    public bool? Applies(LimitSite site)
    {
        ArgumentNullException.ThrowIfNull(site);
        var isOpen = false;
        if (!double.IsNaN(Hertz))
        {
            if (site.NominalHertz <= 0) isOpen = true;
            else if (Math.Abs(site.NominalHertz - Hertz) > 0.5) return false;
        }

        if (!double.IsNaN(VoltsAbove) || !double.IsNaN(VoltsUpTo))
        {
            if (double.IsNaN(site.LineVolts)) isOpen = true;
            else if (site.LineVolts <= VoltsAbove || site.LineVolts > VoltsUpTo) return false;
        }

        if (!double.IsNaN(RatioFrom) || !double.IsNaN(RatioBelow))
        {
            if (double.IsNaN(site.CurrentRatio)) isOpen = true;
            else if (site.CurrentRatio < RatioFrom || site.CurrentRatio >= RatioBelow) return false;
        }

        if (System is not null)
        {
            if (site.System is null) isOpen = true;
            else if (site.System != System) return false;
        }

        if (Point is not null && site.Point != Point) return false;
        return isOpen ? null : true;
    }
}
