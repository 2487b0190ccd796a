using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Whether each channel, on both sides of a change, reads on where its lead or clamp was moved to: a clamp that went to another line
/// goes on with that line's current.</summary>
internal static class Continuity
{
    private const int MostBounds = 6;
    private const double VoltageSpread = 0.002;

    /// <summary>Pairs of a row in the anchor and one in the piece, close together, the mixed row between them left out.</summary>
    public static List<(int Anchor, int Piece)> Bounds(List<RowPiece> pieces, List<RowPiece> anchors, int rows)
    {
        var bounds = new List<(int, int)>();
        var isAnchor = new Dictionary<int, bool>();
        foreach (var anchor in anchors)
        {
            isAnchor[anchor.From] = true;
            isAnchor[anchor.To] = true;
        }

        foreach (var piece in pieces)
        {
            if (bounds.Count >= MostBounds) break;
            var inner = piece.Length > 2 ? 1 : 0;
            if (isAnchor.ContainsKey(piece.From - 1) && piece.From >= 2) bounds.Add((piece.From - 2, Math.Min(piece.To, piece.From + inner)));
            if (isAnchor.ContainsKey(piece.To + 1) && piece.To + 2 < rows) bounds.Add((piece.To + 2, Math.Max(piece.From, piece.To - inner)));
        }

        return bounds;
    }

    public static double Say(GuardFrame frame, VoltageHistory voltages, Arrangement anchor, Arrangement moved, List<(int Anchor, int Piece)> bounds)
    {
        double log = 0;
        foreach (var (from, to) in bounds)
        {
            for (var channel = 0; channel < frame.Lines; channel++)
            {
                if (frame.Amperes[channel] is { } amperes && moved.Clamps[channel] >= 0)
                    log += SayCurrent(frame, anchor, moved.Clamps[channel], amperes[to], from);
                if (frame.IsPairs) log += SayPair(frame, anchor, moved, channel, from, to);
                if (frame.IsPairs || frame.Lines < 2 || frame.Volts[channel] is not { } volts || moved.Leads[channel] is < 0 or > 2 || moved.Leads[3] != anchor.Leads[3]) continue;
                var home = Array.IndexOf(anchor.Leads, moved.Leads[channel]);
                if (home < 0 || home > 2 || frame.Volts[home] is not { } source) continue;
                // The supply's common drift in between is taken out with the mean of all.
                var drift = Mean(frame, to) - Mean(frame, from);
                log += Student(volts[to] - source[from] - drift, VoltageSpread, 0.01);
            }
        }

        return Math.Clamp(log, -60, 60);
    }

    /// <summary>A pair of lines is read by whichever channel has its two leads: its voltage goes on there.</summary>
    private static double SayPair(GuardFrame frame, Arrangement anchor, Arrangement moved, int channel, int from, int to)
    {
        if (frame.Volts[channel] is not { } volts || frame.Volts.Any(column => column is null)) return 0;
        int one = moved.Leads[channel], other = moved.Leads[(channel + 1) % 3];
        if (one is < 0 or > 2 || other is < 0 or > 2 || one == other) return 0;
        for (var home = 0; home < 3; home++)
        {
            int first = anchor.Leads[home], second = anchor.Leads[(home + 1) % 3];
            if ((first != one || second != other) && (first != other || second != one)) continue;
            // Against that nothing moved: what stayed where it was says nothing.
            if (home == channel) return 0;
            var drift = Mean(frame, to) - Mean(frame, from);
            return Student(volts[to] - frame.Volts[home]![from] - drift, VoltageSpread, 0.01) - Student(volts[to] - volts[from] - drift, VoltageSpread, 0.01);
        }

        return 0;
    }

    private static double SayCurrent(GuardFrame frame, Arrangement anchor, int on, double now, int from)
    {
        double then;
        var home = Array.IndexOf(anchor.Clamps, on);
        if (home >= 0 && frame.Amperes[home] is { } source) then = source[from];
        else return 0;
        if (!(then > 0) || !(now > 0)) return 0;
        return Student(Math.Log(now / then), 0.12, 0.8);
    }

    private static double Mean(GuardFrame frame, int row)
    {
        double sum = 0;
        for (var index = 0; index < frame.Lines; index++) sum += frame.Volts[index] is { } volts ? volts[row] / frame.Lines : 0;
        return sum;
    }

    /// <summary>Narrow with wide shoulders, against the wide alone.</summary>
    internal static double Student(double off, double spread, double wide)
    {
        if (double.IsNaN(off)) return 0;
        return Math.Log((0.8 * Density(off, spread)) + (0.2 * Density(off, wide))) - Math.Log(Density(off, wide));
    }

    private static double Density(double off, double spread) => 0.375 / spread / Robust.FiveHalves(1 + (off * off / (4 * spread * spread)));
}
