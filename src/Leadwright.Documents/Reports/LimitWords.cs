using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Wording;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Reports;

/// <summary>The names of limits.</summary>
internal static class LimitWords
{
    /// <summary>The title of a table of limits.</summary>
    public static string Title(LimitTable table) => Say.Of($"table.{table.Name}.title", table.Title);

    /// <summary>Its edition.</summary>
    public static string Edition(LimitTable table) => Say.Of($"table.{table.Name}.edition", table.Edition);

    /// <summary>The notes of a table of limits.</summary>
    public static IEnumerable<string> Notes(LimitTable table) => table.Notes.Select((note, index) => Say.Of($"table.{table.Name}.note-{index + 1}", note));

    public static string Quantity(LimitRule rule, int order, ReportWords words) => rule.Quantity switch
    {
        LimitQuantity.VoltageHarmonic => words.Of("limit.voltageharmonic", ("order", Orders(rule, order, words))),
        LimitQuantity.CurrentHarmonic => words.Of("limit.currentharmonic", ("order", Orders(rule, order, words))),
        var quantity => words.Of($"limit.{quantity.ToString().ToLowerInvariant()}"),
    };

    public static string Channel(LimitQuantity quantity, LogPlace place) =>
        place == LogPlace.Whole ? "" : (quantity is LimitQuantity.CurrentHarmonic or LimitQuantity.CurrentDistortion ? "I" : "V") + place.Suffix();

    public static string Bounds(LimitLine line, ReportWords words) => (double.IsNaN(line.Least), double.IsNaN(line.Most)) switch
    {
        (false, false) => words.Of("limit.between", ("least", words.Number(line.Least, "0.##")), ("most", words.Number(line.Most, "0.##"))),
        (false, _) => words.Of("limit.least", ("least", words.Number(line.Least, "0.##"))),
        _ => words.Of("limit.most", ("most", words.Number(line.Most, "0.##"))),
    } + (line.Unit.Length > 0 ? $" {line.Unit}" : "");

    private static string Orders(LimitRule rule, int order, ReportWords words)
    {
        if (order > 0 && (rule.OrderFrom == rule.OrderTo || order != rule.OrderFrom)) return order.ToString(CultureInfo.InvariantCulture);
        return rule.OrderFrom == rule.OrderTo ? $"{rule.OrderFrom}"
            : words.Of(rule.Parity == 1 ? "limit.odd" : rule.Parity == 2 ? "limit.even" : "limit.orders", ("from", $"{rule.OrderFrom}"), ("to", $"{rule.OrderTo}"));
    }
}
