using System.Text;
using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Practice;

/// <summary>Writes exercises, findings, marks and class sheets as <c>leadwright.practice/1</c>.</summary>
public static class PracticeJson
{
    /// <summary>The schema.</summary>
    public const string Schema = "leadwright.practice/1";

    private static readonly JsonWriterOptions s_options = new()
    {
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>An exercise without its truth, on one line; what makes it is sealed.</summary>
    /// <param name="exercise">The exercise.</param>
    /// <param name="isIndented">True for a file that people look into.</param>
    public static string Of(Exercise exercise, bool isIndented = false) => Written(isIndented, writer =>
    {
        writer.WriteString("exercise", ExerciseSeal.Close(exercise.Key));
        writer.WriteString("form", ExerciseKey.WordOf(exercise.Key.Form));
        writer.WriteString("title", PracticeWording.Title(exercise.Key.Form));
        writer.WriteNumber("level", exercise.Key.Level);
        writer.WriteString("service", Service.Of(exercise.Service).Name);
        writer.WriteString("nominal", exercise.Nominal.ToString());
        writer.WriteString("load", exercise.Known.Load.ToString().ToLowerInvariant());
        writer.WriteBoolean("export", exercise.Known.MayExport);
        writer.WriteString("question", PracticeWording.Question(exercise));
        if (exercise.Readings is not null) writer.WriteString("readings", "readings.json");
        Array("figures", exercise.Figures, writer, figure =>
        {
            writer.WriteStartObject();
            writer.WriteString("name", figure.Name);
            writer.WriteNumber("value", figure.Value);
            writer.WriteString("unit", figure.Unit);
            writer.WriteEndObject();
        });
        if (exercise.Strip is { } strip) Strip(strip, writer);
        if (!exercise.Candidates.IsEmpty) Array("candidates", exercise.Candidates, writer, hookup => CheckJson.Write(hookup, writer));
        Array("choices", exercise.Choices, writer, choice =>
        {
            writer.WriteStartObject();
            writer.WriteString("choice", choice);
            writer.WriteString("says", PracticeWording.Choice(exercise, choice));
            writer.WriteEndObject();
        });
        Array("actions", exercise.Actions, writer, action => writer.WriteStringValue(action.Id));
    });

    /// <summary>What was found by one more reading, on one line.</summary>
    /// <param name="taken">The finding.</param>
    public static string Of(TakenReading taken) => Written(false, writer =>
    {
        writer.WriteString("action", taken.Action.Id);
        writer.WriteString("found", taken.Answer);
        writer.WriteString("says", ActionWording.Found(taken));
        writer.WriteString("told", taken.Told.ToString());
    });

    /// <summary>A mark with the truth, on one line.</summary>
    /// <param name="document">The mark in words.</param>
    /// <param name="file">The answer's file; empty for none.</param>
    public static string Of(MarkDocument document, string file = "") => Written(false, writer =>
    {
        var mark = document.Mark;
        if (file.Length > 0) writer.WriteString("file", file);
        writer.WriteString("trainee", mark.Answer.Trainee);
        writer.WriteString("key", mark.Exercise.Key.ToString());
        writer.WriteBoolean("right", mark.IsRight);
        writer.WriteBoolean("reads_alike", mark.ReadsAlike);
        writer.WriteNumber("points", Math.Round(mark.Points, 2));
        writer.WriteNumber("place_points", Math.Round(mark.PlacePoints, 2));
        writer.WriteNumber("confidence_points", Math.Round(mark.ConfidencePoints, 2));
        writer.WriteNumber("step_points", Math.Round(mark.StepPoints, 2));
        writer.WriteNumber("confidence", mark.Answer.Confidence);
        writer.WriteNumber("brier", Math.Round(mark.Brier, 6));
        Array("taken", mark.Answer.Taken, writer, action => writer.WriteStringValue(mark.Exercise.Take(action).Told.ToString()));
        Array("devices", mark.Devices, writer, device =>
        {
            writer.WriteStartObject();
            writer.WriteString("channel", device.Device);
            writer.WriteBoolean("right", device.IsRight);
            writer.WriteEndObject();
        });
        writer.WriteStartObject("truth");
        if (mark.Truth is { } truth)
        {
            writer.WritePropertyName("hookup");
            CheckJson.Write(truth, writer);
        }

        Array("faults", mark.Faults, writer, fault => writer.WriteStringValue(CheckWords.Of(fault.Kind)));
        Array("choices", mark.RightChoices, writer, writer.WriteStringValue);
        Array("says", document.Truth, writer, writer.WriteStringValue);
        writer.WriteEndObject();
        Array("missed", mark.Missed, writer, kind => writer.WriteStringValue(CheckWords.Of(kind)));
        Array("invented", mark.Invented, writer, kind => writer.WriteStringValue(CheckWords.Of(kind)));
        if (document.Opinion is not { } opinion) return;
        writer.WriteStartObject("check");
        writer.WriteString("verdict", CheckWords.Of(opinion.Verdict.Verdict));
        writer.WriteNumber("confidence", ConfidenceWording.Rounded(opinion.Verdict.Best.Probability));
        writer.WriteBoolean("names_truth", opinion.NamesTruth);
        writer.WriteBoolean("could_be_known", opinion.CouldBeKnown);
        writer.WriteString("says", document.OpinionSays);
        writer.WriteEndObject();
    });

    /// <summary>A class sheet, on one line.</summary>
    /// <param name="sheet">The sheet.</param>
    public static string Of(ClassSheet sheet) => Written(false, writer =>
    {
        Array("class", sheet.Lines, writer, line =>
        {
            writer.WriteStartObject();
            writer.WriteString("trainee", line.Trainee);
            writer.WriteNumber("answers", line.Count);
            writer.WriteNumber("right", line.Right);
            writer.WriteNumber("mean_confidence", Math.Round(line.MeanConfidence, 4));
            writer.WriteNumber("mean_brier", Math.Round(line.MeanBrier, 6));
            writer.WriteNumber("points", Math.Round(line.Points, 2));
            writer.WriteEndObject();
        });
    });

    private static void Strip(HalfCycleStrip strip, Utf8JsonWriter writer)
    {
        writer.WriteStartObject("half_cycles");
        writer.WriteNumber("step_seconds", strip.StepSeconds);
        foreach (var (channel, values) in strip.Values)
            Array(channel.ToString(), values, writer, writer.WriteNumberValue);
        writer.WriteEndObject();
    }

    private static void Array<T>(string name, IEnumerable<T> items, Utf8JsonWriter writer, Action<T> write)
    {
        writer.WriteStartArray(name);
        foreach (var item in items) write(item);
        writer.WriteEndArray();
    }

    private static string Written(bool isIndented, Action<Utf8JsonWriter> write)
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, s_options with { Indented = isIndented, NewLine = "\n" }))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", Schema);
            write(writer);
            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length);
    }
}
