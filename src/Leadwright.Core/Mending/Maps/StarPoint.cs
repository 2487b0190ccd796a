namespace Leadwright.Core.Mending.Maps;

/// <summary>With the neutral lead in the air the inputs' own star point stands in for the neutral: the powers of all lines still add up, but for what flows in the neutral times the way between the two.</summary>
internal static class StarPoint
{
    /// <summary>How far it stands from the neutral, as a share of a line's voltage: inputs agree to a percent, common practice, no source.</summary>
    private const double Off = 0.01;

    /// <summary>What it may have added to, or taken from, the energy of a slot, watt-hours; 0 where a voltage or current is missing.</summary>
    /// <param name="raw">What was written.</param>
    /// <param name="lines">The lines' currents.</param>
    /// <param name="slot">The slot.</param>
    public static double WattHours(RawSeries raw, LineSeries lines, int slot) =>
        NeutralCurrent(raw, lines, slot) * Volts(raw, slot) is var watts && watts > 0 ? watts * raw.Grid.Hours : 0;

    /// <summary>By a percent, and by more where the voltages stand apart.</summary>
    private static double Volts(RawSeries raw, int slot)
    {
        var mean = Enumerable.Range(0, raw.Lines).Average(line => RawSeries.At(raw.Volts[line], slot));
        return Math.Max(Off * mean, Enumerable.Range(0, raw.Lines).Max(line => Math.Abs(RawSeries.At(raw.Volts[line], slot) - mean)));
    }

    /// <summary>By the neutral's own clamp, or as if all loads had one power factor.</summary>
    private static double NeutralCurrent(RawSeries raw, LineSeries lines, int slot)
    {
        if (raw.Amperes[3] is { } own && own[slot] >= 0) return own[slot];
        double one = lines.Amperes[0][slot], two = lines.Amperes[1][slot], three = raw.Lines > 2 ? lines.Amperes[2][slot] : 0;
        return raw.Lines == 2 ? Math.Abs(one - two) : Math.Sqrt(Math.Max(0, (one * one) + (two * two) + (three * three) - (one * two) - (two * three) - (three * one)));
    }
}
