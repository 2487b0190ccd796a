using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>The check before leaving the site: what is looked at, and what was signed.</summary>
public sealed record DepartingSheet
{
    /// <summary>Number of the journal's last entry: what a signature must have been made from.</summary>
    public long Sequence { get; init; }

    /// <summary>What is looked at.</summary>
    public ImmutableArray<DepartingItem> Items { get => field.IsDefault ? [] : field; init; }

    /// <summary>What was signed, the last first.</summary>
    public ImmutableArray<DepartingSigned> Signed { get => field.IsDefault ? [] : field; init; }
}

/// <summary>Something to look at before leaving.</summary>
/// <param name="Key">Its word.</param>
/// <param name="Text">What is looked at.</param>
/// <param name="Hint">What to write down with it.</param>
public sealed record DepartingItem(string Key, string Text, string Hint);

/// <summary>An answer to an item.</summary>
/// <param name="Key">The item's word; empty where it was signed without one.</param>
/// <param name="Answer"><c>yes</c>, <c>no</c> or <c>not-possible</c>.</param>
/// <param name="Remark">What was said to it; empty for nothing.</param>
public sealed record DepartingAnswer(string Key, string Answer, string Remark)
{
    /// <summary>What was looked at.</summary>
    public string Text { get => field ?? ""; init; }
}

/// <summary>A check that was signed.</summary>
/// <param name="At">When, by the program's clock.</param>
/// <param name="Who">By whom.</param>
/// <param name="Note">What else was said.</param>
public sealed record DepartingSigned(DateTimeOffset At, string Who, string Note)
{
    /// <summary>The answers.</summary>
    public ImmutableArray<DepartingAnswer> Answers { get => field.IsDefault ? [] : field; init; }

    /// <summary>How many were not in order, or could not be looked at.</summary>
    public int OpenCount => Answers.Count(answer => answer.Answer != "yes");
}

/// <summary>Answers that are to be signed.</summary>
/// <param name="Who">Who signs.</param>
/// <param name="Note">What else is said.</param>
/// <param name="Sequence">The journal's last entry that the person saw.</param>
public sealed record DepartingSign(string Who, string Note, long Sequence)
{
    /// <summary>The answers.</summary>
    public ImmutableArray<DepartingAnswer> Answers { get => field.IsDefault ? [] : field; init; }
}
