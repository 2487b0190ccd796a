using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>How the voltage of a phase answers to the current of its clamp, from row to row, against the other phases.</summary>
/// <remarks>The supply moves all phases alike; what remains of a phase's voltage less the mean of the others falls with its own current less
/// theirs: the resistance of the source, seen in logged values. A current that changes while the voltage keeps still did not change.</remarks>
internal sealed class VoltageAnswer
{
    private readonly double[] _changes;

    private VoltageAnswer(double[] changes, double perAmpere, double spread, double unknownSpread)
    {
        (_changes, PerAmpere, Spread, UnknownSpread) = (changes, perAmpere, spread, unknownSpread);
    }

    /// <summary>Change of the unit voltage for each ampere, below zero for a sound hook-up; 0 when it can't be told.</summary>
    public double PerAmpere { get; }

    /// <summary>What remains unexplained from row to row.</summary>
    public double Spread { get; }

    /// <summary>The spread of all changes.</summary>
    public double UnknownSpread { get; }

    /// <summary>Change of the phase's voltage against the others into a row; NaN where unknown.</summary>
    public double Change(int row) => _changes[row];

    /// <summary>Log-likelihood of a change of voltage under a change of the true current.</summary>
    public double Say(double volts, double amperes)
    {
        if (double.IsNaN(volts) || PerAmpere == 0) return 0;
        var scaled = (volts - (PerAmpere * amperes)) / Spread;

        // Heavy tails; and the answer to a large step is known to a third only.
        var loose = 1 + Math.Pow(0.35 * PerAmpere * amperes / Spread, 2);
        return (-2.5 * Math.Log(1 + (scaled * scaled / (4 * loose)))) - (0.5 * Math.Log(loose));
    }

    /// <summary>The same when the true current is not known.</summary>
    public double SayUnknown(double volts)
    {
        if (double.IsNaN(volts) || PerAmpere == 0) return 0;
        var scaled = volts / UnknownSpread;
        return (-2.5 * Math.Log(1 + (scaled * scaled / 4))) - Math.Log(UnknownSpread / Spread);
    }

    public static VoltageAnswer Learn(GuardFrame frame, VoltageHistory voltages, int clamp)
    {
        var changes = new double[frame.Count];
        Array.Fill(changes, double.NaN);
        var amperes = frame.Amperes[clamp];
        var own = OwnVoltage(frame, clamp);
        if (amperes is null || own is null) return new VoltageAnswer(changes, 0, 1, 1);
        double sumSquare = 0, sumProduct = 0;
        var largest = 3 * Robust.Deviation(Robust.Changes(amperes));
        for (var row = 1; row < frame.Count; row++)
        {
            if (voltages.At(row).Kind != VoltageStateKind.Sound || voltages.At(row - 1).Kind != VoltageStateKind.Sound) continue;
            var change = Relative(frame, own, clamp, row) - Relative(frame, own, clamp, row - 1);
            changes[row] = change;
            var current = amperes[row] - amperes[row - 1];
            if (double.IsNaN(change) || double.IsNaN(current)) continue;
            // Ordinary steps teach; a slip's jump must not.
            if (Math.Abs(current) > 3 * largest) continue;
            sumSquare += current * current;
            sumProduct += current * change;
        }

        var perAmpere = sumSquare > 0 ? Math.Min(0, sumProduct / sumSquare) : 0;
        var rests = new double[frame.Count];
        for (var row = 0; row < frame.Count; row++)
            rests[row] = row == 0 ? double.NaN : changes[row] - (perAmpere * (amperes[row] - amperes[row - 1]));
        var spread = Robust.Deviation(rests);
        var unknown = Robust.Deviation(changes);
        if (double.IsNaN(spread) || spread <= 0) return new VoltageAnswer(changes, 0, 1, 1);
        spread = Math.Max(spread, 2e-4);
        return new VoltageAnswer(changes, perAmpere, spread, Math.Max(spread, unknown));
    }

    private static double[]? OwnVoltage(GuardFrame frame, int clamp) => clamp > 2 ? null : frame.Volts[clamp];

    private static double Relative(GuardFrame frame, double[] own, int clamp, int row)
    {
        double sum = 0;
        var count = 0;
        for (var other = 0; other < frame.Lines; other++)
        {
            if (other == clamp || frame.Volts[other] is not { } column) continue;
            sum += column[row];
            count++;
        }

        return count == 0 ? own[row] : own[row] - (sum / count);
    }
}
