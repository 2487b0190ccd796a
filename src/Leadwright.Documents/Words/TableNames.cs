using System.Collections.Immutable;
using Leadwright.Core.Wording;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Words;

/// <summary>The short names of tables: what a reader by ear hears of a table without a caption, and the names of a workbook's sheets.</summary>
public static class TableNames
{
    /// <summary>The names in English.</summary>
    public static ImmutableArray<string> All { get; } =
    [
        "Before and after", "Bill", "Capacitor", "Capacity conditions", "Channels", "Check before leaving", "Checks at the panel", "Comparison", "Corrections", "Currents",
        "Cycling loads", "Days", "Demand", "Demand by window", "Energy", "Energy by hour", "Events", "Evidence", "Files", "Findings", "Hook-up faults", "Hook-ups",
        "Instruments", "Lost", "Months", "Other answers", "Outages", "Photos and papers", "Reading", "Readings", "Site", "Standards", "Standings", "Tariff periods",
        "Usable", "Voltages", "Watch",
    ];

    /// <summary>The key of a name in a file of words.</summary>
    /// <param name="name">The name in English.</param>
    public static string KeyOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return $"list.{name.ToLowerInvariant().Replace(' ', '-')}";
    }

    /// <summary>A block with its name, where it is a table, in the words in force.</summary>
    /// <param name="block">The block.</param>
    public static Block Said(Block block) => block is TableBlock table ? table with { Name = Say.Of(KeyOf(table.Name), table.Name) } : block;
}
