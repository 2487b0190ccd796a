using System.Collections.Immutable;
using Leadwright.Formats.Matching;

namespace Leadwright.Client.Surveys;

/// <summary>How the columns of a recording are read, to be looked at and confirmed.</summary>
public sealed record ColumnMatchSheet
{
    /// <summary>Number of the journal's last entry: what a confirmation must have been made from.</summary>
    public long Sequence { get; init; }

    /// <summary>How the table was read, in words.</summary>
    public string How { get => field ?? ""; init; }

    /// <summary>The columns, in the order of the table.</summary>
    public ImmutableArray<ColumnMatchRow> Columns { get => field.IsDefault ? [] : field; init; }

    /// <summary>What was assumed, or not understood: whole sentences.</summary>
    public ImmutableArray<string> Warnings { get => field.IsDefault ? [] : field; init; }

    /// <summary>What only a person can know: whole sentences.</summary>
    public ImmutableArray<string> Questions { get => field.IsDefault ? [] : field; init; }

    /// <summary>Which end of its interval a row was taken to be stamped with: <c>start</c> or <c>end</c>.</summary>
    public string Stamps { get => field ?? ""; init; }

    /// <summary>True when that was assumed.</summary>
    public bool AsksStamps { get; init; }

    /// <summary>The order of dates that was read by, as <c>day-month-year</c>; empty when the dates left no choice.</summary>
    public string Dates { get => field ?? ""; init; }

    /// <summary>True when that was assumed.</summary>
    public bool AsksDates { get; init; }

    /// <summary>How it is said to be read.</summary>
    public SaidReading Said { get => field ?? new(); init; }

    /// <summary>True for a table of text, which may not say how its letters are written.</summary>
    public bool TakesEncoding { get; init; }

    /// <summary>True for a table whose times count from its own start, which nobody knows but a person.</summary>
    public bool TakesStart { get; init; }

    /// <summary>True when a person confirmed it before.</summary>
    public bool IsConfirmed { get; init; }

    /// <summary>True when the program remembers what is confirmed for tables with the same headings.</summary>
    public bool IsRemembered { get; init; }
}

/// <summary>A column as it is read.</summary>
/// <param name="Number">Its number in the table, from 1.</param>
/// <param name="Heading">Its heading.</param>
/// <param name="Taken">What it is taken for.</param>
public sealed record ColumnMatchRow(int Number, string Heading, ColumnEntry Taken)
{
    /// <summary>True for a column of numbers, of which a person can say what they are.</summary>
    public bool IsValue { get; init; }

    /// <summary>True when a person should look at it.</summary>
    public bool IsUnsure { get; init; }

    /// <summary>How sure the match is, 0 to 1.</summary>
    public double Confidence { get; init; }

    /// <summary>What it rests on, in words.</summary>
    public string Why { get => field ?? ""; init; }

    /// <summary>Its first values, as written.</summary>
    public ImmutableArray<string> First { get => field.IsDefault ? [] : field; init; }
}

/// <summary>What a person confirms of the columns of a recording.</summary>
/// <param name="Sequence">Number of the journal's last entry when it was looked at.</param>
public sealed record ColumnMatchKeep(long Sequence)
{
    /// <summary>The columns of numbers, all of them.</summary>
    public ImmutableArray<ColumnEntry> Columns { get => field.IsDefault ? [] : field; init; }

    /// <summary>Which end of its interval a row is stamped with; empty as it was read.</summary>
    public string Stamps { get => field ?? ""; init; }

    /// <summary>The order of dates; empty as it was read.</summary>
    public string Dates { get => field ?? ""; init; }

    /// <summary>How the table is said to be read; null as the survey has it.</summary>
    public SaidReading? Said { get; init; }
}
