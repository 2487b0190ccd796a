using Leadwright.Core.Signals.Events;

namespace Leadwright.Reports.Measuring;

/// <summary>What events are called in tables, JSON and text.</summary>
public static class EventNames
{
    /// <summary>The name of a kind, as in the contract of the command line.</summary>
    public static string Of(VoltageEventKind kind) => kind switch
    {
        VoltageEventKind.Dip => "dip",
        VoltageEventKind.Swell => "swell",
        VoltageEventKind.Interruption => "interruption",
        VoltageEventKind.RapidChange => "rapid-voltage-change",
        _ => "transient",
    };

    /// <summary>The name of an event's extreme value.</summary>
    public static string ExtremeKey(string kind) => kind switch
    {
        "swell" => "highest_percent",
        "rapid-voltage-change" => "change_percent",
        "transient" => "deviation_percent",
        _ => "residual_percent",
    };
}
