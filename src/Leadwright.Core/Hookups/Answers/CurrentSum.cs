using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Whether the currents add up as the reported hook-up says they must.</summary>
internal static class CurrentSum
{
    private const double Tolerated = 0.12;

    public static void Note(ImmutableArray<Note>.Builder notes, PanelReadings readings, WeighedAnswer best)
    {
        var service = Hookups.Service.Of(readings.Service);
        var clamps = best.Answer.Hookup.Clamps;
        var phasors = ReadingPhasors.Of(readings, best.Strongest);
        var sum = Phasor.Zero;
        double largest = 0;
        var seen = new HashSet<Conductor>();
        foreach (var (clamp, place) in clamps)
        {
            if (place.On is not { } on || !seen.Add(on)) continue;
            if (!phasors.TryGetValue(Channel.I1 + (int)clamp, out var phasor)) return;
            sum += (place.Reversed ? -1 : 1) / place.Scale * phasor;
            largest = Math.Max(largest, phasor.Magnitude / place.Scale);
        }

        var isClosed = service.Conductors.All(seen.Contains) && seen.Count > 2;
        if (isClosed && largest > 0.5 && sum.Magnitude > Tolerated * largest)
        {
            notes.Add(new Note(
                NoteKind.CurrentsDoNotAddUp, [.. clamps.Keys.Select(clamp => Channel.I1 + (int)clamp)], sum.Magnitude / largest));
        }
    }
}
