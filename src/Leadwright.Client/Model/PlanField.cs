using System.Collections.Immutable;

namespace Leadwright.Client.Model;

/// <summary>A figure that may be typed into a plan.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Label">Its label, unit included.</param>
/// <param name="Usual">What is taken when nothing is typed; empty for nothing.</param>
/// <param name="Least">The least that is accepted.</param>
/// <param name="MayBeLeast">True when the least itself is accepted.</param>
public sealed record PlanField(string Key, string Label, string Usual, double Least, bool MayBeLeast)
{
    /// <summary>Expected load.</summary>
    public static ImmutableArray<PlanField> Load { get; } =
    [
        new("kw", "Expected power, all phases, kW", "", 0, false),
        new("amps", "or current of a line, A", "", 0, false),
        new("peak", "Highest over expected, times", "1.5", 1, true),
    ];

    /// <summary>Clamps.</summary>
    public static ImmutableArray<PlanField> Clamps { get; } =
    [
        new("range", "Range of the clamps, A", "", 0, false),
        new("reading-error", "Error, % of the reading", "1", 0, true),
        new("range-error", "and % of the range", "0.1", 0, true),
        new("angle-error", "Angle error, degrees", "1", 0, true),
    ];

    /// <summary>Recorder.</summary>
    public static ImmutableArray<PlanField> Recorder { get; } =
    [
        new("memory", "Free memory, MB", "", 0, false),
        new("quantities", "Quantities stored", "12", 0, false),
        new("statistics", "Values of each", "3", 0, false),
        new("bytes", "Bytes a value", "4", 0, false),
        new("battery", "Battery, hours", "", 0, true),
        new("outage", "Supply may be gone, hours", "0", 0, true),
    ];

    /// <summary>What may be decided already.</summary>
    public static ImmutableArray<PlanField> Decided { get; } =
    [
        new("interval", "Interval, seconds", "", 0, false),
        new("days", "Length, days", "", 0, false),
    ];

    /// <summary>All figures.</summary>
    public static ImmutableArray<PlanField> All { get; } = [.. Load, .. Clamps, .. Recorder, .. Decided];

    /// <summary>Reads a text.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="value">Receives the figure, or the usual one; null when there is neither.</param>
    /// <returns>False when something was typed that is no such figure.</returns>
    public bool TryRead(string text, out double? value)
    {
        value = null;
        if (string.IsNullOrWhiteSpace(text))
        {
            if (DecimalText.TryRead(Usual, out var usual)) value = usual;
            return true;
        }

        if (!DecimalText.TryRead(text, out var typed) || typed < Least || (typed == Least && !MayBeLeast)) return false;
        value = typed;
        return true;
    }
}
