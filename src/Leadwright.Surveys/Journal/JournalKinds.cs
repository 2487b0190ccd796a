using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace Leadwright.Surveys.Journal;

/// <summary>The words for the kinds of entries.</summary>
internal static class JournalKinds
{
    // The files are read by people and never put into a page as they are: letters stay letters.
    private static readonly JournalJson s_plain = new(new JsonSerializerOptions(JournalJson.Default.Options) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });

    private static readonly (string What, JsonTypeInfo Type)[] s_kinds =
    [
        ("created", s_plain.SurveyCreated),
        ("site-changed", s_plain.SiteChanged),
        ("plan-changed", s_plain.PlanChanged),
        ("recording-imported", s_plain.RecordingImported),
        ("columns-confirmed", s_plain.ColumnsConfirmed),
        ("recording-removed", s_plain.RecordingRemoved),
        ("guard-kept", s_plain.GuardKept),
        ("hookup-proved", s_plain.HookupProved),
        ("told", s_plain.AnswersTold),
        ("departure-signed", s_plain.DepartureSigned),
        ("correction-accepted", s_plain.CorrectionAccepted),
        ("correction-switched", s_plain.CorrectionSwitched),
        ("report-words-changed", s_plain.ReportWordsChanged),
        ("photo-attached", s_plain.PhotoAttached),
        ("archived", s_plain.ArchivedChanged),
        ("duplicated", s_plain.SurveyDuplicated),
        ("upgraded", s_plain.SurveyUpgraded),
    ];

    /// <summary>All words, for the page on the format and its test.</summary>
    public static IEnumerable<string> Words => s_kinds.Select(kind => kind.What);

    public static string WordOf(JournalPayload payload) =>
        payload is UnknownPayload unknown ? unknown.What : s_kinds.First(kind => kind.Type.Type == payload.GetType()).What;

    public static void Write(Utf8JsonWriter writer, JournalPayload payload)
    {
        if (payload is UnknownPayload unknown) unknown.Data.WriteTo(writer);
        else JsonSerializer.Serialize(writer, payload, s_kinds.First(kind => kind.Type.Type == payload.GetType()).Type);
    }

    /// <summary>What an entry says; kept as it is when its kind or its form is not known.</summary>
    public static JournalPayload Read(string what, JsonElement data)
    {
        var kind = Array.Find(s_kinds, kind => kind.What == what);
        if (kind.Type is null) return new UnknownPayload(what, data);
        try
        {
            return data.Deserialize(kind.Type) is JournalPayload payload && IsWhole(payload) ? payload : new UnknownPayload(what, data);
        }
        catch (Exception failure) when (failure is JsonException or InvalidOperationException or NotSupportedException)
        {
            return new UnknownPayload(what, data);
        }
    }

    // The library sees that members are there, and not what lists hold; and it reads 1e999 as a number that it can't write.
    private static bool IsWhole(JournalPayload payload) => payload switch
    {
        RecordingImported facts => HoldsAll(facts.Files) && HoldsAll(facts.Remarks) && HoldsAll(facts.Clock) && HoldsAll(facts.Integrity)
            && facts.Integrity.All(span => HoldsAll(span.Channels) && double.IsFinite(span.Confidence)) && facts.Files.All(IsWhole)
            && facts.Clock.All(clock => double.IsFinite(clock.Seconds)) && double.IsFinite(facts.IntervalSeconds ?? 0),
        AnswersTold told => HoldsAll(told.Answers),
        DepartureSigned signed => HoldsAll(signed.Items),
        SurveyCreated made => IsWhole(made.Plan) && double.IsFinite(made.Panel.FrequencyHertz ?? 0),
        SiteChanged site => double.IsFinite(site.Panel.FrequencyHertz ?? 0),
        PlanChanged plan => IsWhole(plan.Plan),
        PhotoAttached photo => IsWhole(photo.File),
        _ => true,
    };

    // So large that their sum still counts: a thousand million megabytes.
    private static bool IsWhole(StoredFile file) => file.Bytes is >= 0 and <= 1L << 50;

    private static bool IsWhole(SurveyPlan plan) => HoldsAll(plan.Learn) && HoldsAll(plan.Limits);

    private static bool HoldsAll<T>(ImmutableArray<T> items)
        where T : class => !items.IsDefault && items.All(item => item is not null);
}
