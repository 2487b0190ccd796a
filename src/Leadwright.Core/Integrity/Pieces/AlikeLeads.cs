using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Puts two leads on one conductor among what the longest piece may be, where its power stands turned as by a reversed clamp.</summary>
/// <remarks>A few rows tell a lead on the other leg of a split service in no way from a clamp turned round, nor, without vars, one on another line of a wye service where the load's angle is near thirty degrees:
/// 120 + 30 and 180 − 30 are alike. All rows tell: the two voltages are then one, though in the rest of the recording they are not. The hook-up check counts the turned clamp the likelier, and
/// would keep it however long the two read the same.</remarks>
internal static class AlikeLeads
{
    private const double LeastOdds = 6;
    private const double Prior = 0.05;
    private const double Spread = 4e-4;
    private const double NearDegrees = 20;
    private const double MostSteps = 3;
    private const double Parted = 3;
    private const double GainsAgree = 0.003;
    private const double Live = 0.5;

    // What is not two leads on one conductor then is two lines that are one for all of a recording.
    private const double Otherwise = 0.02;

    public static void Add(Chained chained, List<RowPiece> pieces, List<HookupChance> chances)
    {
        var frame = chained.Frame;
        if (frame.IsPairs || frame.Lines < 2 || chances.Count == 0 || chances.MaxBy(chance => chance.Probability)!.Hookup.IsRight) return;
        var right = Hookup.Expected(frame.Service.Leads, chances[0].Hookup.Clamps.Keys);
        var found = new List<(int One, int Other, HookupChance Chance)>();
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = 0; other < frame.Lines; other++)
            {
                if (one == other || frame.Volts[one] is not { } first || frame.Volts[other] is not { } second) continue;
                var moved = right with { Leads = right.Leads.SetItem((Lead)one, (Conductor)other) };
                if (chances.Exists(chance => chance.Hookup.Equals(moved)) || !Fits(chained, Arrangement.Of(moved), Arrangement.Of(right))) continue;
                if (AlikeTest.Odds(first, second, pieces, Spread, Third(frame, one, other)) + AlikeTest.LevelOdds(first, second, pieces) > LeastOdds) found.Add((one, other, new HookupChance(moved, Prior)));
            }
        }

        // Where one voltage is like both others the supply moves all three, and none tells of a lead.
        if (found.Count == 0) PutSame(chained, pieces, chances, right);
        if (found.Select(entry => (Math.Min(entry.One, entry.Other), Math.Max(entry.One, entry.Other))).Distinct().Count() == 1) chances.AddRange(found.Select(entry => entry.Chance));
    }

    /// <summary>Puts first what two voltages show that never part by more than their digits, while both part from the third all along: few changes of coarse volts tell, but where they stand does.</summary>
    private static void PutSame(Chained chained, List<RowPiece> pieces, List<HookupChance> chances, Hookup right)
    {
        var frame = chained.Frame;
        if (frame.Lines < 3 || 2 * pieces.Sum(piece => piece.Length) < frame.Count) return;
        var fitting = new List<Hookup>();
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = 0; other < frame.Lines; other++)
            {
                if (one == other || frame.Volts[one] is not { } first || frame.Volts[other] is not { } second || frame.Volts[3 - one - other] is not { } third) continue;
                double step = Math.Max(Robust.Step(first), Robust.Step(second)), alike = Range(first, second, pieces, out var level), apart = Math.Min(Range(first, third, pieces, out _), Range(second, third, pieces, out _));
                if (!(alike < MostSteps * step) || !(apart > Parted * Math.Max(alike, step)) || !(Math.Abs(level) < GainsAgree)) continue;
                var moved = right with { Leads = right.Leads.SetItem((Lead)one, (Conductor)other) };
                if (Fits(chained, Arrangement.Of(moved), Arrangement.Of(right))) fitting.Add(moved);
            }
        }

        if (fitting is not [var only]) return;
        HookupChance[] others = [.. chances.Where(chance => !chance.Hookup.Equals(only)).Select(chance => chance with { Probability = Otherwise * chance.Probability })];
        chances.Clear();
        chances.AddRange([new HookupChance(only, 1), .. others]);
    }

    /// <summary>Between what two bounds the logarithm of a ratio keeps in 49 of 50 rows, and where its middle is.</summary>
    private static double Range(double[] one, double[] other, List<RowPiece> pieces, out double level)
    {
        double[] logs = [.. pieces.SelectMany(piece => Enumerable.Range(piece.From, piece.Length)).Where(row => one[row] > Live && other[row] > Live).Select(row => Math.Log(one[row] / other[row]))];
        level = logs.Length == 0 ? double.NaN : Robust.Median(logs);
        return logs.Length == 0 ? double.NaN : Robust.Quantile(logs, 0.99) - Robust.Quantile(logs, 0.01);
    }

    private static double Third(GuardFrame frame, int one, int other) =>
        frame.Lines < 3 || frame.Volts[3 - one - other] is not { } third ? 0 : Math.Min(AlikeTest.Spread(frame.Volts[one]!, third), AlikeTest.Spread(frame.Volts[other]!, third));

    /// <summary>True where every power stands as it does with the leads so, the load's angle being that of the channels that stand unturned.</summary>
    internal static bool Fits(Chained chained, Arrangement moved, Arrangement right, double ofDistortion = 0)
    {
        double[] unturned = [.. chained.Angles.Where(angles => angles is not null && Math.Abs(angles.UsualDegrees) < 70).Select(angles => angles!.UsualDegrees)];
        if (unturned.Length == 0) return false;
        // Lines of loads of their own stand apart from each other as well.
        double load = unturned.Average(), apart = 0.5 * (unturned.Max() - unturned.Min());
        var turns = 0;
        for (var channel = 0; channel < chained.Frame.Lines; channel++)
        {
            if (chained.Angles[channel] is not { } angles || moved.Turn(chained.Frame, right, channel) is not { } turn) continue;
            double with = Angle.WrapDegrees(load + turn), against = Angle.WrapDegrees(load - turn), seen = angles.UsualDegrees;
            // Between two legs powers turn by half a cycle or not at all, and vars written without their sign show it as well.
            if (!angles.HasVars || chained.Frame.Service.Kind == ServiceKind.Split) (with, against, seen) = (Math.Abs(with), Math.Abs(against), Math.Abs(seen));
            if (Math.Min(Math.Abs(Angle.WrapDegrees(with - seen)), Math.Abs(Angle.WrapDegrees(against - seen))) > NearDegrees + apart + (angles.HasVars ? 0 : ofDistortion)) return false;
            if (Math.Abs(turn) > 1) turns++;
        }

        return turns > 0;
    }
}
