using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Phasors;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>The legs of a split service stand opposite to each other, so that two exchanged leads read as both clamps turned do. What tells them apart is which leg's voltage answers to which clamp; and where that
/// does not, that a recording which is right in part needs no second mishap there.</summary>
internal static class OppositeLegs
{
    /// <summary>How much the answers must speak for the other of the two, nats; and as much again for each fault that it has more.</summary>
    private const double LeastGain = 3, ByFault = 4;

    /// <summary>The hook-up that reads like another: leads exchanged, and every clamp the other way round.</summary>
    public static Hookup Of(Hookup hookup) => hookup with
    {
        Leads = hookup.Leads.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value switch { Conductor.A => Conductor.B, Conductor.B => Conductor.A, var on => on }),
        Clamps = hookup.Clamps.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value.On is null ? pair.Value : pair.Value with { Reversed = !pair.Value.Reversed }),
    };

    /// <summary>Chances of the longest piece, each as whichever of the two the voltages answer to.</summary>
    public static List<HookupChance> Weigh(GuardFrame frame, VoltageHistory voltages, RowKey key, List<RowPiece> pieces, List<HookupChance> chances)
    {
        if (frame.Service.Kind != ServiceKind.Split || chances.TrueForAll(chance => chance.Hookup.IsRight)) return chances;
        var answers = new AnswerTest(frame, voltages, PhasorCourse.None);
        return [.. chances.Select(chance => Chosen(chance.Hookup) is var chosen && chosen.Equals(chance.Hookup) ? chance : chance with { Hookup = chosen })];

        Hookup Chosen(Hookup hookup)
        {
            var opposite = Of(hookup);
            Arrangement one = Arrangement.Of(hookup), other = Arrangement.Of(opposite);
            if (hookup.IsRight || !answers.Speaks(one) || !answers.Speaks(other)) return hookup;
            var sums = answers.Of(key, pieces);
            return answers.BestGain(other, sums) - answers.BestGain(one, sums) > LeastGain + (ByFault * Math.Max(0, Faults(opposite) - Faults(hookup))) ? opposite : hookup;
        }
    }

    /// <summary>Names all pieces the other way where more rows are right then, in place.</summary>
    public static void Name(GuardFrame frame, List<JudgedPiece> judged)
    {
        if (frame.Service.Kind != ServiceKind.Split) return;
        int right = 0, opposite = 0;
        foreach (var piece in judged)
        {
            if (piece.Hookup.IsRight) right += piece.To - piece.From + 1;
            else if (Of(piece.Hookup).IsRight) opposite += piece.To - piece.From + 1;
        }

        if (opposite <= right) return;
        for (var index = 0; index < judged.Count; index++)
            judged[index] = judged[index] with { Hookup = Of(judged[index].Hookup), Alternatives = [.. judged[index].Alternatives.Select(chance => chance with { Hookup = Of(chance.Hookup) })] };
    }

    private static int Faults(Hookup hookup) => (hookup.Leads.Any(pair => pair.Value is { } on && (int)on != (int)pair.Key) ? 1 : 0) + hookup.Clamps.Count(pair => pair.Value.Reversed);
}
