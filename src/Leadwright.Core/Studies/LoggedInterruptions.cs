using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies;

/// <summary>The intervals of a log in which the supply was gone, where no waveform was seen that would tell.</summary>
/// <remarks>EN 50160:2010: an interruption is a voltage below 5 % of the reference on all lines (3.13), and voltage variations are judged without the periods
/// of interruptions (4.2.2.1). The intervals beside one hold its edges where their own mean is below the threshold of a dip, 90 % (3.27). Clause numbers from memory.</remarks>
public static class LoggedInterruptions
{
    private const double Gone = 0.05;
    private const double Dip = 0.90;

    private static readonly LogPlace[] s_pairs = [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];

    /// <summary>A flag for each interval; empty when the nominal voltage or every voltage is missing.</summary>
    /// <param name="data">The log.</param>
    public static bool[] Of(StudyData data)
    {
        if (data.Nominal is not { } nominal || data.Log.Count == 0) return [];
        var voltages = Voltages(data, nominal);
        if (voltages.Length == 0) return [];
        var flags = new bool[data.Log.Count];
        for (var row = 0; row < flags.Length; row++)
        {
            if (!IsBelow(voltages, row, Gone, all: true)) continue;
            for (var near = Math.Max(row - 1, 0); near <= Math.Min(row + 1, flags.Length - 1); near++) flags[near] |= near == row || IsBelow(voltages, near, Dip, all: false);
        }

        return flags;
    }

    private static (StudySeries Series, double Volts)[] Voltages(StudyData data, NominalVoltage nominal) =>
    [
        .. StudyData.Phases.Select(place => (Series: data.Series(LogQuantity.Voltage, place), Volts: nominal.LineToNeutralVolts))
            .Concat(s_pairs.Select(place => (Series: data.Series(LogQuantity.Voltage, place), Volts: nominal.LineToLineVolts)))
            .Where(found => found.Series is not null).Select(found => (found.Series!, found.Volts)),
    ];

    // Rebuilt voltages are no witnesses, and an interval without any is no interruption.
    private static bool IsBelow((StudySeries Series, double Volts)[] voltages, int row, double share, bool all)
    {
        var (read, below) = (0, 0);
        foreach (var (series, volts) in voltages)
        {
            if (!series.IsSound(row)) continue;
            read++;
            if (series.Values[row] < share * volts) below++;
        }

        return read > 0 && (all ? below == read : below > 0);
    }
}
