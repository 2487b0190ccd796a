namespace Leadwright.App.Verbs;

/// <summary>Finds the name that a mistyped one was most likely meant to be.</summary>
internal static class NearestName
{
    // A slip of the fingers leaves a name alike: two letters of it, a third of a short one.
    private const int MostSlips = 2;

    /// <summary>The nearest name.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="names">The names that there are.</param>
    /// <returns>Null where none is near.</returns>
    public static string? Of(string typed, IEnumerable<string> names) =>
        names.Select(name => (Name: name, Slips: SlipsBetween(typed, name))).Where(pair => pair.Slips <= Math.Min(MostSlips, pair.Name.TrimStart('-').Length / 3))
            .OrderBy(pair => pair.Slips).ThenBy(pair => pair.Name, StringComparer.Ordinal).Select(pair => pair.Name).FirstOrDefault();

    // Levenshtein's distance, with two neighbours exchanged as one slip.
    private static int SlipsBetween(string one, string other)
    {
        var (before, row, next) = (new int[other.Length + 1], new int[other.Length + 1], new int[other.Length + 1]);
        for (var column = 0; column <= other.Length; column++) row[column] = column;
        for (var line = 1; line <= one.Length; line++)
        {
            next[0] = line;
            for (var column = 1; column <= other.Length; column++)
            {
                var isSame = one[line - 1] == other[column - 1];
                next[column] = Math.Min(Math.Min(next[column - 1], row[column]) + 1, row[column - 1] + (isSame ? 0 : 1));
                if (line > 1 && column > 1 && one[line - 1] == other[column - 2] && one[line - 2] == other[column - 1]) next[column] = Math.Min(next[column], before[column - 2] + 1);
            }

            (before, row, next) = (row, next, before);
        }

        return row[other.Length];
    }
}
