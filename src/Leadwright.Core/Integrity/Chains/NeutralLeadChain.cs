using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds when the neutral lead was in the air on services where the sizes of the voltages do not tell.</summary>
/// <remarks>With the lead off, the inputs' star point takes away what the lines have in common: a phase's voltage then answers to its own
/// current with a fraction of what it did (wye: half the line's resistance, against the line's and one and a half times the neutral's), and on
/// a split service with nothing. The answers of all phases to all steps are weighed together.</remarks>
internal static class NeutralLeadChain
{
    private static readonly double[] s_enter = [5, 13];

    public static VoltageHistory Override(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        if (frame.IsPairs || frame.Service.Kind is not (ServiceKind.Wye or ServiceKind.Split)) return voltages;
        var state = Array.FindIndex(voltages.States, entry => entry.Kind == VoltageStateKind.Leads && entry.Line == 3);
        var answers = new VoltageAnswer?[frame.Lines];
        var spreads = new double[frame.Lines];
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Amperes[index] is null || frame.Volts[index] is null) return voltages;
            answers[index] = VoltageAnswer.Learn(frame, voltages, index);
            if (answers[index]!.PerAmpere == 0) return voltages;
            spreads[index] = answers[index]!.Spread;
        }

        // Split: both halves read the same but for the inputs' errors.
        var still = frame.Service.Kind == ServiceKind.Split ? 3e-4 : 0;
        var share = frame.Service.Kind == ServiceKind.Split ? 0 : 0.25;
        var chain = new StateChain(s_enter, frame.Count);
        for (var row = 0; row < frame.Count; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            double sound = 0, off = 0;
            if (row > 0 && voltages.Rows[row] == 0)
            {
                var mean = 0.0;
                for (var index = 0; index < frame.Lines; index++) mean += (frame.Amperes[index]![row] - frame.Amperes[index]![row - 1]) / frame.Lines;
                // One of the answers follows from the others.
                var weight = (frame.Lines - 1.0) / frame.Lines;
                for (var index = 0; index < frame.Lines; index++)
                {
                    var change = answers[index]!.Change(row);
                    var amperes = frame.Amperes[index]![row] - frame.Amperes[index]![row - 1] - (frame.Lines == 3 ? 0 : mean);
                    if (double.IsNaN(change) || double.IsNaN(amperes)) continue;
                    var answer = answers[index]!.PerAmpere * amperes * (frame.Lines == 3 ? 1 : 2);
                    sound += weight * Say(change - answer, Math.Sqrt((spreads[index] * spreads[index]) + (0.16 * answer * answer)));
                    off += weight * Say(change - (share * answer), still > 0 ? still : Math.Sqrt((spreads[index] * spreads[index]) + (0.02 * answer * answer)));
                }
            }

            chain.Says[0] = sound;
            chain.Says[1] = off;
            chain.Take();
        }

        var history = chain.History();
        var rows = (byte[])voltages.Rows.Clone();
        for (var row = 0; row < rows.Length; row++)
        {
            if (history[row] == 1 && rows[row] == 0) rows[row] = (byte)state;
        }

        return voltages with { Rows = rows };
    }

    private static double Say(double off, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (off * off / (4 * spread * spread))));
}
