using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;

namespace Leadwright.Client.Model;

/// <summary>Keeps an exercise with its answer in the making, and the scores, as text on the device.</summary>
internal static class PracticeKept
{
    private const char Mark = '\t';

    /// <summary>An exercise and its answer in the making, one field a line.</summary>
    public static string Write(ExerciseKey key, PracticeDraft draft) => string.Join('\n', (string[])
    [
        ExerciseSeal.Close(key),
        draft.Choice ?? "",
        draft.ConfidencePercent?.ToString(CultureInfo.InvariantCulture) ?? "",
        string.Join(' ', draft.Taken.Select(action => action.Id)),
        string.Join(' ', draft.Leads.Select(lead => $"{lead.Key}={lead.Value?.ToString() ?? "-"}")),
        string.Join(' ', draft.Clamps.Select(clamp => string.Create(
            CultureInfo.InvariantCulture,
            $"{clamp.Key}={(clamp.Value.HasPlace ? clamp.Value.On?.ToString() ?? "-" : "?")},{clamp.Value.Reversed switch { true => "source", false => "load", _ => "?" }},{clamp.Value.Scale}"))),
    ]);

    /// <summary>Reads it back; null when it is none, or from another time of this program.</summary>
    public static (ExerciseKey Key, PracticeDraft Draft)? Read(string? text)
    {
        var lines = (text ?? "").Split('\n');
        if (lines.Length != 6 || !ExerciseSeal.TryOpen(lines[0], out var key)) return null;
        var leads = ImmutableSortedDictionary.CreateBuilder<Lead, Conductor?>();
        foreach (var pair in Pairs(lines[4]))
        {
            if (!Enum.TryParse<Lead>(pair[0], out var lead)) return null;
            leads[lead] = Place(pair[1]);
        }

        var clamps = ImmutableSortedDictionary.CreateBuilder<Clamp, ClampDraft>();
        foreach (var pair in Pairs(lines[5]))
        {
            var parts = pair[1].Split(',');
            if (!Enum.TryParse<Clamp>(pair[0], out var clamp) || parts.Length != 3) return null;
            bool? isReversed = parts[1] == "?" ? null : parts[1] == "source";
            if (!double.TryParse(parts[2], CultureInfo.InvariantCulture, out var scale)) return null;
            clamps[clamp] = new ClampDraft(parts[0] != "?", Place(parts[0]), isReversed, scale);
        }

        var taken = lines[3].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(PracticeActions.Named).ToArray();
        if (taken.Any(action => action is null)) return null;
        return (key!, new PracticeDraft
        {
            Choice = lines[1].Length > 0 ? lines[1] : null,
            ConfidencePercent = int.TryParse(lines[2], CultureInfo.InvariantCulture, out var percent) ? percent : null,
            Taken = [.. taken.Select(action => action!)],
            Leads = leads.ToImmutable(),
            Clamps = clamps.ToImmutable(),
        });
    }

    /// <summary>Scores, one a line.</summary>
    public static string WriteScores(IEnumerable<ClassEntry> entries) => string.Join('\n', entries.Select(entry => string.Join(Mark, (string[])
    [
        entry.Trainee.Replace(Mark, ' ').ReplaceLineEndings(" "), ExerciseSeal.Close(entry.Exercise), entry.IsRight ? "right" : "wrong",
        Number(entry.Confidence), Number(entry.Brier), Number(entry.Steps), Number(entry.Points),
    ])));

    /// <summary>Reads them back; lines that are none are left out.</summary>
    public static ImmutableArray<ClassEntry> ReadScores(string? text)
    {
        var entries = ImmutableArray.CreateBuilder<ClassEntry>();
        foreach (var line in (text ?? "").Split('\n'))
        {
            var parts = line.Split(Mark);
            if (parts.Length != 7 || !ExerciseSeal.TryOpen(parts[1], out var key)) continue;
            var numbers = parts[3..].Select(part => double.TryParse(part, CultureInfo.InvariantCulture, out var number) ? number : double.NaN).ToArray();
            if (numbers.Any(double.IsNaN)) continue;
            entries.Add(new ClassEntry(parts[0], key!, parts[2] == "right", numbers[0], numbers[1], (int)numbers[2], numbers[3]));
        }

        return entries.ToImmutable();
    }

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static Conductor? Place(string text) => Enum.TryParse<Conductor>(text, out var conductor) ? conductor : null;

    private static IEnumerable<string[]> Pairs(string line) => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)
        .Select(part => part.Split('=', 2)).Where(pair => pair.Length == 2);
}
