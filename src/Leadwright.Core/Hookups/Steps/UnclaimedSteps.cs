using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Voltages that move like under a switched load while no clamp changes: whose line are they on?</summary>
/// <remarks>A neighbour's loads behind the same transformer do that too, on every line alike, and their share of all steps is not
/// known; a clamp that surrounds nothing, or sits on the wrong conductor, leaves just its own line's loads unclaimed. So many on
/// one line speak for that line being unread, the more the fewer there are on the others. Derivation:
/// docs/methods/switching-steps.md.</remarks>
internal sealed class UnclaimedSteps
{
    /// <summary>Share of what moves that a line must explain to be named.</summary>
    private const double Explains = 0.7;

    private readonly int[] _count = new int[Place.N];
    private readonly int _total;
    private readonly Dictionary<int, double> _logs = [];

    /// <summary>Those of a recording.</summary>
    /// <param name="table">The steps.</param>
    /// <param name="rows">Where the leads are.</param>
    /// <param name="service">The service.</param>
    /// <param name="noise">How the voltages move by themselves.</param>
    public UnclaimedSteps(StepTable table, LeadRows rows, Service service, VoltageNoise noise)
        : this(table.Unclaimed, table.Count, service, noise.Inverse, (channel, line) => new Phasor(Reach(rows, service, channel, line), 0))
    {
    }

    /// <summary>Those of any kind.</summary>
    /// <param name="unclaimed">The changes of the voltages, by channel.</param>
    /// <param name="claimed">How many steps the clamps show.</param>
    /// <param name="service">The service.</param>
    /// <param name="inverse">Inverse of the covariance by which the voltages move by themselves, channel by channel.</param>
    /// <param name="pattern">What a load on a line does to a channel, but for a factor that all channels share.</param>
    public UnclaimedSteps(IEnumerable<Phasor[]> unclaimed, int claimed, Service service, Phasor[] inverse, Func<int, int, Phasor> pattern)
    {
        foreach (var step in unclaimed)
        {
            double all = Form(step, step, inverse).Real, best = 0;
            var line = -1;
            foreach (var conductor in service.Conductors)
            {
                if (conductor == Conductor.N) continue;
                var own = new Phasor[step.Length];
                for (var channel = 0; channel < step.Length; channel++) own[channel] = pattern(channel, (int)conductor);
                var size = Form(own, own, inverse).Real;
                var explained = size > 0 ? Form(own, step, inverse).SquaredMagnitude / size : 0;
                if (explained > best) (best, line) = (explained, (int)conductor);
            }

            if (line >= 0 && best > Explains * all) _count[line]++;
        }

        _total = claimed + _count.Sum();
    }

    /// <summary>How much of a line's drop a channel shows, the neutral's part with it.</summary>
    public static double Reach(LeadRows rows, Service service, int channel, int line) =>
        rows.Rows[(channel * LeadRows.Conductors) + line]
        - (service.IsThreeWire ? 0 : SourceModel.NeutralFactor * rows.Rows[(channel * LeadRows.Conductors) + Place.N]);

    /// <summary>Logarithm of how much likelier they are with some lines unread than with all read.</summary>
    /// <param name="unread">The lines without a clamp, as bits.</param>
    public double LogOf(int unread)
    {
        if (unread == 0) return 0;
        if (_logs.TryGetValue(unread, out var known)) return known;
        var (all, own) = (0, 0);
        for (var line = 0; line < _count.Length; line++)
        {
            all += _count[line];
            if ((unread & (1 << line)) != 0) own += _count[line];
        }

        return _logs[unread] = Math.Clamp(LogOutside(all - own) - LogOutside(all), -Most, Most);
    }

    /// <summary>Logarithm of the probability that so many of all steps are a neighbour's, their share unknown: beta-binomial.</summary>
    private double LogOutside(int outside)
    {
        // Γ(outside + 1)·Γ(inside + Rarity), inside + outside being the same for all.
        double log = 0;
        for (var number = 2; number <= outside; number++) log += Math.Log(number);
        for (var number = 0; number < _total - outside; number++) log += Math.Log(number + Rarity);
        return log;
    }

    /// <summary>A neighbour's steps are one in six of all, give or take, before any is seen.</summary>
    private const double Rarity = 5;

    /// <summary>Neighbours have habits too: not more than this, either way.</summary>
    public const double Most = 7;

    private static Phasor Form(Phasor[] left, Phasor[] right, Phasor[] inverse)
    {
        var sum = Phasor.Zero;
        for (var one = 0; one < left.Length; one++)
        {
            for (var other = 0; other < right.Length; other++)
                sum += left[one].Conjugate * inverse[(one * right.Length) + other] * right[other];
        }

        return sum;
    }
}
