using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Voltages that move like under a switched load while no clamp changes: whose line are they on?</summary>
/// <remarks>A neighbour's loads behind the same transformer do that on every line alike; a clamp that surrounds nothing, or sits on
/// the wrong conductor, leaves just its own line's loads unclaimed. So many on one line speak for that line being unread.</remarks>
internal sealed class UnclaimedSteps
{
    /// <summary>Share of what moves that a line must explain to be named.</summary>
    private const double Explains = 0.7;

    private readonly int[] _count = new int[Place.N];
    private readonly int _lines;
    private readonly Dictionary<int, double> _logs = [];

    public UnclaimedSteps(StepTable table, LeadRows rows, Service service, VoltageNoise noise)
    {
        _lines = service.Conductors.Count(conductor => conductor != Conductor.N);
        foreach (var step in table.Unclaimed)
        {
            double all = Form(step, step, noise).Real, best = 0;
            var line = -1;
            foreach (var conductor in service.Conductors)
            {
                if (conductor == Conductor.N) continue;
                var pattern = new Phasor[step.Length];
                for (var channel = 0; channel < step.Length; channel++)
                {
                    var neutral = service.IsThreeWire ? 0 : SourceModel.NeutralFactor * rows.Rows[(channel * LeadRows.Conductors) + Place.N];
                    pattern[channel] = new Phasor(rows.Rows[(channel * LeadRows.Conductors) + (int)conductor] - neutral, 0);
                }

                var own = Form(pattern, pattern, noise).Real;
                var explained = own > 0 ? Form(pattern, step, noise).SquaredMagnitude / own : 0;
                if (explained > best) (best, line) = (explained, (int)conductor);
            }

            if (line >= 0 && best > Explains * all) _count[line]++;
        }
    }

    /// <summary>Logarithm of how much likelier they are with some lines unread than with all read.</summary>
    /// <param name="unread">The lines without a clamp, as bits.</param>
    public double LogOf(int unread)
    {
        if (unread == 0 || _lines < 2) return 0;
        if (_logs.TryGetValue(unread, out var known)) return known;
        var lines = System.Numerics.BitOperations.PopCount((uint)unread);
        double total = 0;
        Span<double> shares = [0, 0.25, 0.5, 0.75, 0.95];
        foreach (var share in shares)
        {
            var ratio = 1.0;
            for (var line = 0; line < _count.Length; line++)
            {
                var each = (1 - share) + ((unread & (1 << line)) != 0 ? share * _lines / lines : 0);
                ratio *= Math.Pow(each, _count[line]);
            }

            total += ratio / shares.Length;
        }

        return _logs[unread] = Math.Clamp(Math.Log(total + 1e-30), -Most, Most);
    }

    /// <summary>Neighbours have habits too: not more than this, either way.</summary>
    private const double Most = 6;

    private static Phasor Form(Phasor[] left, Phasor[] right, VoltageNoise noise)
    {
        var sum = Phasor.Zero;
        for (var one = 0; one < left.Length; one++)
        {
            for (var other = 0; other < right.Length; other++)
                sum += left[one].Conjugate * noise.Inverse[(one * right.Length) + other] * right[other];
        }

        return sum;
    }
}
