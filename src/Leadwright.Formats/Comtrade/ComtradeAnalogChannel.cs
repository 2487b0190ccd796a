namespace Leadwright.Formats.Comtrade;

/// <summary>An analog channel as the configuration states it (C37.111-2013 clause 7.4.4).</summary>
/// <remarks>value = <see cref="Multiplier"/> × raw + <see cref="Offset"/>, in <see cref="Unit"/>, on <see cref="Side"/>.</remarks>
public sealed record ComtradeAnalogChannel
{
    /// <summary>Its number in the file, usually from 1.</summary>
    public required int Number { get; init; }

    /// <summary>Its name (ch_id), blanks around it left out.</summary>
    public required string Id { get; init; }

    /// <summary>Its phase field; empty when there is none.</summary>
    public string Phase { get; init; } = "";

    /// <summary>The circuit component it belongs to (ccbm); empty when there is none.</summary>
    public string Component { get; init; } = "";

    /// <summary>Its unit with prefix, such as <c>kV</c>; empty when there is none.</summary>
    public string Unit { get; init; } = "";

    /// <summary>The multiplier a.</summary>
    public double Multiplier { get; init; } = 1;

    /// <summary>The offset b, in <see cref="Unit"/>.</summary>
    public double Offset { get; init; }

    /// <summary>How long after the sample's time stamp it was sampled, seconds.</summary>
    public double SkewSeconds { get; init; }

    /// <summary>The smallest raw value; NaN when not stated.</summary>
    public double Minimum { get; init; } = double.NaN;

    /// <summary>The largest raw value; NaN when not stated.</summary>
    public double Maximum { get; init; } = double.NaN;

    /// <summary>Primary side of the transformer ratio; NaN when not stated.</summary>
    public double Primary { get; init; } = double.NaN;

    /// <summary>Secondary side of the transformer ratio; NaN when not stated.</summary>
    public double Secondary { get; init; } = double.NaN;

    /// <summary>The side that the values stand for.</summary>
    public ComtradeSide Side { get; init; }
}
