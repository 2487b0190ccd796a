namespace Leadwright.Core.Mending.Maps;

/// <summary>Takes a recording whose only power is the total of all phases.</summary>
/// <remarks>
/// A total is right while every clamp is multiplied by its own line's voltage. While it is not, no arithmetic brings it back: what the other phases added is not known. The sizes of the currents
/// stay right whichever lead or direction goes with them, so that the total is then to be estimated from the sum of those clamps that were each on a line, as it was where nothing was wrong.
/// </remarks>
internal sealed class TotalMapper(RawSeries raw, ChannelFlags flags, HookupMap[] maps, int[] pieces)
{
    public void Take(int slot, LineSeries lines)
    {
        (lines.Watts[0][slot], lines.Vars[0][slot]) = (RawSeries.At(raw.Watts[0], slot), RawSeries.At(raw.Vars[0], slot));
        (lines.LeadOf[0][slot], lines.ClampOf[0][slot], lines.Scales[0][slot]) = (0, 0, 1);
        var map = maps.Length > 0 ? maps[pieces[slot]] : null;
        foreach (var clamp in raw.TotalClamps)
        {
            lines.Amperes[clamp][slot] = RawSeries.At(raw.Amperes[clamp], slot) / Math.Abs(map?.Signs[clamp] ?? 1);
            lines.ClipShares[clamp][slot] = flags.ClipShare(clamp, slot);
            (lines.CutExcess[clamp][slot], lines.CutErrors[clamp][slot]) = flags.CutExcess(clamp, slot);
        }

        if (IsStill(slot) || double.IsNaN(lines.Watts[0][slot]))
        {
            lines.States[0][slot] = PowerState.NeedsShare;
            return;
        }

        // The change itself falls within an interval: those beside it are not sure of either hook-up.
        var lost = Lost(slot, out var isWrong);
        foreach (var beside in (int[])[slot - 1, slot + 1])
        {
            if (beside < 0 || beside >= pieces.Length || pieces[beside] == pieces[slot] || raw.Grid.Rows[beside] < 0) continue;
            lost |= Lost(beside, out var isWrongBeside);
            isWrong |= isWrongBeside;
        }

        if (!isWrong)
        {
            if (raw.TotalClamps.Any(clamp => flags.IsClipped(clamp, slot))) lines.States[0][slot] = PowerState.AtLeast;
            // A voltage or current that was not written leaves its row out.
            if (map is not null && IsInTheAir(map)) lines.StarPointWattHours += StarPoint.WattHours(raw, lines, slot);
            return;
        }

        if (!flags.IsOut[slot] && CommonScale(slot) is { } scale)
        {
            (lines.Watts[0][slot], lines.Vars[0][slot], lines.Scales[0][slot]) = (lines.Watts[0][slot] / scale, lines.Vars[0][slot] / scale, scale);
            lines.States[0][slot] = PowerState.Mended;
            return;
        }

        if (!flags.IsOut[slot] && lost == 0 && Ratios(slot, out var weights) is { } ratio)
        {
            (lines.Watts[0][slot], lines.Vars[0][slot], lines.Scales[0][slot]) = (lines.Watts[0][slot] / ratio, lines.Vars[0][slot] / ratio, ratio);
            for (var index = 0; index < weights.Length; index++) lines.SharesMoved[raw.TotalClamps[index]] += lines.Watts[0][slot] * raw.Grid.Hours * weights[index];
            lines.States[0][slot] = PowerState.Mended;
            return;
        }

        if (flags.IsOut[slot]) return;
        lines.ClampsLost[slot] = lost;
        if (lost == 0 && ByFactors(slot) is var (told, uncertainty) && double.IsFinite(told)) (lines.ByFactors[slot], lines.FactorsUncertainty) = (told, uncertainty);
        lines.States[0][slot] = raw.TotalClamps.All(clamp => (lost & (1 << clamp)) != 0) ? PowerState.NeedsShare : PowerState.NeedsFactor;
    }

    /// <summary>What the lines' loads usually draw of the volt-amperes that the clamps of a slot show, watts, and how well that is known; NaN where it was not told.</summary>
    private (double Watts, double Uncertainty) ByFactors(int slot)
    {
        var map = maps[pieces[slot]];
        var factors = map.Piece.Factors ?? (slot > 0 ? maps[pieces[slot - 1]].Piece.Factors : null) ?? (slot + 1 < pieces.Length ? maps[pieces[slot + 1]].Piece.Factors : null);
        if (factors is null) return (double.NaN, 0);
        double volts = 0, watts = 0;
        for (var line = 0; line < raw.Lines; line++) volts += RawSeries.At(raw.Volts[line], slot) / raw.Lines;
        foreach (var clamp in raw.TotalClamps)
        {
            var on = map.Clamps[clamp];
            // Of three wires the element of two clamps sees the pair, that of three the line; of four wires a voltage is the lead's that stood on the line.
            var own = raw.IsThreeWire ? (raw.TotalClamps.Length == 2 ? volts : volts / Math.Sqrt(3)) : RawSeries.At(raw.Volts[Math.Max(0, Array.IndexOf(map.Leads, on))], slot);
            watts += factors.ByLine[on] * own * RawSeries.At(raw.Amperes[clamp], slot) / Math.Abs(map.Signs[clamp]);
        }

        return (watts, factors.Uncertainty);
    }

