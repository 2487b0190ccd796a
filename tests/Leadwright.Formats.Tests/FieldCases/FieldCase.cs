using System.Text;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats.Tests.FieldCases;

/// <summary>One hook-up from the field, as people posted its readings and what was found. Source of each: named in
/// tests/data/field-cases/cases.json, described in tests/data/README.md.</summary>
internal sealed class FieldCase
{
    private readonly JsonElement _case;

    private FieldCase(JsonElement json) => _case = json;

    public static IReadOnlyDictionary<string, FieldCase> All { get; } = TestData.Json("field-cases/cases.json")
        .GetProperty("cases").EnumerateArray().Select(json => new FieldCase(json)).ToDictionary(one => one.Id);

    public string Id => _case.GetProperty("id").GetString()!;

    /// <summary>hard: the cause is confirmed; soft: deduced; none: unresolved.</summary>
    public string Score => _case.GetProperty("score").GetString()!;

    /// <summary>What the verdict must not be, in words; null when nothing was added.</summary>
    public string? MustNot => Expect.TryGetProperty("must_not", out var words) ? words.GetString() : null;

    /// <summary>The verdicts that the readings deserve or that are fair.</summary>
    public IReadOnlyList<Verdict> Verdicts =>
    [
        Enum.Parse<Verdict>(Expect.GetProperty("verdict").GetString()!, true),
        .. Expect.TryGetProperty("accept", out var others)
            ? others.EnumerateArray().Select(word => Enum.Parse<Verdict>(word.GetString()!, true)) : [],
    ];

    public CheckOptions Options => new()
    {
        Load = Enum.Parse<LoadKind>(_case.GetProperty("load").GetString()!, true),
        MayExport = _case.GetProperty("export").GetBoolean(),
    };

    /// <summary>The readings with their labels. That an instrument replays one voltage stands beside them, not in them.</summary>
    public IEnumerable<(string Label, PanelReadings Readings)> Readings
    {
        get
        {
            var replays = _case.GetProperty("instrument").GetProperty("voltage_reference").GetString()!.Contains("replayed", StringComparison.Ordinal);
            foreach (var row in _case.GetProperty("readings").EnumerateArray())
            {
                var label = row.GetProperty("label").GetString()!;
                var file = new InputFile($"{Id}, {label}", Encoding.UTF8.GetBytes(row.GetProperty("data").GetRawText()));
                yield return (label, ReadingsReader.Read(file).Readings with { IsReplayed = replays });
            }
        }
    }

    /// <summary>True when a hook-up has every lead and clamp that is known where it was found.</summary>
    /// <remarks>What the recorder's channels do not show (a voltage's own ratio) is not asked of it.</remarks>
    public bool IsMetBy(Hookup hookup) => Expect.GetProperty("hookup").EnumerateObject().All(channel =>
    {
        var place = channel.Value;
        if (Enum.TryParse<Lead>(channel.Name, out var lead))
            return !place.TryGetProperty("on", out var on) || (hookup.Leads.TryGetValue(lead, out var found) && found == ConductorOf(on));
        if (!hookup.Clamps.TryGetValue(Enum.Parse<Clamp>(channel.Name), out var clamp)) return false;
        return (!place.TryGetProperty("on", out var line) || clamp.On == ConductorOf(line))
            && (!place.TryGetProperty("reversed", out var reversed) || clamp.Reversed == reversed.GetBoolean())
            && (!place.TryGetProperty("scale", out var scale) || clamp.Scale == scale.GetDouble());
    });

    private JsonElement Expect => _case.GetProperty("expect");

    private static Conductor? ConductorOf(JsonElement on) =>
        on.ValueKind == JsonValueKind.Null ? null : Enum.Parse<Conductor>(on.GetString()!);
}
