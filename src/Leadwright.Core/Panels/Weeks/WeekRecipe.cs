using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>What a virtual week is made from. The same recipe gives the same week.</summary>
public sealed record WeekRecipe
{
    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>Nominal voltages.</summary>
    public required NominalVoltage Nominal { get; init; }

    /// <summary>The site. Default <see cref="SiteKind.Office"/>.</summary>
    public SiteKind Site { get; init; }

    /// <summary>Seed of all that is drawn.</summary>
    public ulong Seed { get; init; }

    /// <summary>Start of the recording, by the right time. Default Monday 2 March 2026.</summary>
    public DateTime Start { get; init; } = new(2026, 3, 2);

    /// <summary>Length in days; above zero. Default 7.</summary>
    public double Days { get; init; } = 7;

    /// <summary>Length of an interval, seconds: 1 to 900. Default 600.</summary>
    public int IntervalSeconds { get; init; } = 600;

    /// <summary>What is recorded. Default <see cref="WeekColumns.Everything"/>.</summary>
    public WeekColumns Columns { get; init; }

    /// <summary>True when generation on the roof sends power back at times. Default false.</summary>
    public bool HasSolar { get; init; }

    /// <summary>Nominal frequency, hertz. Default 50.</summary>
    public double Hertz { get; init; } = 50;

    /// <summary>True when there is a clamp on the neutral. Default false.</summary>
    public bool HasNeutralClamp { get; init; }

    /// <summary>What goes wrong. Default nothing.</summary>
    public ImmutableArray<Mishap> Mishaps { get; init; } = [];
}
