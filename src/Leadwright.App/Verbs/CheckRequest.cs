using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>What the command line says about how to read the inputs of a check.</summary>
public sealed record CheckRequest
{
    /// <summary>The service; null when the file has to state it.</summary>
    public Service? Service { get; init; }

    /// <summary>Nominal voltage as on the nameplate; null when not given.</summary>
    public string? Nominal { get; init; }

    /// <summary>Nominal frequency in hertz; null when not given.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>Which channel of a recording is which, as typed; null to go by names and units.</summary>
    public string? Channels { get; init; }

    /// <summary>Which side of the instrument transformers the values are wanted for.</summary>
    public Scaling Scaling { get; init; }

    /// <summary>Samples per second of a table without a time column; null when not given.</summary>
    public double? RateHertz { get; init; }

    /// <summary>Decimal mark of a table; null to find it out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Headings of a table that has none, as typed: <c>V1 (V),I1 (A)</c>; null when not given.</summary>
    public string? Columns { get; init; }

    /// <summary>Sign of angles for readings that don't state it.</summary>
    public AngleSign AngleSign { get; init; }
}
