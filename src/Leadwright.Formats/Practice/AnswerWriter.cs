using System.Buffers;
using System.Text.Json;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;

namespace Leadwright.Formats.Practice;

/// <summary>Writes the file that a trainee fills in: <c>leadwright.practice-answer/1</c>.</summary>
public static class AnswerWriter
{
    /// <summary>The schema.</summary>
    public const string Schema = "leadwright.practice-answer/1";

    /// <summary>What stands where something is to be filled in.</summary>
    public const string ToFillIn = "?";

    /// <summary>An answer to fill in.</summary>
    /// <param name="exercise">The exercise.</param>
    /// <param name="trainee">Who answers; may be empty.</param>
    /// <param name="taken">The actions that were taken so far.</param>
    public static byte[] Template(Exercise exercise, string trainee, IReadOnlyCollection<SettlingAction> taken)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        return Write(exercise.Key, trainee, taken, writer =>
        {
            if (!exercise.AsksForHookup)
            {
                writer.WriteString("choice", ToFillIn);
            }
            else
            {
                writer.WriteStartObject("hookup");
                foreach (var lead in exercise.Expected.Leads.Keys)
                {
                    writer.WriteStartObject(lead.ToString());
                    writer.WriteString("on", ToFillIn);
                    writer.WriteEndObject();
                }

                foreach (var clamp in exercise.Expected.Clamps.Keys)
                {
                    writer.WriteStartObject(clamp.ToString());
                    writer.WriteString("on", ToFillIn);
                    writer.WriteBoolean("reversed", false);
                    writer.WriteNumber("scale", 1);
                    writer.WriteEndObject();
                }

                writer.WriteEndObject();
            }

            writer.WriteNull("confidence");
        });
    }

    /// <summary>A whole answer.</summary>
    /// <param name="file">The answer.</param>
    public static byte[] Write(AnswerFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var answer = file.Answer;
        return Write(file.Exercise, answer.Trainee, answer.Taken, writer =>
        {
            if (answer.Choice is { } choice) writer.WriteString("choice", choice);
            if (answer.Hookup is { } hookup)
            {
                writer.WriteStartObject("hookup");
                foreach (var (lead, on) in hookup.Leads)
                {
                    writer.WriteStartObject(lead.ToString());
                    writer.WriteString("on", on?.ToString());
                    writer.WriteEndObject();
                }

                foreach (var (clamp, place) in hookup.Clamps)
                {
                    writer.WriteStartObject(clamp.ToString());
                    writer.WriteString("on", place.On?.ToString());
                    writer.WriteBoolean("reversed", place.Reversed);
                    writer.WriteNumber("scale", place.Scale);
                    writer.WriteEndObject();
                }

                writer.WriteEndObject();
            }

            writer.WriteNumber("confidence", answer.Confidence);
        });
    }

    private static byte[] Write(ExerciseKey key, string trainee, IReadOnlyCollection<SettlingAction> taken, Action<Utf8JsonWriter> answer)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", Schema);
            writer.WriteString("exercise", ExerciseSeal.Close(key));
            writer.WriteString("trainee", trainee);
            answer(writer);
            writer.WriteStartArray("taken");
            foreach (var action in taken) writer.WriteStringValue(action.Id);
            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        buffer.Write("\n"u8);
        return buffer.WrittenSpan.ToArray();
    }
}
