namespace Leadwright.Core.Signals;

/// <summary>What a channel measures; channels are weighed against others of their kind.</summary>
public enum SignalKind
{
    /// <summary>A voltage.</summary>
    Voltage,

    /// <summary>A current.</summary>
    Current,
}
