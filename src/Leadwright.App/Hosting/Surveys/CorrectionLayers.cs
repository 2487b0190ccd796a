using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Client.Surveys;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Guarding;
using Leadwright.Reports.Mending;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Corrections of a recording as layers that the journal switches on and off.</summary>
internal static class CorrectionLayers
{
    /// <summary>The name of a correction in its survey: the same correction has the same name whenever it is worked out.</summary>
    public static string IdOf(string recording, Correction correction) => "correction-" + ResultFiles.KeyOf(
    [
        recording, MendWords.Of(correction.Kind), string.Join('+', correction.Leads), string.Join('+', correction.Clamps), GuardJson.Time(correction.From), GuardJson.Time(correction.To),
    ])[..12];

    /// <summary>The findings of a recording that are switched off.</summary>
    public static ImmutableArray<WithdrawnFinding> OffOf(SurveyState state, string recording) =>
    [
        .. state.Corrections.Where(layer => !layer.IsOn && string.Equals(layer.Recording, recording, StringComparison.OrdinalIgnoreCase))
            .Select(layer => FindingOf(layer.Correction)).OfType<WithdrawnFinding>(),
    ];

    /// <summary>All layers of a recording, on or off.</summary>
    public static ImmutableArray<MendLayer> Of(SurveyState state, string recording, MendReport whole, ImmutableArray<CorrectionSheet> sheets) =>
    [
        .. whole.Corrections.Select((correction, index) =>
        {
            var id = IdOf(recording, correction);
            var kept = state.Corrections.FirstOrDefault(layer => layer.Id == id);
            return new MendLayer(id, sheets[index], kept?.IsOn ?? true)
            {
                CanSwitch = WithdrawnFinding.CanBe(correction.Kind), Why = kept?.Why ?? "", Who = kept?.Who ?? "", At = kept?.At,
            };
        }),
    ];

    /// <summary>Switches a layer in the journal.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="correction">The layer's correction.</param>
    /// <param name="isOn">True to let it count.</param>
    /// <param name="why">The reason.</param>
    public static void Switch(SurveyFolder survey, string recording, Correction correction, bool isOn, string why)
    {
        var id = IdOf(recording, correction);
        if (survey.State.Corrections.All(layer => layer.Id != id))
            survey.Append(new CorrectionAccepted(id, recording, JsonOf(correction)), "Accepted as proposed.");
        survey.Append(new CorrectionSwitched(id, isOn), why);
    }

    private static JsonElement JsonOf(Correction correction)
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer))
        {
            writer.WriteStartObject();
            writer.WriteString("kind", MendWords.Of(correction.Kind));
            writer.WriteStartArray("channels");
            foreach (var lead in correction.Leads) writer.WriteStringValue(lead.ToString());
            foreach (var clamp in correction.Clamps) writer.WriteStringValue(clamp.ToString());
            writer.WriteEndArray();
            writer.WriteString("from", GuardJson.Time(correction.From));
            writer.WriteString("to", GuardJson.Time(correction.To));
            writer.WriteString("says", MendWording.Of(correction));
            writer.WriteEndObject();
        }

        using var document = JsonDocument.Parse(buffer.ToArray());
        return document.RootElement.Clone();
    }

    // A layer that a later version wrote in another form counts for nothing here, and stays in the journal.
    private static WithdrawnFinding? FindingOf(JsonElement correction)
    {
        if (correction.ValueKind != JsonValueKind.Object || !correction.TryGetProperty("kind", out var word) || !correction.TryGetProperty("channels", out var names)) return null;
        if (!TimeOf(correction, "from", out var from) || !TimeOf(correction, "to", out var to)) return null;
        var kinds = Enum.GetValues<CorrectionKind>().Where(kind => MendWords.Of(kind) == word.GetString()).ToList();
        if (kinds.Count == 0) return null;
        var channels = names.EnumerateArray().Select(name => name.GetString() ?? "").ToList();
        return new WithdrawnFinding(
            kinds[0], [.. channels.Where(name => name.StartsWith('V')).Select(Enum.Parse<Lead>)], [.. channels.Where(name => name.StartsWith('I')).Select(Enum.Parse<Clamp>)], from, to);
    }

    private static bool TimeOf(JsonElement correction, string name, out DateTime time)
    {
        time = default;
        return correction.TryGetProperty(name, out var text) && RecordTime.TryReadIso(text.GetString(), out time);
    }
}
