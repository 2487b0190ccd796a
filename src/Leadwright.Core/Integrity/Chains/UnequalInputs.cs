using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Tells a neutral lead in the air, of a recorder whose inputs load the lines unequally, from a service whose neutral was lost.</summary>
/// <remarks>Both push the three voltages apart. A lost neutral pushes them by what the loads draw, tens of volts whenever one is switched; inputs push them by their own impedances, in one fixed proportion whatever is switched.</remarks>
internal static class UnequalInputs
{
    private const int LeastRows = 6;

    /// <summary>Proportions that keep within so much, logarithm; the supply's own unbalance goes on moving by some thousandths.</summary>
    private const double Still = 0.004;
    private const double StillThroughout = 0.02;

    /// <summary>Lines' loads that change by so much against each other would have moved a floating neutral; where all go together it stands.</summary>
    private const double Moving = 0.1;

    public static VoltageHistory Override(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.IsPairs || frame.Lines != 3 || frame.Service.Kind != ServiceKind.Wye) return voltages;
        var floating = Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.SupplyNeutralLost);
        var lead = Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.Leads && entry.Line == 3);
        if (floating < 0 || lead < 0) return voltages;
        var rows = (byte[])voltages.Rows.Clone();
        for (var row = 0; row < rows.Length; row++)
        {
            if (rows[row] != floating) continue;
            var last = row;
            while (last + 1 < rows.Length && rows[last + 1] == floating) last++;
            if (StandStill(frame, row, last)) Array.Fill(rows, (byte)lead, row, last - row + 1);
            row = last;
        }

        return voltages with { Rows = rows };
    }

    private static bool StandStill(GuardFrame frame, int from, int to)
    {
        if (to - from + 1 < LeastRows) return false;
        // The rows at the ends may be mixed.
        int[] inner = [.. Enumerable.Range(from + 1, to - from - 1)];
        var moves = 0.0;
        for (var line = 0; line < 3; line++)
        {
            double[] heights = [.. inner.Select(row => Math.Log(frame.Volts[line]![row] / ((frame.Volts[0]![row] + frame.Volts[1]![row] + frame.Volts[2]![row]) / 3)))];
            if (!(Robust.Deviation(heights) < Still) || !(Robust.Quantile(heights, 0.95) - Robust.Quantile(heights, 0.05) < StillThroughout)) return false;
            if (frame.Amperes[line] is not { } amperes || frame.Amperes[(line + 1) % 3] is not { } beside) continue;
            moves = Math.Max(moves, Robust.Deviation([.. inner.Where(row => amperes[row] > 0 && beside[row] > 0).Select(row => Math.Log(amperes[row] / beside[row]))]));
        }

        return moves > Moving;
    }
}