    /// <summary>The clamps whose current is not a line's own in a slot, a bit each.</summary>
    private byte Lost(int slot, out bool isWrong)
    {
        var map = maps.Length > 0 ? maps[pieces[slot]] : null;
        isWrong = map is not null && !IsPaired(map);
        var lost = 0;
        var seen = 0;
        foreach (var clamp in raw.TotalClamps)
        {
            var on = map?.Clamps[clamp] ?? clamp;
            // Of two clamps on one line either tells of it, and none of the other.
            var isLost = on is < 0 or > 2 || (seen & (1 << on)) != 0;
            if (!isLost) seen |= 1 << on;
            var isOpening = flags.Gain(clamp, slot) < 1;
            isWrong |= isOpening;
            if (isLost || isOpening || flags.IsClipped(clamp, slot) || flags.IsClampStuck(clamp, slot)) lost |= 1 << clamp;
        }

        return (byte)lost;
    }

    /// <summary>True where each clamp goes with the lead of its own line, all the same way round and at their ratio.</summary>
    private bool IsPaired(HookupMap map)
    {
        var lines = 0;
        for (var lead = 0; lead < raw.Lines; lead++) lines |= map.Leads[lead] is >= 0 and < 3 ? 1 << map.Leads[lead] : 0;
        return lines == (1 << raw.Lines) - 1 && (raw.IsThreeWire || map.Leads[3] == 3 || IsInTheAir(map))
            && raw.TotalClamps.All(clamp => map.Clamps[clamp] == map.Leads[clamp] && map.Signs[clamp] == 1);
    }

    /// <summary>The inputs' star point then stands in for the neutral, and the powers of all lines still add up but for what flows in the neutral over the way between the two.</summary>
    private bool IsInTheAir(HookupMap map) => !raw.IsThreeWire && raw.Lines > 1 && map.Leads[3] < 0;

    /// <summary>By what all clamps alike are off in a slot and the slots beside it, where that is all that is wrong; null otherwise.</summary>
    private double? CommonScale(int slot)
    {
        if (maps.Length == 0 || raw.TotalClamps.Length == 0) return null;
        var map = maps[pieces[slot]];
        for (var beside = Math.Max(0, slot - 1); beside <= Math.Min(pieces.Length - 1, slot + 1); beside++)
        {
            if (pieces[beside] != pieces[slot]) return null;
        }

        var scale = map.Signs[raw.TotalClamps[0]];
        return map.LeadsAreRight && raw.TotalClamps.All(clamp => map.Clamps[clamp] == clamp && map.Signs[clamp] == scale && !flags.IsClipped(clamp, slot) && flags.Gain(clamp, slot) >= 1) ? scale : null;
    }

    /// <summary>By what the total is off in a slot where clamps are on their own lines the right way round and some at wrong ratios: the mean of the ratios by the lines' true volt-amperes, as if all loads had one power
    /// factor. Null otherwise. The weights say by how much of the watts each line's own power factor moves that.</summary>
    private double? Ratios(int slot, out double[] weights)
    {
        weights = new double[raw.TotalClamps.Length];
        if (maps.Length == 0) return null;
        var map = maps[pieces[slot]];
        for (var beside = Math.Max(0, slot - 1); beside <= Math.Min(pieces.Length - 1, slot + 1); beside++)
        {
            if (pieces[beside] != pieces[slot]) return null;
        }

        if (!map.LeadsAreRight || !raw.TotalClamps.All(clamp => map.Clamps[clamp] == clamp && map.Signs[clamp] > 0)) return null;
        double all = 0, shown = 0;
        for (var index = 0; index < weights.Length; index++)
        {
            var clamp = raw.TotalClamps[index];
            var volts = raw.IsThreeWire ? 1 : RawSeries.At(raw.Volts[clamp], slot);
            weights[index] = volts * RawSeries.At(raw.Amperes[clamp], slot) / map.Signs[clamp];
            (all, shown) = (all + weights[index], shown + (weights[index] * map.Signs[clamp]));
        }

        if (!(all > 0)) return null;
        var ratio = shown / all;
        for (var index = 0; index < weights.Length; index++) weights[index] *= ((map.Signs[raw.TotalClamps[index]] / ratio) - 1) / all;
        return ratio;
    }

    /// <summary>True where every channel stood still: the total with them.</summary>
    private bool IsStill(int slot) =>
        raw.TotalClamps.All(clamp => flags.IsClampStuck(clamp, slot)) && Enumerable.Range(0, raw.Lines).All(lead => flags.IsLeadStuck(lead, slot));
}
