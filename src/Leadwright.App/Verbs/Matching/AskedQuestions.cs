using System.Collections.Immutable;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Verbs.Matching;

/// <summary>What only a person can know of how a file is to be read, with the option that answers it.</summary>
internal static class AskedQuestions
{
    /// <summary>The notes that ask nothing.</summary>
    public static ImmutableArray<string> WithoutThem(ImmutableArray<string> notes) => notes.RemoveAll(LogQuestions.Asks);

    /// <summary>Writes the questions among notes, each with its answers, and where to look; nothing where there is none.</summary>
    /// <param name="output">Receives them.</param>
    /// <param name="notes">The notes.</param>
    /// <param name="file">The file, as the verb that answers names it.</param>
    public static async Task WriteAsync(TextWriter output, ImmutableArray<string> notes, string file)
    {
        if (!notes.Any(LogQuestions.Asks)) return;
        await output.WriteLineAsync("  Only you can know, from the recorder's papers or its settings:");
        foreach (var question in notes.Where(LogQuestions.Asks)) await output.WriteLineAsync($"    {question}{AnswerOf(question)}");
        await output.WriteLineAsync($"  To see how each column is read, and to answer for good: leadwright columns {file}");
    }

    /// <summary>The options that answer a question.</summary>
    /// <param name="question">A question of the reader.</param>
    public static string AnswerOf(string question) => question switch
    {
        LogQuestions.Stamps => "  (--stamps start, or --stamps end)",
        LogQuestions.Start => "  (--log-start)",
        _ when LogQuestions.AsksForDates(question) => "  (--dates)",
        _ => "  (--set)",
    };
}
