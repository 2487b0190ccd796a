using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;

namespace Leadwright.Formats.Practice;

/// <summary>Reads what a trainee filled in: <c>leadwright.practice-answer/1</c>.</summary>
/// <remarks>Remarks and trailing commas are allowed. Format: <c>docs/field-guide/practice.md</c>.</remarks>
public static class AnswerReader
{
    private static readonly JsonDocumentOptions s_options = new()
    {
        AllowTrailingCommas = true, CommentHandling = JsonCommentHandling.Skip, MaxDepth = 16,
    };

    /// <summary>Reads a whole answer.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">The file can't be used, or something in it is still to be filled in.</exception>
    public static AnswerFile Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var json = Open(file);
        var root = json.RootElement;
        var key = KeyOf(file, root);
        var taken = TakenOf(file, root);
        if (!root.TryGetProperty("confidence", out var sure) || sure.ValueKind != JsonValueKind.Number
            || !sure.TryGetDouble(out var confidence) || confidence is < 0 or > 1)
        {
            throw Bad(file, "$.confidence", "how sure the answer is, a number from 0 to 1", Shown(root, "confidence"),
                "Write 0.5 for fifty-fifty, 0.9 for nine in ten.");
        }

        return new AnswerFile(key, new PracticeAnswer
        {
            Hookup = root.TryGetProperty("hookup", out var hookup) ? HookupOf(file, hookup) : null,
            Choice = ChoiceOf(file, root),
            Confidence = confidence,
            Taken = taken,
            Trainee = TraineeOf(root),
        });
    }

    /// <summary>Reads the exercise, the trainee and the actions of an answer that may still be to be filled in.</summary>
    /// <param name="file">The file.</param>
    /// <param name="trainee">Receives who answers; empty when that is not said.</param>
    /// <param name="taken">Receives the actions that were taken so far.</param>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static ExerciseKey ReadBegun(InputFile file, out string trainee, out ImmutableArray<SettlingAction> taken)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var json = Open(file);
        trainee = TraineeOf(json.RootElement);
        taken = TakenOf(file, json.RootElement);
        return KeyOf(file, json.RootElement);
    }

    private static JsonDocument Open(InputFile file)
    {
        try
        {
            var json = JsonDocument.Parse(file.Bytes, s_options);
            if (json.RootElement.ValueKind == JsonValueKind.Object && Text(json.RootElement, "schema") == AnswerWriter.Schema) return json;
            json.Dispose();
            throw Bad(file, "$.schema", $"\"{AnswerWriter.Schema}\"", "something else", "Give the answer.json that came with the exercise.");
        }
        catch (JsonException exception)
        {
            throw new FormatReadException(
                file.Name, "an answer in JSON", "text that is none", "Look at the line for a missing quotation mark or comma.",
                line: (int?)exception.LineNumber + 1, innerException: exception);
        }
    }

    private static ExerciseKey KeyOf(InputFile file, JsonElement root) =>
        ExerciseSeal.TryOpen(Text(root, "exercise"), out var key)
            ? key!
            : throw Bad(file, "$.exercise", "the seal of an exercise", Shown(root, "exercise"), "Copy it from exercise.json, every letter of it.");

    private static string TraineeOf(JsonElement root) => Text(root, "trainee") ?? "";

    private static string? ChoiceOf(InputFile file, JsonElement root)
    {
        if (!root.TryGetProperty("choice", out var choice) || choice.ValueKind == JsonValueKind.Null) return null;
        if (choice.ValueKind == JsonValueKind.String && choice.GetString() is { Length: > 0 } word && word != AnswerWriter.ToFillIn) return word;
        throw Bad(file, "$.choice", "one of the choices of exercise.json", choice.GetRawText(), "Fill it in.");
    }

    private static ImmutableArray<SettlingAction> TakenOf(InputFile file, JsonElement root)
    {
        if (!root.TryGetProperty("taken", out var taken) || taken.ValueKind == JsonValueKind.Null) return [];
        if (taken.ValueKind != JsonValueKind.Array) throw Bad(file, "$.taken", "a list of actions", taken.GetRawText());
        var actions = ImmutableArray.CreateBuilder<SettlingAction>();
        foreach (var entry in taken.EnumerateArray())
        {
            var text = entry.ValueKind == JsonValueKind.String ? entry.GetString()! : entry.GetRawText();
            actions.Add(PracticeActions.Named(text) ?? throw Bad(file, "$.taken", "an action such as switched:A", $"\"{text}\""));
        }

        return actions.ToImmutable();
    }

    private static Hookup HookupOf(InputFile file, JsonElement element)
    {
        if (element.ValueKind != JsonValueKind.Object) throw Bad(file, "$.hookup", "an object with each lead and clamp", element.GetRawText());
        var leads = ImmutableSortedDictionary.CreateBuilder<Lead, Conductor?>();
        var clamps = ImmutableSortedDictionary.CreateBuilder<Clamp, ClampPlace>();
        foreach (var entry in element.EnumerateObject())
        {
            var path = $"$.hookup.{entry.Name}";
            if (entry.Value.ValueKind != JsonValueKind.Object) throw Bad(file, path, "an object such as {\"on\": \"A\"}", entry.Value.GetRawText());
            if (Enum.TryParse<Lead>(entry.Name, true, out var lead) && Enum.IsDefined(lead))
                leads[lead] = PlaceOf(file, path, entry.Value);
            else if (Enum.TryParse<Clamp>(entry.Name, true, out var clamp) && Enum.IsDefined(clamp))
                clamps[clamp] = ClampOf(file, path, entry.Value);
            else
                throw Bad(file, path, "a lead V1 to VN or a clamp I1 to IN", $"'{entry.Name}'");
        }

        return new Hookup(leads.ToImmutable(), clamps.ToImmutable());
    }

    private static ClampPlace ClampOf(InputFile file, string path, JsonElement element)
    {
        var on = PlaceOf(file, path, element);
        var isReversed = element.TryGetProperty("reversed", out var reversed) && reversed.ValueKind switch
        {
            JsonValueKind.True => true,
            JsonValueKind.False => false,
            _ => throw Bad(file, $"{path}.reversed", "true or false", reversed.GetRawText()),
        };
        var scale = 1.0;
        if (element.TryGetProperty("scale", out var ratio)
            && (ratio.ValueKind != JsonValueKind.Number || !ratio.TryGetDouble(out scale) || !(scale > 0)))
            throw Bad(file, $"{path}.scale", "what the reading must be divided by, a number above 0", ratio.GetRawText());
        return new ClampPlace(on, on is not null && isReversed, on is null ? 1 : scale);
    }

    private static Conductor? PlaceOf(InputFile file, string path, JsonElement element)
    {
        if (!element.TryGetProperty("on", out var on)) throw Bad(file, $"{path}.on", "a conductor A, B, C, N, G, or null", "nothing");
        if (on.ValueKind == JsonValueKind.Null) return null;
        var text = on.ValueKind == JsonValueKind.String ? on.GetString()!.Trim() : "";
        if (text.Length == 1 && Enum.TryParse<Conductor>(text, true, out var conductor) && Enum.IsDefined(conductor)) return conductor;
        throw Bad(file, $"{path}.on", "a conductor A, B, C, N, G, or null for one in the air or round nothing", on.GetRawText(),
            text == AnswerWriter.ToFillIn ? "Fill it in." : null);
    }

    private static string? Text(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static string Shown(JsonElement root, string name) => root.TryGetProperty(name, out var value) ? value.GetRawText() : "nothing";

    private static FormatReadException Bad(InputFile file, string path, string expected, string found, string? hint = null) =>
        new(file.Name, expected, found, hint, field: path);
}
