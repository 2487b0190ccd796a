using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>What the hook-up check says of the rows of one key.</summary>
/// <param name="Chances">Hook-ups with their probabilities, likeliest first; at least one.</param>
/// <param name="Rotation">The rotation with the first.</param>
internal sealed record AnchorVerdict(ImmutableArray<HookupChance> Chances, Circuits.Rotation Rotation)
{
    public HookupChance Best => Chances[0];
}

/// <summary>Has the hook-up check judge a few telling rows of one key, and joins its answers.</summary>
/// <remarks>The rows of one site share its loads, so that n rows say less than n times as much: their log-probabilities are added with the
/// weight 1/√n each. Which rows: those in which every phase carries much, from different hours.</remarks>
internal static class AnchorJudge
{
    private const double Least = 1e-4;

    public static AnchorVerdict Judge(GuardFrame frame, List<RowPiece> pieces, int count, CancellationToken cancellation)
    {
        var clamps = Enumerable.Range(0, 4).Where(clamp => frame.Amperes[clamp] is not null).Select(clamp => (Clamp)clamp);
        var expected = Hookup.Expected(frame.Service.Leads, clamps);
        var rows = Telling(frame, pieces, count);
        if (rows.Count == 0) return new AnchorVerdict([new HookupChance(expected, 0.5)], Circuits.Rotation.Unknown);
        var verdicts = new List<Dictionary<Hookup, double>>();
        var rotations = new Dictionary<Hookup, Circuits.Rotation>();
        foreach (var row in rows)
        {
            cancellation.ThrowIfCancellationRequested();
            var verdict = HookupCheck.Judge(ReadingsOf(frame, row), frame.Options.Check);
            if (verdict.StatedService is not null) continue;
            var shares = new Dictionary<Hookup, double>();
            foreach (var answer in verdict.Alternatives.Prepend(verdict.Best))
            {
                var hookup = answer.Faults.IsEmpty ? expected : answer.Hookup;
                shares[hookup] = shares.GetValueOrDefault(hookup) + answer.Probability;
                rotations.TryAdd(hookup, answer.Rotation);
            }

            shares[expected] = Math.Max(shares.GetValueOrDefault(expected), verdict.ProbabilityCorrect);
            verdicts.Add(shares);
        }

        if (verdicts.Count == 0) return new AnchorVerdict([new HookupChance(expected, 0.5)], Circuits.Rotation.Unknown);
        var weight = 1 / Math.Sqrt(verdicts.Count);
        var logs = verdicts.SelectMany(shares => shares.Keys).Distinct()
            .Select(hookup => (Hookup: hookup, Log: weight * verdicts.Sum(shares => Math.Log(shares.GetValueOrDefault(hookup) + Least))))
            .OrderByDescending(entry => entry.Log).ToList();
        var total = logs.Sum(entry => Math.Exp(entry.Log - logs[0].Log));
        return new AnchorVerdict(
            [.. logs.Take(4).Select(entry => new HookupChance(entry.Hookup, Math.Exp(entry.Log - logs[0].Log) / total))],
            rotations.GetValueOrDefault(logs[0].Hookup));
    }

    /// <summary>Rows in which every phase carries much, from different hours.</summary>
    public static List<int> Telling(GuardFrame frame, List<RowPiece> pieces, int count)
    {
        var weighed = new List<(int Row, double Weight)>();
        var total = pieces.Sum(piece => piece.Length);
        var step = Math.Max(1, total / 3000);
        foreach (var piece in pieces)
        {
            // The first and the last row of a piece may be mixed.
            for (var row = piece.From + (piece.Length > 2 ? 1 : 0); row <= piece.To - (piece.Length > 2 ? 1 : 0); row += step)
            {
                double least = double.PositiveInfinity;
                for (var clamp = 0; clamp < frame.Lines; clamp++)
                {
                    if (frame.Amperes[clamp] is { } amperes) least = Math.Min(least, double.IsNaN(amperes[row]) ? -1 : amperes[row]);
                    else if (frame.Watts[clamp] is { } watts) least = Math.Min(least, double.IsNaN(watts[row]) ? -1 : Math.Abs(watts[row]));
                }

                if (least >= 0) weighed.Add((row, least));
            }
        }

        if (weighed.Count == 0) return [];
        var kept = weighed.OrderByDescending(entry => entry.Weight).Take(Math.Max(count, weighed.Count * 2 / 5)).Select(entry => entry.Row).Order().ToList();
        var rows = new List<int>();
        for (var index = 0; index < count; index++) rows.Add(kept[(int)((index + 0.5) * kept.Count / count)]);
        return [.. rows.Distinct()];
    }

    /// <summary>One row as readings of a recorder.</summary>
    public static PanelReadings ReadingsOf(GuardFrame frame, int row)
    {
        var channels = ImmutableSortedDictionary.CreateBuilder<Channel, ChannelReading>();
        var phases = ImmutableSortedDictionary.CreateBuilder<int, PhasePower>();
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Volts[index] is { } volts && !double.IsNaN(volts[row]))
                channels[(frame.IsPairs ? Channel.V12 : Channel.V1) + index] = new ChannelReading(volts[row] * frame.UnitVolts, null);
            if (frame.Watts[index] is { } watts && !double.IsNaN(watts[row]))
                phases[index + 1] = new PhasePower(watts[row], frame.Vars[index] is { } vars && !double.IsNaN(vars[row]) ? vars[row] : null, null, null);
        }

        for (var index = 0; index < 3; index++)
        {
            if (frame.Amperes[index] is { } amperes && !double.IsNaN(amperes[row])) channels[Channel.I1 + index] = new ChannelReading(amperes[row], null);
        }

        return new PanelReadings
        {
            Service = frame.Service.Kind,
            Nominal = frame.Nominal,
            FrequencyHertz = frame.Options.FrequencyHertz,
            PowerSign = PowerSign.LoadPositive,
            Channels = channels.ToImmutable(),
            Phases = phases.ToImmutable(),
        };
    }
}
