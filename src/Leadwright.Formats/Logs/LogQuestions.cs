namespace Leadwright.Formats.Logs;

/// <summary>What a reader of logs asks about the times of a table; whoever tells how to answer goes by these.</summary>
public static class LogQuestions
{
    private const string DatesStart = "Do the dates stand as ";

    /// <summary>Which end of its interval a row is stamped with.</summary>
    public const string Stamps = "Which end of its interval does the time of a row stand for: is a row of 10:00 with 15 minutes 10:00 to 10:15 (start), or 9:45 to 10:00 (end)?";

    /// <summary>What the values are, where not one column was understood.</summary>
    public const string Columns = "What do the columns hold? Not one of them was understood: nothing can be guarded, mended or studied until a person says it.";

    /// <summary>The time of second 0.</summary>
    public const string Start = "When did the log start?";

    /// <summary>True of a note that asks: questions stand among what was met and assumed.</summary>
    /// <param name="note">A note.</param>
    public static bool Asks(string note)
    {
        ArgumentNullException.ThrowIfNull(note);
        return note.EndsWith('?');
    }

    /// <summary>The order of dates.</summary>
    /// <param name="order">The order that was taken, in words.</param>
    public static string Dates(string order) => $"{DatesStart}{order}?";

    /// <summary>True of <see cref="Dates"/>.</summary>
    /// <param name="question">A question.</param>
    public static bool AsksForDates(string question)
    {
        ArgumentNullException.ThrowIfNull(question);
        return question.StartsWith(DatesStart, StringComparison.Ordinal);
    }
}
