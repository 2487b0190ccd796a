using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>What a person found when doing one of the actions that settle a doubt.</summary>
/// <param name="Action">What was done.</param>
/// <param name="Answer">What was found, in the words of the action; see <see cref="SettlingKind"/>.</param>
/// <remarks>It is weighed like any other evidence, with a small chance that the person erred: it moves the verdict, and does not
/// overrule the readings.</remarks>
public sealed record ToldAnswer(SettlingAction Action, string Answer)
{
    /// <summary>Reads <c>ACTION=ANSWER</c>, such as <c>switched:A=I2,up</c>.</summary>
    /// <param name="text">The text; letters in any case.</param>
    /// <param name="told">Receives the answer; null when the text is none.</param>
    /// <param name="problem">Receives what is wrong and what to write instead; empty when nothing is.</param>
    /// <returns>True when the text is an action with an answer of it.</returns>
    public static bool TryParse(string? text, out ToldAnswer? told, out string problem)
    {
        told = null;
        var parts = (text ?? "").Split('=', 2, StringSplitOptions.TrimEntries);
        if (parts.Length < 2 || parts[0].Length == 0 || parts[1].Length == 0)
        {
            problem = $"'{text}' is not ACTION=ANSWER, such as switched:A=I2,up. Actions: {SettlingText.Actions}.";
            return false;
        }

        if (SettlingText.ReadAction(parts[0], out problem) is { } action && SettlingText.ReadAnswer(action, parts[1], out problem) is { } answer)
            told = new ToldAnswer(action, answer);
        if (problem.Length > 0) problem += ".";
        return told is not null;
    }

    /// <summary>Puts two lists together: where both answer one action, the later list counts.</summary>
    /// <param name="earlier">Such as what a file says.</param>
    /// <param name="later">Such as what the command line says.</param>
    public static ImmutableArray<ToldAnswer> Merge(IEnumerable<ToldAnswer> earlier, IEnumerable<ToldAnswer> later)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        var newer = later.ToList();
        return [.. earlier.Where(told => newer.TrueForAll(other => other.Action != told.Action)), .. newer];
    }

    /// <summary>The clamps of an answer to <see cref="SettlingKind.Switched"/>, each with 1 where its power rose, −1 where it fell, 0
    /// where that was not said; empty for any other answer.</summary>
    /// <param name="answer">The answer.</param>
    public static IReadOnlyDictionary<Clamp, int> MovedClamps(string answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        return SettlingText.Movements(answer) ?? [];
    }

    /// <summary><c>ACTION=ANSWER</c>.</summary>
    public override string ToString() => $"{Action.Id}={Answer}";
}
