using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Panels;

/// <summary>One simulated visit: a panel, how the recorder was really hung on it, and what it then shows.</summary>
public sealed class PanelCase
{
    private readonly ulong _seed;

    internal PanelCase(
        VirtualPanel panel, LoadFamily family, Hookup truth, ImmutableArray<SlipKind> slips, Instrument instrument,
        CheckOptions options, ulong seed)
    {
        (Panel, Family, Truth, Slips, Instrument, Options, _seed) = (panel, family, truth, slips, instrument, options, seed);
        Readings = instrument.Read(panel.Solve(), truth, seed);
    }

    /// <summary>Makes its noise and stray pick-up.</summary>
    internal ulong Seed => _seed;

    /// <summary>The panel.</summary>
    public VirtualPanel Panel { get; }

    /// <summary>The kind of site.</summary>
    public LoadFamily Family { get; }

    /// <summary>How the leads and clamps really are.</summary>
    public Hookup Truth { get; }

    /// <summary>The rotation that the supply really has.</summary>
    public Rotation Rotation => Panel.Source.Rotation;

    /// <summary>The line that really is the high leg, on a high-leg service.</summary>
    public Conductor HighLeg => Panel.Source.HighLeg;

    /// <summary>The slips that led to the hook-up, in order. Two of them may undo each other: <see cref="Hookup.IsRight"/> of the
    /// truth decides.</summary>
    public ImmutableArray<SlipKind> Slips { get; }

    /// <summary>The instrument.</summary>
    public Instrument Instrument { get; }

    /// <summary>What a person would declare about the site.</summary>
    public CheckOptions Options { get; }

    /// <summary>What the instrument shows.</summary>
    public PanelReadings Readings { get; }

    /// <summary>Records the panel sample by sample.</summary>
    /// <param name="plan">Rate and length.</param>
    /// <param name="stepCount">How many more loads switch once during the recording, each 3 to 12 % of the clamp rating on
    /// one branch; their size and time belong to the case's seed. Default 0.</param>
    /// <param name="history">How the supply moves meanwhile. Default: it stands still.</param>
    /// <param name="onEveryBranch">True when the first of them are to be on one branch after the other. Default false: all are
    /// where they happen to be.</param>
    public SampledRecording Samples(SamplingPlan plan, int stepCount = 0, SupplyHistory? history = null, bool onEveryBranch = false)
    {
        var source = history is null ? Panel.Source : Panel.Source with { History = history };
        var steps = LoadDraw.Steps(
            Panel.Service, source, Instrument.ClampRatingAmperes, stepCount, plan.DurationSeconds, onEveryBranch, new SeededRandom(_seed).Fork(4));
        return Instrument.Sample(new VirtualPanel(Panel.Service, source, Panel.Loads.AddRange(steps)), Truth, plan, _seed);
    }

    /// <summary>Logs the panel interval by interval.</summary>
    /// <param name="plan">Length and number of intervals, how many loads switch, how the supply wanders.</param>
    /// <returns>Columns of volts, amperes, watts and vars as the instrument shows them.</returns>
    public IntervalLog Log(LoggingPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var steps = LoadDraw.Steps(
            Panel.Service, Panel.Source, Instrument.ClampRatingAmperes, plan.StepCount, plan.IntervalSeconds * plan.Rows, true,
            new SeededRandom(_seed).Fork(4));
        return PanelLogger.Record(new VirtualPanel(Panel.Service, Panel.Source, Panel.Loads.AddRange(steps)), Instrument, Truth, plan, _seed);
    }
}
