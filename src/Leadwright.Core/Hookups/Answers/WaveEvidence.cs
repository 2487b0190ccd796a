using Leadwright.Core.Hookups.Harmonics;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What a recording says beyond its fundamental phasors: switching steps, of waves or of logged values, and harmonics.</summary>
internal sealed class WaveEvidence
{
    private readonly StepTable? _steps;
    private readonly StepCurrents? _currents;
    private readonly LoggedTable? _logged;
    private readonly LoggedCurrents? _loggedCurrents;
    private readonly HarmonicTable? _harmonics;
    private readonly (double Share, HarmonicPattern[] Patterns)[] _kinds;
    private readonly Service _service;
    private readonly Clamp[] _clamps;

    private WaveEvidence(StepTable? steps, LoggedTable? logged, HarmonicTable? harmonics, Service service, Clamp[] clamps, LoadKind load)
    {
        (_steps, _logged, _harmonics, _service, _clamps) = (steps, logged, harmonics, service, clamps);
        _currents = steps is null ? null : new StepCurrents(steps, clamps);
        _loggedCurrents = logged is null ? null : new LoggedCurrents(logged, service);
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
        var logged = LoggedTable.Of(readings.Logged?.Of(clamps), observation.Voltages.Select(voltage => voltage.Channel), observation.ReferenceVolts);
        return steps is null && logged is null && harmonics is null ? null : new WaveEvidence(steps, logged, harmonics, observation.Service, clamps, load);
    }

    /// <summary>True when loads were switched.</summary>
    public bool HasSteps => _steps is not null || _logged is not null;

    /// <summary>The likelihoods given where the leads are.</summary>
    /// <param name="leads">Where the leads are.</param>
    /// <param name="fit">How the voltages fit that.</param>
    /// <param name="convention">How the numbers are read.</param>
    public WaveLikelihood For(LeadMap leads, VoltageFit fit, Convention convention) => new(
        _steps is null ? null : new StepLikelihood(_steps, _currents!, _service, leads, _clamps),
        _currents,
        _logged is null ? null : new LoggedStepLikelihood(_logged, _loggedCurrents!, _service, leads, fit, _clamps, convention.LoadNegative),
        _harmonics is null ? null : new HarmonicLikelihood(_harmonics, _kinds, fit, _service));
}

/// <summary>The same, given where the leads are.</summary>
internal sealed class WaveLikelihood(
    StepLikelihood? steps, StepCurrents? currents, LoggedStepLikelihood? logged, HarmonicLikelihood? harmonics)
{
    /// <summary>What no arrangement of the clamps can exceed.</summary>
    public double Ceiling { get; } = steps is not null
        ? double.PositiveInfinity : (harmonics is null ? 0 : HarmonicLikelihood.Ceiling) + (logged?.Ceiling ?? 0);

    /// <summary>About the largest logarithm to be expected; cheap.</summary>
    public double Bound(ClampMap map)
    {
        var bound = harmonics is null ? 0 : HarmonicLikelihood.Ceiling;
        if (logged is not null) bound += logged.Bound(map);
        if (steps is null) return bound;
        currents!.Map = map;
        return bound + steps.Bound(map);
    }

    /// <summary>The fit with the waves' evidence in it.</summary>
    public CurrentFit Add(CurrentFit fit, ClampMap map)
    {
        if (harmonics is not null) fit = fit with { Harmonics = harmonics.Of(map) };
        if (logged is not null) fit = fit with { Steps = logged.Of(map) };
        if (steps is null) return fit;
        currents!.Map = map;
        return fit with { Steps = steps.Of(map) };
    }
}
