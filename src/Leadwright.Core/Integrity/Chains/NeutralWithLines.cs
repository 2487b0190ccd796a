using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Where all lines' clamps read at one wrong ratio: the neutral's clamp did too, if it went on showing the same share of what they leave over.</summary>
internal static class NeutralWithLines
{
    /// <summary>How near the share keeps, logarithm.</summary>
    private const double Near = 0.3;

    /// <summary>Puts the lines' ratio into the neutral's history.</summary>
    public static void Put(GuardFrame frame, CurrentHistory?[] currents)
    {
        if (frame.Lines < 2 || currents[3] is not { } neutral || frame.NeutralSum is not { } sum || currents.Take(frame.Lines).Any(current => current is null)) return;
        var right = Runs(frame, currents, 1);
        foreach (var scale in neutral.Scales.Where(scale => Math.Abs(Math.Log(scale)) > 2 * Near && double.IsFinite(Math.Log(scale))))
        {
            foreach (var run in Runs(frame, currents, scale))
            {
                if (Math.Abs(Math.Log(sum.ShownTo(frame, [run]) / sum.ShownTo(frame, right))) < Near) Array.Fill(neutral.Rows, (byte)Array.IndexOf(neutral.Scales, scale), run.From, run.Length);
            }
        }
    }

    /// <summary>Rows from one to another in which all lines' clamps read at a ratio.</summary>
    private static List<RowPiece> Runs(GuardFrame frame, CurrentHistory?[] currents, double scale)
    {
        var runs = new List<RowPiece>();
        for (var row = 0; row < frame.Count; row++)
        {
            var last = row;
            while (last < frame.Count && Array.TrueForAll(currents[..frame.Lines], current => current!.Scales[current.Rows[last]] == scale)) last++;
            if (last > row) runs.Add(new RowPiece(row, last - 1, default));
            row = Math.Max(row, last - 1);
        }

        return runs;
    }
}
