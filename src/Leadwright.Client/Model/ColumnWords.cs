using System.Collections.Immutable;
using Leadwright.Formats.Matching;

namespace Leadwright.Client.Model;

/// <summary>What the columns of a log can hold, for people to choose from.</summary>
public static class ColumnWords
{
    /// <summary>The quantities.</summary>
    public static ImmutableArray<(string Word, string Title)> Quantities { get; } = Titled(ColumnEntry.Quantities, word => word switch
    {
        "other" => "Something else: keep it under its own name",
        "voltage" => "Voltage V",
        "current" => "Current I",
        "active-power" => "Active power P",
        "reactive-power" => "Reactive power Q",
        "apparent-power" => "Apparent power S",
        "power-factor" => "Power factor",
        "displacement-factor" => "Displacement factor cos φ",
        "active-energy" => "Active energy",
        "reactive-energy" => "Reactive energy",
        "apparent-energy" => "Apparent energy",
        "voltage-angle" => "Angle of a voltage",
        "current-angle" => "Angle of a current",
        "voltage-distortion" => "THD of a voltage",
        "current-distortion" => "THD of a current",
        "voltage-harmonic" => "Harmonic of a voltage",
        "current-harmonic" => "Harmonic of a current",
        "voltage-unbalance" => "Unbalance of the voltages",
        "current-unbalance" => "Unbalance of the currents",
        "zero-sequence-unbalance" => "Zero-sequence unbalance",
        "short-term-flicker" => "Short-term flicker Pst",
        "long-term-flicker" => "Long-term flicker Plt",
        "voltage-crest" => "Crest factor of a voltage",
        "current-crest" => "Crest factor of a current",
        "k-factor" => "K-factor",
        _ => null,
    });

    /// <summary>The places.</summary>
    public static ImmutableArray<(string Word, string Title)> Places { get; } = Titled(ColumnEntry.Places, word => word switch
    {
        "whole" => "All phases together",
        "N" => "Neutral",
        { Length: 1 } => $"Phase {word}",
        { Length: 2 } => $"Between {word[0]} and {word[1]}",
        _ => null,
    });

    /// <summary>What a value says of its interval.</summary>
    public static ImmutableArray<(string Word, string Title)> Statistics { get; } = Titled(ColumnEntry.Statistics, word => word switch
    {
        "mean" => "Mean",
        "minimum" => "Minimum",
        "maximum" => "Maximum",
        "instant" => "At the stamp",
        "amount" => "Amount of the interval",
        "counter" => "Stand of a counter",
        _ => null,
    });

    /// <summary>What a column is taken for, in words.</summary>
    /// <param name="entry">The column.</param>
    public static string Of(ColumnEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (entry.IsLeftOut) return "left out";
        string Title(ImmutableArray<(string Word, string Title)> words, string word) => words.FirstOrDefault(one => one.Word == word).Title ?? word;
        return string.Join(", ", new[] { Title(Quantities, entry.Quantity), Title(Places, entry.Place), Title(Statistics, entry.Statistic), entry.Unit }.Where(part => part.Length > 0));
    }

    // A word that has no title yet stands for itself: nothing that can be said is missing from the list.
    private static ImmutableArray<(string Word, string Title)> Titled(ImmutableArray<string> words, Func<string, string?> title) =>
        [.. words.Select(word => (word, title(word) ?? char.ToUpperInvariant(word[0]) + word[1..].Replace('-', ' ')))];
}
