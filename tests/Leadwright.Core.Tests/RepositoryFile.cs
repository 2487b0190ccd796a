using System.Globalization;
using System.Runtime.CompilerServices;

namespace Leadwright.Core.Tests;

/// <summary>Reads the tables under tests/vectors and tests/data. A missing file fails the test that asks for it.</summary>
internal static class RepositoryFile
{
    public static string Path(string pathUnderTests) => In(pathUnderTests);

    private static string In(string pathUnderTests, [CallerFilePath] string thisFile = "") =>
        System.IO.Path.Combine(System.IO.Path.GetDirectoryName(System.IO.Path.GetDirectoryName(thisFile))!, pathUnderTests);

    /// <summary>The rows of a comma-separated table with a header line, by column name.</summary>
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Table(string pathUnderTests)
    {
        var lines = File.ReadAllLines(Path(pathUnderTests));
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => line.Length > 0).Select(line => Row(header, line.Split(',')))];
    }

    public static double Number(this IReadOnlyDictionary<string, string> row, string column) =>
        double.Parse(row[column], NumberStyles.Float, CultureInfo.InvariantCulture);

    private static Dictionary<string, string> Row(string[] header, string[] cells)
    {
        if (cells.Length != header.Length)
            throw new InvalidDataException($"Row '{string.Join(',', cells)}' has {cells.Length} cells, {header.Length} expected.");
        return header.Zip(cells).ToDictionary(pair => pair.First, pair => pair.Second, StringComparer.Ordinal);
    }
}
