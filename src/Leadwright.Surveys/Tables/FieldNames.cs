using System.Globalization;

namespace Leadwright.Surveys.Tables;

/// <summary>Names of columns of one table, no two alike whatever the case of their letters: engines of SQL don't tell it apart.</summary>
internal sealed class FieldNames
{
    private readonly HashSet<string> _taken = new(StringComparer.OrdinalIgnoreCase) { "start", "end", "start_s", "end_s", "survey" };

    public string Free(string name)
    {
        var wanted = name.Length == 0 ? "value" : name;
        var free = wanted;
        for (var number = 2; !_taken.Add(free); number++) free = string.Create(CultureInfo.InvariantCulture, $"{wanted}_{number}");
        return free;
    }
}
