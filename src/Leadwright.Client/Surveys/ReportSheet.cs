using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>What a person chooses and writes for the report of a survey.</summary>
public sealed record ReportSheet
{
    /// <summary>Number of the journal's last entry: what a change must have been made from.</summary>
    public long Sequence { get; init; }

    /// <summary>The parts that there are, in their order, with their notes.</summary>
    public ImmutableArray<ReportPartCard> Parts { get => field.IsDefault ? [] : field; init; }

    /// <summary>The places that are filled with words.</summary>
    public ImmutableArray<ReportField> Fields { get => field.IsDefault ? [] : field; init; }

    /// <summary>What is to be worked out of the load.</summary>
    public ImmutableArray<ReportField> Study { get => field.IsDefault ? [] : field; init; }

    /// <summary>The paper of a PDF, <c>a4</c> or <c>letter</c>.</summary>
    public string Paper { get => field ?? "a4"; init; } = "a4";
}

/// <summary>A part of the report.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Title">Its title.</param>
/// <param name="IsChosen">True when it is wanted.</param>
/// <param name="Note">The place for a note in it.</param>
public sealed record ReportPartCard(string Id, string Title, bool IsChosen, ReportField Note);

/// <summary>A place of the report that is filled with words.</summary>
/// <param name="Place">Its name in the journal.</param>
/// <param name="Title">What it is.</param>
public sealed record ReportField(string Place, string Title)
{
    /// <summary>How it is filled; empty where the title says it.</summary>
    public string Hint { get => field ?? ""; init; }

    /// <summary>Lines that are usual: 1 for a single one.</summary>
    public int LineCount { get; init; } = 1;

    /// <summary>What a person wrote; empty for nothing.</summary>
    public string Text { get => field ?? ""; init; }

    /// <summary>What stands there while nobody wrote anything.</summary>
    public string Usual { get => field ?? ""; init; }

    /// <summary>The values that it takes; empty where any text will do.</summary>
    public ImmutableArray<string> Choices { get => field.IsDefault ? [] : field; init; }

    /// <summary>Who wrote it; empty for nobody.</summary>
    public string Who { get => field ?? ""; init; }

    /// <summary>When it was written; null for never.</summary>
    public DateTimeOffset? At { get; init; }
}

/// <summary>Words for a place of the report.</summary>
/// <param name="Place">The place.</param>
/// <param name="Text">The words; empty to go back to what stands there without.</param>
/// <param name="Sequence">The journal's last entry that the person saw.</param>
public sealed record WordsChange(string Place, string Text, long Sequence);

/// <summary>A report that can be had as a document.</summary>
/// <param name="Sequence">The journal's last entry that it knows of.</param>
public sealed record ReportMade(long Sequence);
