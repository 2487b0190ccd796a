namespace Leadwright.Formats.Comtrade;

/// <summary>A status (digital) channel as the configuration states it.</summary>
public sealed record ComtradeStatusChannel
{
    /// <summary>Its number in the file, usually from 1.</summary>
    public required int Number { get; init; }

    /// <summary>Its name (ch_id), blanks around it left out.</summary>
    public required string Id { get; init; }

    /// <summary>Its phase field; empty when there is none.</summary>
    public string Phase { get; init; } = "";

    /// <summary>The circuit component it belongs to (ccbm); empty when there is none.</summary>
    public string Component { get; init; } = "";

    /// <summary>True when its normal state is 1.</summary>
    public bool IsNormallyOn { get; init; }
}
