using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>What a voltage channel with a lead in the air does while loads are switched.</summary>
/// <remarks>It follows no conductor surely. Some inputs drift with all that is near, others read the same nothing, or the same pick-up, whatever is switched;
/// an input whose resistance goes to the other leads hangs between them and moves with their mean. Which of these, the steps themselves
/// tell: the likeliest is taken, at the cost of the choice.</remarks>
internal static class OpenChannels
{
    /// <summary>How far an open channel changes at a step, as a share of the reference.</summary>
    private static readonly double[] s_wandering = [0.003, 0.0003, 0];

    /// <summary>Natural logarithm of how often each choice holds: all alike.</summary>
    public static double LogChoice { get; } = -Math.Log(s_wandering.Length + 1);

    /// <summary>The rows with an open channel that hangs between the others in them, and how far open channels wander beside that.</summary>
    /// <param name="table">The steps.</param>
    /// <param name="rows">The rows of an arrangement.</param>
    /// <param name="leads">The arrangement.</param>
    public static (LeadRows Rows, double Wandering) Of(StepTable table, LeadRows rows, LeadMap leads)
    {
        var (best, chosen) = (double.NegativeInfinity, s_wandering[0]);
        foreach (var wandering in s_wandering)
        {
            double log = 0;
            for (var channel = 0; channel < rows.IsOpen.Length; channel++)
            {
                if (rows.IsOpen[channel]) log += Log(table, channel, wandering, false);
            }

            if (log > best) (best, chosen) = (log, wandering);
        }

        // One open channel beside others that are not: two that hang together are too rare.
        var open = Array.IndexOf(rows.IsOpen, true);
        if (open < 0 || rows.IsOpen.Count(isOpen => isOpen) > 1 || rows.IsOpen.Length < 2) return (rows, chosen);
        if (Log(table, open, 0, true) <= best || rows.Hanging(open, leads) is not { } hanging) return (rows, chosen);
        return (hanging, 0);
    }

    private static double Log(StepTable table, int channel, double wandering, bool hangs)
    {
        var channels = table.Voltages.Length;
        var variance = (table.OwnWandering * table.OwnWandering) + (table.ModelWandering * table.ModelWandering) + (wandering * wandering) + 1e-12;
        if (hangs) variance *= 1 + (1.0 / (channels - 1));
        double log = 0;
        foreach (var step in table.Changes)
        {
            var rest = step[channel];
            for (var other = 0; hangs && other < channels; other++)
            {
                if (other != channel) rest -= step[other] / (channels - 1);
            }

            log -= Math.Log(variance) + (rest.SquaredMagnitude / variance);
        }

        return log;
    }
}
