namespace Leadwright.Core.Studies.Events;

/// <summary>On which side of the recorder something happened.</summary>
public enum EventSide
{
    /// <summary>The evidence does not say.</summary>
    Undecided,

    /// <summary>Toward the supply.</summary>
    Upstream,

    /// <summary>Toward the load.</summary>
    Downstream,
}

/// <summary>What one published method says of an event's side.</summary>
/// <param name="Method">The method with its source.</param>
/// <param name="Side">Its answer.</param>
/// <param name="Value">The quantity it decides by.</param>
/// <param name="Unit">Its unit.</param>
public readonly record struct SideVote(string Method, EventSide Side, double Value, string Unit);
