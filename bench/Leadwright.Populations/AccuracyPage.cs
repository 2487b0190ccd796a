namespace Leadwright.Populations;

/// <summary>Puts tables between their marks on the accuracy page.</summary>
internal static class AccuracyPage
{
    /// <param name="file">The page.</param>
    /// <param name="name">The name of the tables, as in the marks.</param>
    /// <param name="tables">The tables.</param>
    /// <param name="count">Panels a row.</param>
    /// <param name="seed">Seed of the population.</param>
    /// <param name="unit">What is counted.</param>
    public static void Write(string file, string name, string tables, int count, ulong seed, string unit = "panels a row")
    {
        var from = $"<!-- {name}: made by bench/Leadwright.Populations -->";
        var to = $"<!-- end of {name} -->";
        var page = File.Exists(file) ? File.ReadAllText(file) : $"# How good the hook-up check is\n\n{from}\n{to}\n";
        var start = page.IndexOf(from, StringComparison.Ordinal);
        var end = page.IndexOf(to, StringComparison.Ordinal);
        if (start < 0 || end < start) throw new InvalidDataException($"'{file}' lacks the lines '{from}' and '{to}'. Put the two marks back.");
        File.WriteAllText(file, $"{page[..(start + from.Length)]}\n\n{count} {unit}, seed {seed}.\n\n{tables}\n{page[end..]}");
    }
}
