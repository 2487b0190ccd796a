using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Studies.Limits;

namespace Leadwright.Formats.Limits;

/// <summary>Reads tables of limits, <c>leadwright.limits/1</c>: the standards' that come with the program, and the user's own.</summary>
/// <remarks>Format and sources: <c>docs/methods/limits.md</c>.</remarks>
public static class LimitTableReader
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.limits/1";

    private static readonly (string Word, LimitQuantity Quantity)[] s_quantities =
    [
        ("frequency", LimitQuantity.Frequency), ("voltage", LimitQuantity.Voltage), ("voltage-between-lines", LimitQuantity.VoltageBetweenLines),
        ("voltage-to-neutral", LimitQuantity.VoltageToNeutral), ("voltage-unbalance", LimitQuantity.VoltageUnbalance),
        ("voltage-deviation", LimitQuantity.VoltageDeviation), ("voltage-distortion", LimitQuantity.VoltageDistortion),
        ("voltage-harmonic", LimitQuantity.VoltageHarmonic), ("current-harmonic", LimitQuantity.CurrentHarmonic),
        ("current-distortion", LimitQuantity.CurrentDistortion), ("long-term-flicker", LimitQuantity.LongTermFlicker),
        ("short-term-flicker", LimitQuantity.ShortTermFlicker),
    ];

    /// <summary>The words by which the tables that come with the program are chosen.</summary>
    public static ImmutableArray<string> Shipped { get; } = ["en-50160", "ieee-519", "ansi-c84.1", "nema-mg1"];

    /// <summary>The bytes of a table that comes with the program, to start one's own from.</summary>
    /// <param name="name">One of <see cref="Shipped"/>.</param>
    /// <returns>Null when there is none of that name.</returns>
    public static InputFile? ShippedFile(string name)
    {
        using var stream = typeof(LimitTableReader).Assembly.GetManifestResourceStream($"limits/{name}.json");
        if (stream is null) return null;
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return new InputFile($"{name}.json", bytes.ToArray());
    }

    /// <summary>Reads a table.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">It can't be used; its field says where.</exception>
    public static LimitTable Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var document = JsonFields.Parse(file);
        var root = new JsonFields(file.Name, "$", document.RootElement, "schema", "name", "title", "edition", "notes", "derating", "rules");
        root.RequireSchema(Schema);
        var rules = root.List("rules").Select(rule => ReadRule(file.Name, rule.Path, rule.Element)).ToImmutableArray();
        if (rules.IsEmpty) throw JsonFields.Bad(file.Name, "$.rules", "at least one limit", "none");
        return new LimitTable(root.RequiredText("name"), root.Text("title") ?? "", root.Text("edition") ?? "", rules)
        {
            Notes = [.. root.List("notes").Select(note => note.Element.GetString() ?? "")],
            Derating = [.. root.List("derating").Select(point => ReadPoint(file.Name, point.Path, point.Element))],
        };
    }

    private static (double Percent, double Factor) ReadPoint(string source, string path, JsonElement point) =>
        point.ValueKind == JsonValueKind.Array && point.GetArrayLength() == 2 && point[0].TryGetDouble(out var percent) && point[1].TryGetDouble(out var factor)
            ? (percent, factor) : throw JsonFields.Bad(source, path, "a pair [percent, factor]", point.ToString());

    private static LimitRule ReadRule(string source, string path, JsonElement element)
    {
        var fields = new JsonFields(
            source, path, element, "id", "quantity", "clause", "source", "orders", "parity", "per_seconds", "least", "most", "factor", "of_nominal",
            "share_percent", "period_days", "scope");
        var word = fields.RequiredText("quantity");
        var index = Array.FindIndex(s_quantities, known => known.Word == word);
        if (index < 0) throw JsonFields.Bad(source, $"{path}.quantity", $"one of {string.Join(", ", s_quantities.Select(known => known.Word))}", $"'{word}'");
        var orders = fields.List("orders").Select(order => order.Element.TryGetInt32(out var value) ? value : throw JsonFields.Bad(source, order.Path, "an order", order.Element.ToString())).ToArray();
        if (orders.Length is not (0 or 2)) throw JsonFields.Bad(source, $"{path}.orders", "the first and the last order", $"{orders.Length} numbers");
        var parity = fields.Text("parity") switch
        {
            null or "all" => 0,
            "odd" => 1,
            "even" => 2,
            var other => throw JsonFields.Bad(source, $"{path}.parity", "all, odd or even", $"'{other}'"),
        };
        var share = fields.Number("share_percent", 100);
        if (share is not (> 0 and <= 100)) throw JsonFields.Bad(source, $"{path}.share_percent", "a share above 0 and up to 100", $"{share}");
        var rule = new LimitRule(fields.RequiredText("id"), s_quantities[index].Quantity)
        {
            Clause = fields.Text("clause") ?? "",
            Source = fields.Text("source") ?? "",
            OrderFrom = orders.Length == 2 ? orders[0] : 0,
            OrderTo = orders.Length == 2 ? orders[1] : 0,
            Parity = parity,
            PerSeconds = fields.Number("per_seconds", 0),
            Least = fields.Number("least"),
            Most = fields.Number("most"),
            Factor = fields.Number("factor", 1),
            IsOfNominal = fields.Flag("of_nominal"),
            SharePercent = share,
            PeriodDays = fields.Number("period_days", 0),
            Scope = fields.Child("scope") is var (scopePath, scope) ? ReadScope(source, scopePath, scope) : null,
        };
        if (double.IsNaN(rule.Least) && double.IsNaN(rule.Most)) throw JsonFields.Bad(source, path, "least or most", "neither");
        if (rule.Least > rule.Most) throw JsonFields.Bad(source, path, "least below most", $"{rule.Least} and {rule.Most}");
        return rule;
    }

    private static LimitScope ReadScope(string source, string path, JsonElement element)
    {
        var fields = new JsonFields(source, path, element, "hertz", "volts_above", "volts_up_to", "ratio_from", "ratio_below", "system", "point");
        return new LimitScope
        {
            Hertz = fields.Number("hertz"),
            VoltsAbove = fields.Number("volts_above"),
            VoltsUpTo = fields.Number("volts_up_to"),
            RatioFrom = fields.Number("ratio_from"),
            RatioBelow = fields.Number("ratio_below"),
            System = fields.Text("system"),
            Point = fields.Text("point"),
        };
    }
}
