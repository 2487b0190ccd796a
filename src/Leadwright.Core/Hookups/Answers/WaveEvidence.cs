using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What a recording of the waves says beyond its fundamental phasors: switching steps.</summary>
internal sealed class WaveEvidence
{
    private readonly StepTable? _steps;
    private readonly StepCurrents? _currents;
    private readonly Service _service;
    private readonly Clamp[] _clamps;

    private WaveEvidence(StepTable? steps, Service service, Clamp[] clamps)
    {
        (_steps, _service, _clamps) = (steps, service, clamps);
        _currents = steps is null ? null : new StepCurrents(steps, clamps);
    }

    /// <summary>The evidence of a set of readings; null when there is none.</summary>
    public static WaveEvidence? Of(PanelReadings readings, Observation observation, Clamp[] clamps)
    {
        var steps = StepTable.Of(
            readings.Steps, observation.Voltages.Select(voltage => voltage.Channel), clamps, observation.ReferenceVolts);
        return steps is null ? null : new WaveEvidence(steps, observation.Service, clamps);
    }

    /// <summary>The likelihoods given where the leads are.</summary>
    public WaveLikelihood For(LeadMap leads, VoltageFit fit) => new(
        _steps is null ? null : new StepLikelihood(_steps, _currents!, _service, leads, _clamps), _currents);
}

/// <summary>The same, given where the leads are.</summary>
internal sealed class WaveLikelihood(StepLikelihood? steps, StepCurrents? currents)
{
    /// <summary>No larger logarithm than this; cheap.</summary>
    public double Bound(ClampMap map)
    {
        if (steps is null) return 0;
        currents!.Map = map;
        return steps.Bound(map);
    }

    /// <summary>The fit with the waves' evidence in it.</summary>
    public CurrentFit Add(CurrentFit fit, ClampMap map)
    {
        if (steps is null) return fit;
        currents!.Map = map;
        return fit with { Steps = steps.Of(map) };
    }
}
