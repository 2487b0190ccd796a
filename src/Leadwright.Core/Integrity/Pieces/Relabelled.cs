using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Leads and clamps all moved alike read as they do where nothing was moved and the lines have each other's names. Names are names: where more of a recording is right under other
/// names than under those that its longest piece was judged by, it is told by those.</summary>
internal static class Relabelled
{
    /// <summary>Names the lines so that most rows are right, in place.</summary>
    /// <param name="judged">The pieces.</param>
    /// <param name="lines">Number of lines.</param>
    /// <returns>True when two of them exchanged their names, and the rotation with them its sense.</returns>
    public static bool Name(List<JudgedPiece> judged, int lines)
    {
        if (lines != 3) return false;
        var right = judged.Where(piece => piece.Hookup.IsRight).Sum(piece => piece.To - piece.From + 1);
        var other = judged.Where(piece => !piece.Hookup.IsRight && IsPermuted(piece.Hookup)).GroupBy(piece => piece.Hookup)
            .Select(group => (Hookup: group.Key, Rows: group.Sum(piece => piece.To - piece.From + 1))).OrderByDescending(entry => entry.Rows).FirstOrDefault();
        if (other.Hookup is null || other.Rows <= right) return false;
        var names = new Conductor[3];
        for (var lead = 0; lead < 3; lead++) names[(int)other.Hookup.Leads[(Lead)lead]!.Value] = (Conductor)lead;
        for (var index = 0; index < judged.Count; index++)
        {
            var piece = judged[index];
            judged[index] = piece with
            {
                Hookup = Named(piece.Hookup, names),
                Alternatives = [.. piece.Alternatives.Select(chance => chance with { Hookup = Named(chance.Hookup, names) })],
            };
        }

        // One name kept: the other two were exchanged.
        return Enumerable.Range(0, 3).Count(line => (int)names[line] == line) == 1;
    }

    /// <summary>True when the leads of the lines are on three lines, each with its own clamp, the right way round.</summary>
    private static bool IsPermuted(Hookup hookup)
    {
        var seen = 0;
        for (var line = 0; line < 3; line++)
        {
            if (!hookup.Leads.TryGetValue((Lead)line, out var on) || on is null or Conductor.N) return false;
            if (hookup.Clamps.TryGetValue((Clamp)line, out var place) && (place.On != on || place.Reversed)) return false;
            seen |= 1 << (int)on;
        }

        return seen == 7 && (!hookup.Leads.TryGetValue(Lead.VN, out var neutral) || neutral == Conductor.N);
    }

    private static Hookup Named(Hookup hookup, Conductor[] names) => hookup with
    {
        Leads = hookup.Leads.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value is { } on && on < Conductor.N ? names[(int)on] : pair.Value),
        Clamps = hookup.Clamps.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value.On is { } on && on < Conductor.N ? pair.Value with { On = names[(int)on] } : pair.Value),
    };
}
