namespace Leadwright.Core.Studies.Limits;

/// <summary>What is known of the place where limits are judged.</summary>
public sealed record LimitSite
{
    /// <summary>Nominal frequency, hertz; 0 when not known.</summary>
    public double NominalHertz { get; init; }

    /// <summary>Nominal line-to-line voltage, V; NaN when not known.</summary>
    public double LineVolts { get; init; } = double.NaN;

    /// <summary>Maximum demand current at fundamental frequency, A: the mean of the twelve previous months' highest; NaN when not stated.</summary>
    public double DemandAmperes { get; init; } = double.NaN;

    /// <summary>Short-circuit over demand current; NaN when not stated.</summary>
    public double CurrentRatio { get; init; } = double.NaN;

    /// <summary>The nominal system as ANSI C84.1 names it; null when not known.</summary>
    public string? System { get; init; }

    /// <summary>Place in the system. Default <c>service</c>: where the utility's system meets the user's.</summary>
    public string Point { get; init; } = "service";
}
