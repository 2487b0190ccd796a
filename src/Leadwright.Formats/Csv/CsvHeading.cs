using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>A column heading: a name and a unit.</summary>
/// <param name="Name">The name without its unit.</param>
/// <param name="Unit">The unit; empty when there is none.</param>
internal readonly record struct CsvHeading(string Name, string Unit)
{
    /// <summary>Reads <c>V1 (V)</c>, <c>V1 [V]</c>, <c>V1_kV</c>, <c>V1/V</c> or a bare name.</summary>
    public static CsvHeading Parse(string text)
    {
        var heading = text.Trim();
        foreach (var (open, close) in ((char, char)[])[('(', ')'), ('[', ']')])
        {
            var start = heading.LastIndexOf(open);
            if (start > 0 && heading[^1] == close) return new(heading[..start].Trim(), heading[(start + 1)..^1].Trim());
        }

        var mark = heading.LastIndexOfAny(['_', '/']);
        if (mark > 0 && mark < heading.Length - 1 && IsUnitAfter(heading[..mark], heading[(mark + 1)..]))
            return new(heading[..mark].Trim(), heading[(mark + 1)..].Trim());
        return new(heading, "");
    }

    /// <summary>True for a column of times.</summary>
    public bool IsTime => Name.ToUpperInvariant() is "TIME" or "T" or "TIMESTAMP" or "SECONDS" or "DATETIME";

    /// <summary>Seconds in one unit of a time column; null when the unit is none of time.</summary>
    public double? SecondsPerUnit => UnitText.Parse(Unit) is { IsKnown: true, Base: "s" } unit ? unit.Factor : null;

    // "I_A" is the current of phase A; "I1_A" is in amperes.
    private static bool IsUnitAfter(string name, string unit) =>
        UnitText.Parse(unit).IsKnown && !(name.Length == 1 && unit is "A" or "a");
}
