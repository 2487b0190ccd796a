namespace Leadwright.Populations;

/// <summary>Puts the tables between the marks of the accuracy page.</summary>
internal static class AccuracyPage
{
    private const string From = "<!-- tables: made by bench/Leadwright.Populations -->";
    private const string To = "<!-- end of tables -->";

    public static void Write(string file, string tables, int count, ulong seed)
    {
        var page = File.Exists(file) ? File.ReadAllText(file) : $"# How good the hook-up check is\n\n{From}\n{To}\n";
        var start = page.IndexOf(From, StringComparison.Ordinal) + From.Length;
        var end = page.IndexOf(To, StringComparison.Ordinal);
        if (end < 0) throw new InvalidDataException($"'{file}' lacks the line '{To}'. Put the two marks back.");
        var text = $"{page[..start]}\n\n{count} panels a row, seed {seed}.\n\n{tables}\n{page[end..]}";
        File.WriteAllText(file, text);
    }
}
