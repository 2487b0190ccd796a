using System.Text.Json;
using System.Text.Json.Serialization;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Model.Waiting;

/// <summary>Something that was made on this device and belongs into a survey.</summary>
/// <param name="Id">Its own number: a survey takes each number once, however often it is sent.</param>
/// <param name="Made">When it was made, by this device's clock.</param>
/// <param name="Says">What it is, in a line.</param>
public sealed record WaitingItem(string Id, DateTimeOffset Made, string Says)
{
    /// <summary>The survey that it is for; empty while nobody said.</summary>
    public string SurveyId { get => field ?? ""; init; }

    /// <summary>What that survey is called.</summary>
    public string SurveyName { get => field ?? ""; init; }

    /// <summary>A check of the hook-up; null for another thing.</summary>
    public HookupKeep? Check { get; init; }

    /// <summary>A plan; null for another thing.</summary>
    public PlanKeep? Plan { get; init; }

    /// <summary>Why it was not taken; empty when it was not refused.</summary>
    public string Problem { get => field ?? ""; init; }

    /// <summary>True when it was refused because the survey's own was changed meanwhile.</summary>
    public bool IsConflict { get; init; }

    /// <summary>What a survey that is made for it starts with.</summary>
    public NewSurvey ForNewSurvey(string name) => Plan is { } plan
        ? new NewSurvey(name) { Service = plan.Service, Nominal = plan.Nominal, FrequencyHertz = plan.FrequencyHertz, MayExport = plan.MayExport }
        : new NewSurvey(name) { Service = TextOf("service"), Nominal = TextOf("nominal") };

    /// <summary>The item as text, for keeping.</summary>
    public string ToKept() => JsonSerializer.Serialize(this, WaitingJson.Default.WaitingItem);

    /// <summary>Reads <see cref="ToKept"/> back; null when it is none.</summary>
    public static WaitingItem? OfKept(string? text)
    {
        if (string.IsNullOrEmpty(text)) return null;
        try
        {
            return JsonSerializer.Deserialize(text, WaitingJson.Default.WaitingItem) is { Id.Length: > 0 } item && (item.Check is not null || item.Plan is not null) ? item : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private string TextOf(string name) => Check?.Readings is { ValueKind: JsonValueKind.Object } readings && readings.TryGetProperty(name, out var value)
        && value.ValueKind == JsonValueKind.String ? value.GetString() ?? "" : "";
}

/// <summary>Serializer code for what waits, made at build time so that trimming keeps it.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(WaitingItem))]
internal sealed partial class WaitingJson : JsonSerializerContext;
