using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Practice;

/// <summary>Writes exercises, findings, marks and class sheets for people.</summary>
public static class PracticeText
{
    /// <summary>An exercise, without its truth.</summary>
    /// <param name="exercise">The exercise.</param>
    public static string Of(Exercise exercise)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        var text = new TextBlock(CheckText.Width);
        text.Line(string.Create(CultureInfo.InvariantCulture, $"EXERCISE  {PracticeWording.Title(exercise.Key.Form)}, level {exercise.Key.Level} (simulated)"));
        text.Add("  ", $"{Phrases.Capital(CheckWords.InSentence(exercise.Service))}, {PracticeWording.Nominal(exercise)}.");
        foreach (var figure in exercise.Figures) text.Add("  ", PracticeWording.Figure(figure));
        text.Add("  ", PracticeWording.Question(exercise));
        if (exercise.Readings is { } readings)
        {
            text.Line();
            text.Line("WHAT THE INSTRUMENT SHOWS");
            foreach (var line in Lines(readings)) text.Line($"  {line}");
        }

        if (exercise.Strip is { } strip) Strip(strip, text);
        if (!exercise.Candidates.IsEmpty)
        {
            text.Line();
            text.Line("THE TWO HOOK-UPS THAT FIT");
            foreach (var hookup in exercise.Candidates) text.Add("  - ", PracticeWording.Candidate(hookup));
        }

        if (!exercise.Choices.IsEmpty)
        {
            text.Line();
            text.Line("ANSWERS TO CHOOSE FROM");
            foreach (var choice in exercise.Choices) text.Add($"  {choice}: ", PracticeWording.Choice(exercise, choice));
        }

        if (!exercise.Actions.IsEmpty)
        {
            text.Line();
            text.Line("WHAT YOU MAY DO, EACH FOR TWO POINTS");
            foreach (var group in exercise.Actions.GroupBy(action => action.Kind))
                text.Add($"  {ActionWording.Of(group.Key)}: ", string.Join(", ", group.Select(action => action.Id)));
        }

        return text.ToString();
    }

    /// <summary>What was found by one more reading.</summary>
    /// <param name="taken">The finding.</param>
    public static string Of(TakenReading taken)
    {
        ArgumentNullException.ThrowIfNull(taken);
        var text = new TextBlock(CheckText.Width);
        text.Add("", $"{ActionWording.Of(taken.Action)}: {ActionWording.Found(taken)}");
        if (taken.After is not { } after) return text.ToString();
        text.Line("  The instrument then shows");
        foreach (var line in Lines(after)) text.Line($"    {line}");
        return text.ToString();
    }

    /// <summary>A mark with the truth.</summary>
    /// <param name="document">The mark in words.</param>
    /// <param name="file">The answer's file; empty for none.</param>
    public static string Of(MarkDocument document, string file = "")
    {
        ArgumentNullException.ThrowIfNull(document);
        var mark = document.Mark;
        var text = new TextBlock(CheckText.Width);
        text.Line($"{(mark.IsRight ? "RIGHT" : "WRONG")}  {PracticeWording.Title(mark.Exercise.Key.Form)}{(mark.Answer.Trainee.Length > 0 ? $", {mark.Answer.Trainee}" : "")}{(file.Length > 0 ? $": {file}" : "")}");
        text.Add("  ", document.Headline);
        text.Add("  ", document.Score);
        if (!document.Devices.IsEmpty)
        {
            text.Line();
            text.Line("LEADS AND CLAMPS");
            foreach (var device in document.Devices)
                text.Add($"  {(device.IsRight ? " " : "!")} {device.Device}  ", device.IsRight ? device.Truth : $"{device.Truth}; you said {device.Said}");
        }

        text.Line();
        text.Line("THE TRUTH");
        foreach (var line in document.Truth) text.Add("  ", line);
        if (!mark.Missed.IsEmpty) text.Add("  ", $"Not found: {string.Join(", ", mark.Missed.Select(CheckWords.Of))}.");
        if (!mark.Invented.IsEmpty) text.Add("  ", $"Not there: {string.Join(", ", mark.Invented.Select(CheckWords.Of))}.");
        if (document.OpinionSays.Length > 0)
        {
            text.Line();
            text.Line("WHAT COULD BE KNOWN");
            text.Add("  ", document.OpinionSays);
            foreach (var line in document.Evidence) text.Add("  - ", line);
        }

        if (document.Lesson.Length > 0)
        {
            text.Line();
            text.Add("", document.Lesson);
        }

        return text.ToString();
    }

    /// <summary>A class sheet.</summary>
    /// <param name="sheet">The sheet.</param>
    public static string Of(ClassSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var text = new TextBlock(CheckText.Width);
        text.Line($"{"trainee",-20}{"points",8}{"right",9}{"said sure",11}{"Brier",8}");
        foreach (var line in sheet.Lines)
        {
            text.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"{(line.Trainee.Length > 0 ? line.Trainee : "(no name)"),-20}{line.Points,8:0}{$"{line.Right} of {line.Count}",9}{$"{100 * line.MeanConfidence:0} %",11}{line.MeanBrier,8:0.000}"));
        }

        text.Line("Brier: 0 is best; 0.250 is what fifty-fifty every time gets.");
        return text.ToString();
    }

    private static IEnumerable<string> Lines(PanelReadings readings)
    {
        foreach (var (channel, reading) in readings.Channels)
        {
            var angle = reading.AngleDegrees is { } degrees ? string.Create(CultureInfo.InvariantCulture, $"{degrees,10:0.0}°") : "";
            yield return string.Create(CultureInfo.InvariantCulture, $"{channel,-4}{reading.Rms,10:0.###} {(channel >= Channel.I1 ? "A" : "V")}{angle}");
        }

        foreach (var (channel, volts) in readings.LineToLineVolts)
            yield return string.Create(CultureInfo.InvariantCulture, $"{channel,-4}{volts,10:0.###} V");
        foreach (var (phase, power) in readings.Phases)
        {
            var watts = power.Watts is { } value ? string.Create(CultureInfo.InvariantCulture, $"{value,10:0} W") : "";
            var vars = power.Vars is { } reactive ? string.Create(CultureInfo.InvariantCulture, $"{reactive,10:0} var") : "";
            var factor = power.PowerFactor is { } ratio ? string.Create(CultureInfo.InvariantCulture, $"{ratio,8:0.000}") : "";
            yield return $"P{phase}  {watts}{vars}{factor}";
        }
    }

    private static void Strip(HalfCycleStrip strip, TextBlock text)
    {
        text.Line();
        text.Line("HALF-CYCLE VALUES, V AND A");
        text.Line($"  {"ms",6}{string.Concat(strip.Values.Keys.Select(channel => $"{channel,8}"))}");
        for (var index = 0; index < strip.Count; index++)
        {
            var time = string.Create(CultureInfo.InvariantCulture, $"{1000 * strip.StepSeconds * index,6:0}");
            text.Line($"  {time}{string.Concat(strip.Values.Values.Select(values => string.Create(CultureInfo.InvariantCulture, $"{values[index],8:0.0}")))}");
        }
    }
}
