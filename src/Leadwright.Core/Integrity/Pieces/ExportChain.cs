using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Finds exchanged and turned leads and clamps by day on a site with generation, where the angle of the power tells nothing.</summary>
/// <remarks>
/// A line's voltage answers to that line's own current, whatever its direction. Every movement says which voltage channel is which line's and
/// by how much each channel's power is turned; from it follow the true currents, and from the answers learned the change of every voltage from
/// row to row. By night, when nothing is generated, the angle chains' own findings are taken. Where a movement leaves a line without a clamp nothing
/// is predicted, and it is left to other relations.
/// </remarks>
internal static class ExportChain
{
    private sealed record Candidate(int[] Channels, int[] Home, double[] Turns, double Enter, double Share = 1);

    /// <summary>Puts what is found into the histories of the angles; true when anything was.</summary>
    public static bool Override(
        GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] angles, CurrentHistory?[] currents, CurrentSum? sum,
        CancellationToken cancellation)
    {
        if (!frame.Options.Check.MayExport || frame.Lines < 2 || frame.Options.ProvedHookup is { IsRight: false }) return false;
        int[] clamps = [.. Enumerable.Range(0, frame.Lines).Where(index => frame.Amperes[index] is not null)];
        int[] channels = [.. Enumerable.Range(0, frame.Lines).Where(index => answers[index] is { IsKnown: true, Weights.Length: 3 })];
        if (clamps.Length < 2 || channels.Length < clamps.Length || clamps.Any(clamp => angles[clamp] is not { HasVars: true })) return false;
        var candidates = Candidates(frame, clamps);
        var best = History(frame, voltages, answers, angles, currents, channels, clamps, candidates, cancellation, out var most);
        if (frame.Service.IsThreePhase)
        {
            // The lines may come in the other order.
            var mirrored = candidates.ConvertAll(candidate => candidate with { Turns = [.. candidate.Turns.Select(turn => -turn)] });
            var other = History(frame, voltages, answers, angles, currents, channels, clamps, mirrored, cancellation, out var score);
            if (score > most + 3) (best, candidates) = (other, mirrored);
        }

        BriefMovements.Drop(best, frame.Log.IntervalSeconds);
        var isFound = false;
        var stays = Array.ConvertAll(clamps, clamp => StaysByDay(frame, angles[clamp]!.Rows, best, candidates));
        for (var row = 0; row < best.Length; row++)
        {
            // Where the sum of the currents tells of directions it has been heard.
            if (!IsDay(frame, row) || (sum is not null && best[row] == 0)) continue;
            isFound |= best[row] != 0 && candidates[best[row]].Share == 1;
            if (Array.Exists(stays, stay => stay[row])) continue;
            foreach (var clamp in clamps)
            {
                if (angles[clamp]!.Rows[row] < 0) continue;
                var turn = Array.FindIndex(angles[clamp]!.Turns, entry => Math.Abs(Angle.WrapDegrees(entry - candidates[best[row]].Turns[clamp])) < 8);
                if (turn >= 0) angles[clamp]!.Rows[row] = (sbyte)turn;
            }
        }

        return isFound;
    }

    /// <summary>Rows of days before and after which a channel's power stands turned alike: what none of the candidates is, two leads on one conductor, is still there by day.</summary>
    private static bool[] StaysByDay(GuardFrame frame, sbyte[] turns, byte[] history, List<Candidate> candidates)
    {
        var stays = new bool[history.Length];
        for (var row = 0; row < stays.Length; row++)
        {
            if (!IsDay(frame, row)) continue;
            var last = row;
            while (last + 1 < stays.Length && IsDay(frame, last + 1)) last++;
            int before = row - 1, after = last + 1;
            while (before >= 0 && turns[before] < 0) before--;
            while (after < stays.Length && turns[after] < 0) after++;
            var others = 0;
            for (var at = row; at <= last; at++) others += candidates[history[at]].Turns.AsSpan().ContainsAnyExcept(0.0) ? 1 : 0;
            if (2 * others < last - row + 1 && before >= 0 && after < stays.Length && turns[before] > 0 && turns[before] == turns[after]) Array.Fill(stays, true, row, last - row + 1);
            row = last;
        }

        return stays;
    }

    /// <summary>Generation is mostly sun.</summary>
    private static bool IsDay(GuardFrame frame, int row) => frame.From(row).Hour is >= 5 and < 21;

    /// <summary>The movements that leave every line a clamp and every voltage in proportion; the first is none.</summary>
    private static List<Candidate> Candidates(GuardFrame frame, int[] clamps)
    {
        var right = new Arrangement([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);
        var made = new List<Candidate>();
        foreach (var moved in Movements.OfLeads(frame, right).Concat(Movements.OfClamps(frame, right)))
        {
            if (moved.Leads[3] != 3 || moved.Leads.Take(frame.Lines).Any(on => on is < 0 or > 2)) continue;
            if (moved.Leads.Take(frame.Lines).Distinct().Count() < frame.Lines) continue;
            int[] on = [.. clamps.Select(clamp => moved.Clamps[clamp])];
            if (on.Order().SequenceEqual(clamps) == false) continue;
            var turns = new double[3];
            var isKnown = true;
            foreach (var clamp in clamps)
            {
                if (moved.Turn(frame, right, clamp) is { } turn) turns[clamp] = turn;
                else isKnown = false;
            }

            var home = new int[3];
            foreach (var clamp in clamps) home[moved.Clamps[clamp]] = clamp;
            var channels = new int[3];
            for (var index = 0; index < frame.Lines; index++) channels[index] = ChannelOf(frame, moved.Leads, index);
            if (!isKnown || channels.Take(frame.Lines).Any(channel => channel < 0)) continue;
            made.Add(new Candidate(channels, home, turns, made.Count == 0 ? 5 : moved.LogPrior > -4.2 ? 11 : moved.LogPrior > -6.2 ? 12 : 15));
        }

        // With the neutral lead in the air all answers shrink, and nothing has moved: another chain names it.
        if (!frame.IsPairs && frame.Service.Kind is ServiceKind.Wye or ServiceKind.Split)
            made.Add(made[0] with { Enter = 11, Share = frame.Service.Kind == ServiceKind.Split ? 0 : 0.25 });
        return made;
    }

    /// <summary>Whose voltage a channel reads.</summary>
    private static int ChannelOf(GuardFrame frame, int[] leads, int channel)
    {
        if (!frame.IsPairs) return leads[channel];
        int one = leads[channel], other = leads[(channel + 1) % 3];
        for (var pair = 0; pair < 3; pair++)
        {
            if ((pair == one && (pair + 1) % 3 == other) || (pair == other && (pair + 1) % 3 == one)) return pair;
        }

        return -1;
    }

    private static byte[] History(
        GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, AngleHistory?[] angles, CurrentHistory?[] currents,
        int[] channels, int[] clamps, List<Candidate> candidates, CancellationToken cancellation, out double most)
    {
        var count = candidates.Count;
        var chain = new LinkedChain([.. candidates.Select(candidate => candidate.Enter)], frame.Count);
        var says = new double[count];
        Span<double> inPhase = stackalloc double[3];
        Span<double> across = stackalloc double[3];
        Span<double> inPhaseRead = stackalloc double[3];
        Span<double> acrossRead = stackalloc double[3];
        var turns = candidates.ConvertAll(candidate => Array.ConvertAll(candidate.Turns, turn => Math.SinCos(turn * Math.PI / 180)));
        // From one wrong hook-up to another nothing goes at once.
        Array.Fill(chain.Links, -1e6);
        double sound = 0;
        for (var row = 0; row < frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            Array.Clear(chain.Says);
            Array.Clear(says);
            double change = 0;
            var tells = row > 0 && voltages.Rows[row] == 0 && voltages.Rows[row - 1] == 0
                && clamps.All(clamp => !double.IsNaN(angles[clamp]!.Degrees[row]) && !double.IsNaN(angles[clamp]!.Degrees[row - 1]))
                && Array.TrueForAll(currents, current => current is null || (current.Rows[row] == 0 && current.Rows[row - 1] == 0));
            if (tells)
            {
                foreach (var clamp in clamps)
                {
                    var (now, then) = (Read(clamp, row), Read(clamp, row - 1));
                    (inPhaseRead[clamp], acrossRead[clamp]) = (now.InPhase - then.InPhase, now.Across - then.Across);
                }

                for (var state = 0; state < count; state++)
                {
                    var candidate = candidates[state];
                    foreach (var line in clamps)
                    {
                        // The current of each line, from the channel whose clamp is on it, its angle turned back.
                        var clamp = candidate.Home[line];
                        var (sine, cosine) = turns[state][clamp];
                        inPhase[line] = (inPhaseRead[clamp] * cosine) + (acrossRead[clamp] * sine);
                        across[line] = (acrossRead[clamp] * cosine) - (inPhaseRead[clamp] * sine);
                    }

                    foreach (var channel in channels)
                    {
                        var answer = answers[candidate.Channels[channel]];
                        var moved = answers[channel].Change(row);
                        if (double.IsNaN(moved)) continue;
                        if (answer.Weights.Length < 3)
                        {
                            // Of the pair without a clamp of its own no answer is learned.
                            says[state] += 0.67 * Say(moved, answers[channel].UnknownSpread);
                            continue;
                        }

                        double expected = 0, square = answer.Spread * answer.Spread;
                        foreach (var line in clamps)
                        {
                            var part = (answer.Weights[line].InPhase * inPhase[line]) + (answer.Weights[line].Across * across[line]);
                            expected += candidate.Share * part;
                            square += 0.03 * part * part;
                        }

                        if (double.IsNaN(expected)) continue;
                        says[state] += 0.67 * Say(moved - expected, Math.Sqrt(square));
                        if (state == 0) change += 0.67 * Say(moved, Math.Max(0.004, 2 * answer.Spread));
                    }
                }
            }

            var isNight = !IsDay(frame, row);
            for (var state = 0; state < count; state++)
            {
                chain.Links[(state * count) + state] = says[state];
                if (state > 0)
                {
                    chain.Links[state] = change + (row > 0 && tells ? Leap(angles, clamps, candidates[0], candidates[state], row) : 0);
                    chain.Links[state * count] = change + (row > 0 && tells ? Leap(angles, clamps, candidates[state], candidates[0], row) : 0);
                }

                if (!isNight) continue;
                foreach (var clamp in clamps)
                {
                    if (angles[clamp]!.Rows[row] is >= 0 and var turn && Math.Abs(Angle.WrapDegrees(angles[clamp]!.Turns[turn] - candidates[state].Turns[clamp])) > 8) chain.Says[state] -= 4;
                }
            }

            if (row > 0 && tells) sound += says[0];
            chain.Take(row > 0);
        }

        most = chain.Score - sound;
        return chain.History();

        (double InPhase, double Across) Read(int clamp, int row)
        {
            if (frame.TryMeanCurrent(clamp, row, out var inPhase, out var across)) return (inPhase, across);
            var (sine, cosine) = Math.SinCos(angles[clamp]!.Degrees[row] * Math.PI / 180);
            return (frame.Amperes[clamp]![row] * cosine, frame.Amperes[clamp]![row] * sine);
        }
    }

    /// <summary>A movement turns all angles at once by what lies between the conductors; the weather does not.</summary>
    private static double Leap(AngleHistory?[] angles, int[] clamps, Candidate before, Candidate state, int row)
    {
        double log = 0;
        foreach (var clamp in clamps)
        {
            var change = Angle.WrapDegrees(angles[clamp]!.Degrees[row] - angles[clamp]!.Degrees[row - 1]);
            var turn = Angle.WrapDegrees(state.Turns[clamp] - before.Turns[clamp]);
            log += Math.Log(Near(Angle.WrapDegrees(change - turn)) / Near(change));
        }

        return Math.Clamp(log, -6, 6);
    }

    private static double Near(double degrees) => 0.02 + Math.Exp(-degrees * degrees / (2 * 20 * 20));

    private static double Say(double off, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (off * off / (4 * spread * spread))));
}
