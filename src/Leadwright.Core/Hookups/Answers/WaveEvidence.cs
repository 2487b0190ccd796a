using Leadwright.Core.Hookups.Harmonics;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What a recording of the waves says beyond its fundamental phasors: switching steps and harmonics.</summary>
internal sealed class WaveEvidence
{
    private readonly StepTable? _steps;
    private readonly StepCurrents? _currents;
    private readonly HarmonicTable? _harmonics;
    private readonly (double Share, HarmonicPattern[] Patterns)[] _kinds;
    private readonly Service _service;
    private readonly Clamp[] _clamps;

    private WaveEvidence(StepTable? steps, HarmonicTable? harmonics, Service service, Clamp[] clamps, LoadKind load)
    {
        (_steps, _harmonics, _service, _clamps) = (steps, harmonics, service, clamps);
        _currents = steps is null ? null : new StepCurrents(steps, clamps);
        _kinds = HarmonicPrior.Kinds(load, service.IsThreeWire);
    }

    /// <summary>The evidence of a set of readings; null when there is none.</summary>
    public static WaveEvidence? Of(PanelReadings readings, Observation observation, Clamp[] clamps, LoadKind load)
    {
        // An instrument that replays one voltage has no other voltage to look at.
        if (observation.IsReplayed) return null;
        var steps = StepTable.Of(
            readings.Steps, observation.Voltages.Select(voltage => voltage.Channel), clamps, observation.ReferenceVolts);
        var harmonics = HarmonicTable.Of(readings, clamps);
        return steps is null && harmonics is null ? null : new WaveEvidence(steps, harmonics, observation.Service, clamps, load);
    }

    /// <summary>True when loads were switched.</summary>
    public bool HasSteps => _steps is not null;

    /// <summary>The likelihoods given where the leads are.</summary>
    public WaveLikelihood For(LeadMap leads, VoltageFit fit) => new(
        _steps is null ? null : new StepLikelihood(_steps, _currents!, _service, leads, _clamps),
        _currents,
        _harmonics is null ? null : new HarmonicLikelihood(_harmonics, _kinds, fit, _service));
}

/// <summary>The same, given where the leads are.</summary>
internal sealed class WaveLikelihood(StepLikelihood? steps, StepCurrents? currents, HarmonicLikelihood? harmonics)
{
    /// <summary>About the largest logarithm to be expected; cheap.</summary>
    public double Bound(ClampMap map)
    {
        var bound = harmonics is null ? 0 : HarmonicLikelihood.Ceiling;
        if (steps is null) return bound;
        currents!.Map = map;
        return bound + steps.Bound(map);
    }

    /// <summary>The fit with the waves' evidence in it.</summary>
    public CurrentFit Add(CurrentFit fit, ClampMap map)
    {
        if (harmonics is not null) fit = fit with { Harmonics = harmonics.Of(map) };
        if (steps is null) return fit;
        currents!.Map = map;
        return fit with { Steps = steps.Of(map) };
    }
}
