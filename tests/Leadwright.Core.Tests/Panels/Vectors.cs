using System.Globalization;
using System.Runtime.CompilerServices;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Reads the tables under tests/vectors/wrong-connections.</summary>
internal static class Vectors
{
    public static List<Dictionary<string, string>> Read(string name, [CallerFilePath] string here = "")
    {
        var path = Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "vectors", "wrong-connections", name);
        var lines = File.ReadAllLines(path);
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => line.Length > 0).Select(line =>
            header.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second))];
    }

    public static double Number(this Dictionary<string, string> row, string column) =>
        double.Parse(row[column], CultureInfo.InvariantCulture);
}
