using Leadwright.Core.Circuits;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Core.Tests.Studies.Events;

/// <summary>
/// A source behind an impedance, the recorder, a load of constant impedance: what a dip from either side does is a closed form, so the truth is known.
/// It shows that the methods are applied the right way round, not how they do in the field.
/// </summary>
public sealed class DipOriginTests
{
    private const int Sites = 300;

    [Fact]
    public void Downstream_faults_are_found_downstream()
    {
        var (right, wrong) = Count(isDownstream: true);
        // Measured: see docs/methods/events-study.md.
        Assert.Equal(0, wrong);
        Assert.True(right >= 0.95 * Sites, $"{right} of {Sites}");
    }

    [Fact]
    public void Upstream_dips_are_found_upstream()
    {
        var (right, wrong) = Count(isDownstream: false);
        Assert.Equal(0, wrong);
        Assert.True(right >= 0.95 * Sites, $"{right} of {Sites}");
    }

    [Fact]
    public void A_reversed_set_of_clamps_turns_the_answer_round()
    {
        var run = Run(new Random(5), isDownstream: true);
        var reversed = new CyclePhasorRun([.. run.Voltages], [.. run.Currents.Select(step => step.Select(current => -current).ToArray())], run.Onset, run.End);
        Assert.Equal(EventSide.Downstream, DipOrigin.Judge(run)!.Side);
        Assert.NotEqual(EventSide.Downstream, DipOrigin.Judge(reversed)!.Side);
    }

    [Fact]
    public void Currents_that_do_not_change_decide_nothing()
    {
        var run = Run(new Random(5), isDownstream: false);
        var still = new CyclePhasorRun([.. run.Voltages], [.. run.Currents.Select(_ => run.Currents[0].Select(_ => new Phasor(0, 0)).ToArray())], run.Onset, run.End);
        Assert.Equal(EventSide.Undecided, DipOrigin.Judge(still)!.Side);
    }

    [Fact]
    public void Without_currents_nothing_is_said()
    {
        var run = Run(new Random(5), isDownstream: true);
        Assert.Null(DipOrigin.Judge(new CyclePhasorRun([.. run.Voltages], [], run.Onset, run.End)));
    }

    private static (int Right, int Wrong) Count(bool isDownstream)
    {
        var random = new Random(7);
        var (right, wrong) = (0, 0);
        for (var site = 0; site < Sites; site++)
        {
            var side = DipOrigin.Judge(Run(random, isDownstream))!.Side;
            if (side == (isDownstream ? EventSide.Downstream : EventSide.Upstream)) right++;
            else if (side != EventSide.Undecided) wrong++;
        }

        return (right, wrong);
    }

    private static CyclePhasorRun Run(Random random, bool isDownstream)
    {
        double Between(double from, double to) => from + (random.NextDouble() * (to - from));
        var supply = Phasor.FromDegrees(Between(0.01, 0.06), Between(20, 75));
        var load = Phasor.FromDegrees(Between(1, 3), Between(5, 40));
        var fault = Phasor.FromDegrees(supply.Magnitude * Between(0.3, 3), Between(0, 50));
        var retained = Between(0.3, 0.8);
        var phases = random.Next(1, 4);
        var voltages = new Phasor[20][];
        var currents = new Phasor[20][];
        for (var step = 0; step < 20; step++)
        {
            (voltages[step], currents[step]) = (new Phasor[3], new Phasor[3]);
            for (var phase = 0; phase < 3; phase++)
            {
                var isHit = step is >= 8 and < 16 && phase < phases;
                var source = Phasor.FromDegrees(isHit && !isDownstream ? 230 * retained : 230, -120 * phase);
                var seen = isHit && isDownstream ? load * fault / (load + fault) : load;
                currents[step][phase] = source / (supply + seen);
                voltages[step][phase] = currents[step][phase] * seen;
            }
        }

        return new CyclePhasorRun(voltages, currents, 8, 16);
    }
}
