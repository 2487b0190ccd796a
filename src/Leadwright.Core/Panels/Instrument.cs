using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>A recorder or meter: its inputs with their errors, and what it shows.</summary>
public sealed record Instrument
{
    /// <summary>An instrument without errors that shows everything. Its open leads pick up nothing.</summary>
    public static Instrument Ideal { get; } = new() { ClampRatingAmperes = 1e9, StrayLowFraction = 0, StrayHighFraction = 0, OpenClampFraction = 0 };

    /// <summary>The clamps' rated current, amperes rms; above zero. A clamp reads no more than
    /// <see cref="OverloadFactor"/> times this.</summary>
    public required double ClampRatingAmperes { get; init; }

    /// <summary>How far above its rating a clamp still reads. Default 1.2.</summary>
    public double OverloadFactor { get; init; } = 1.2;

    /// <summary>Errors of the leads' inputs; a lead that is not in the map has none.</summary>
    public ImmutableSortedDictionary<Lead, ChannelError> LeadErrors { get; init; } = ImmutableSortedDictionary<Lead, ChannelError>.Empty;

    /// <summary>Errors of the clamps; a clamp that is not in the map has none.</summary>
    public ImmutableSortedDictionary<Clamp, ChannelError> ClampErrors { get; init; } = ImmutableSortedDictionary<Clamp, ChannelError>.Empty;

    /// <summary>Noise of a voltage phasor's real and imaginary part each, standard deviation as a fraction of nominal line to neutral.</summary>
    public double VoltageNoiseFraction { get; init; }

    /// <summary>Noise of a current phasor's real and imaginary part each, standard deviation as a fraction of the clamp rating.</summary>
    public double CurrentNoiseFraction { get; init; }

    /// <summary>Noise of a single sample, standard deviation as a fraction of nominal volts and of the clamp rating.</summary>
    public double SampleNoiseFraction { get; init; }

    /// <summary>The least that a lead in the air picks up, as a fraction of nominal line to neutral. Default 0.01.</summary>
    public double StrayLowFraction { get; init; } = 0.01;

    /// <summary>The most that a lead in the air picks up. Default 0.09. On three-wire instruments nothing: see
    /// <see cref="Read"/>.</summary>
    public double StrayHighFraction { get; init; } = 0.09;

    /// <summary>The most that a clamp on nothing reads, as a fraction of its rating. Default 0.003.</summary>
    public double OpenClampFraction { get; init; } = 0.003;

    /// <summary>True when it measures one voltage (V1, or V12 on three-wire services) and replays it 120 and 240 degrees
    /// later for the other phases. Its hook-up then has leads V1 and VN (V1 and V2) only.</summary>
    public bool ReplaysVoltage { get; init; }

    /// <summary>What it shows.</summary>
    public InstrumentDisplay Display { get; init; } = InstrumentDisplay.Everything;

    /// <summary>Reads a panel.</summary>
    /// <param name="solution">What the panel's conductors do.</param>
    /// <param name="hookup">Where the leads and clamps are. Any lead and clamp may be on any conductor, ground included,
    /// that the service has.</param>
    /// <param name="seed">Makes the noise and the stray pick-up; the same seed gives the same readings.</param>
    /// <remarks>
    /// <para>Volts and amperes are true rms; angles are those of the fundamentals, from the first voltage channel that has a
    /// tenth of nominal or more; watts hold all harmonics, vars the fundamental alone.</para>
    /// <para>The voltage inputs are a star of equal impedances. With a neutral lead its point is that lead; a line lead in the air
    /// then reads stray pick-up at any angle. Without one, or with that lead in the air, the point floats to the mean of the
    /// connected line leads; a line lead in the air then stands at the point on three-wire instruments.</para>
    /// <para>A three-wire service's phases hold the powers of each line against the star point with three clamps; with two, phase 1
    /// holds V12·I1* and phase 3 holds V32·I3*.</para>
    /// </remarks>
    /// <exception cref="ArgumentException">The hook-up needs a conductor that the service lacks.</exception>
    public PanelReadings Read(PanelSolution solution, Hookup hookup, ulong seed)
    {
        var inputs = Inputs.Of(solution, hookup, this, new SeededRandom(seed).Fork(1));
        return ReadingScreen.Show(inputs, new SeededRandom(seed).Fork(2));
    }

    /// <summary>Records a panel sample by sample.</summary>
    /// <param name="panel">The panel, with the schedules of its loads and the history of its supply.</param>
    /// <param name="hookup">Where the leads and clamps are.</param>
    /// <param name="plan">Rate and length.</param>
    /// <param name="seed">As for <see cref="Read"/>, whose stray pick-up it repeats.</param>
    /// <returns>Channels named as in <see cref="Channel"/>, in volts and amperes, and in the instrument's own polarity: what
    /// conventions a screen would use plays no part. A load switches from one steady state to the next between two samples:
    /// without inrush and transients.</returns>
    /// <exception cref="ArgumentException">The hook-up needs a conductor that the service lacks.</exception>
    public Signals.SampledRecording Sample(VirtualPanel panel, Hookup hookup, SamplingPlan plan, ulong seed) =>
        Sampler.Record(panel, hookup, this, plan, seed);
}
