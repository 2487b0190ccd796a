using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Weighs every arrangement against the readings in one convention.</summary>
internal sealed class ConventionSearch
{
    /// <summary>Arrangements whose logarithm is this far below the best are left out: less than three in a hundred thousand.</summary>
    public const double UsualDepth = 10.5;

    /// <summary>What a recording of the waves may bring back from below that.</summary>
    private const double DepthForWaves = 7;

    /// <summary>Two wrong ratios are tried with leads that are no rarer, and fit no worse, than this against the best.</summary>
    private const double DepthForTwoRatios = 7;

    private const double MostFromHarmonics = 16;

    /// <summary>More than this a wrong ratio on top can't add to the fit of a recording.</summary>
    private const double MostFromRatio = 60;

    /// <summary>On top of the usual slips, likelier than this, a wrong ratio is tried all the same: a long recording without noise says more.</summary>
    private const double UsualPrior = -4;

    /// <summary>More than this no arrangement of the clamps can add.</summary>
    private const double MostFromClamps = 25;

    /// <summary>More combinations of possible angles than this are mixed clamp by clamp instead of being tried one by one.</summary>
    private const int MostCombinations = 16;

    /// <summary>A part this far below another adds less than a thousand-millionth to it.</summary>
    private const double Negligible = 21;

    /// <summary>Where nothing tells the supply's phase, the currents are weighed at this many of them.</summary>
    private const int Phases = 24;

    private readonly double _depth;
    private readonly Observation _observation;
    private readonly Convention _convention;
    private readonly DisplacementGrid _grid;
    private readonly List<(Observation Observation, double LogWeight)> _combinations;
    private readonly WaveEvidence? _waves;

    // Arrangements that fit so badly that a wrong ratio on top can't help.
    private readonly HashSet<int> _hopeless = [];
    private readonly double[] _roleBounds = new double[256];

    public ConventionSearch(Observation observation, Convention convention, DisplacementGrid grid, WaveEvidence? waves, double depth = UsualDepth)
    {
        _depth = depth;
        _observation = observation;
        _convention = convention;
        _grid = grid;
        _combinations = Combinations(observation);
        _waves = waves;
    }

    /// <summary>Adds all arrangements worth keeping.</summary>
    /// <param name="orbits">Every arrangement of the leads.</param>
    /// <param name="table">Every arrangement of the clamps.</param>
    /// <param name="found">Receives them.</param>
    /// <param name="best">Largest logarithm so far; raised here.</param>
    public void Collect(List<LeadOrbit> orbits, ClampMapTable table, List<Hypothesis> found, ref double best)
    {
        var leads = orbits
            .Select(orbit => (Orbit: orbit, Fit: VoltageFit.Of(_observation, orbit.Representative)))
            .Select(pair => (pair.Orbit, pair.Fit, Log: pair.Orbit.Members.Max(member => member.Map.LogPrior) + pair.Fit.LogLikelihood))
            .ToList();
        var bestLeads = leads.Max(lead => lead.Log);
        leads.RemoveAll(lead => lead.Log < bestLeads - _depth - (_waves is { HasSteps: true } ? DepthForWaves : 0));
        leads.Sort((left, right) => right.Log.CompareTo(left.Log));
        foreach (var (orbit, fit, log) in leads)
        {
            if (_waves is not { HasSteps: true } && log + _convention.LogPrior + MostFromClamps + (_waves is null ? 0 : MostFromHarmonics) < best - _depth) continue;
            var likelihoods = Likelihoods(orbit.Representative, fit);
            var waves = _waves?.For(orbit.Representative, fit, _convention);
            _hopeless.Clear();
            // Most arrangements are too rare for what their roles allow: that costs one addition each.
            Array.Fill(_roleBounds, double.NaN);
            var before = orbit.Members.Max(member => member.Map.LogPrior) + fit.LogLikelihood + _convention.LogPrior + (waves?.Ceiling ?? 0);
            for (var index = 0; index < table.Maps.Count; index++)
            {
                ref var bound = ref _roleBounds[table.Roles[index]];
                if (double.IsNaN(bound)) bound = BoundOfRoles(likelihoods, table.Roles[index]);
                if (before + table.TopPriors[index] + bound < best - _depth) continue;
                if (table.Maps[index].SecondOffScale >= 0 && log < bestLeads - DepthForTwoRatios) continue;
                Collect(orbit, fit, likelihoods, waves, table, index, found, ref best);
            }
        }
    }

    private void Collect(
        LeadOrbit orbit,
        VoltageFit fit,
        List<(CurrentLikelihood Likelihood, double LogWeight)> likelihoods,
        WaveLikelihood? waves,
        ClampMapTable table,
        int index,
        List<Hypothesis> found,
        ref double best)
    {
        var prior = double.NegativeInfinity;
        foreach (var (map, relabelling) in orbit.Members)
        {
            if (table.Relabelled(relabelling, index) is { } clamps) prior = Math.Max(prior, Hypothesis.LogPriorOf(map, clamps));
        }

        var before = prior + fit.LogLikelihood + _convention.LogPrior;
        if (waves is not null && table.Maps[index].OffScale >= 0 && _hopeless.Contains(CodeOf(table.Maps[index]))) return;
        var currents = Bound(likelihoods, table.Maps[index]);
        if (waves is not null)
        {
            // The waves' own bound costs most of the time: it is left out where even its ceiling would not do.
            var ceiling = before + waves.Ceiling + currents;
            if (ceiling >= best - _depth) before += waves.Bound(table.Maps[index]);
            if (table.Maps[index].OffScale < 0 && table.TopPriors[index] < UsualPrior && Math.Min(ceiling, before + currents) < best - _depth - MostFromRatio)
                _hopeless.Add(CodeOf(table.Maps[index]));
            if (ceiling < best - _depth) return;
        }

        // Written so that what is no number falls out too, and never becomes the best.
        if (!(before + currents >= best - _depth)) return;
        var current = Weigh(likelihoods, table.Maps[index]);
        if (!(before + current.Total >= best - _depth)) return;
        if (waves is not null)
        {
            before -= waves.Bound(table.Maps[index]);
            current = waves.Add(current, table.Maps[index]);
            if (!(before + current.Total >= best - _depth)) return;
        }

        best = Math.Max(best, before + current.Total);
        foreach (var (map, relabelling) in orbit.Members)
        {
            if (table.Relabelled(relabelling, index) is not { } clamps) continue;
            var hypothesis = new Hypothesis(map, clamps, _convention, fit.LogLikelihood, current);
            if (hypothesis.Log > best - _depth) found.Add(hypothesis);
        }
    }

    private static int CodeOf(ClampMap map)
    {
        var code = 0;
        for (var position = 0; position < map.On.Length; position++)
            code = (code * 10) + (map.On[position] * 2) + (map.Reversed[position] ? 1 : 0);
        return code;
    }

    /// <summary>Weighs one arrangement, however unlikely.</summary>
    public Hypothesis Weigh(LeadMap leads, ClampMap clamps)
    {
        var fit = VoltageFit.Of(_observation, leads);
        var current = Weigh(Likelihoods(leads, fit), clamps);
        return new Hypothesis(
            leads, clamps, _convention, fit.LogLikelihood, _waves is null ? current : _waves.For(leads, fit, _convention).Add(current, clamps));
    }

    private static double BoundOfRoles(List<(CurrentLikelihood Likelihood, double LogWeight)> likelihoods, byte roleCode)
    {
        var bound = double.NegativeInfinity;
        foreach (var (likelihood, _) in likelihoods) bound = Math.Max(bound, likelihood.LogBoundOf(roleCode));
        return bound;
    }

    private static double Bound(List<(CurrentLikelihood Likelihood, double LogWeight)> likelihoods, ClampMap clamps)
    {
        var bound = double.NegativeInfinity;
        foreach (var (likelihood, _) in likelihoods) bound = Math.Max(bound, likelihood.LogBoundOf(clamps));
        return bound;
    }

    private List<(CurrentLikelihood Likelihood, double LogWeight)> Likelihoods(LeadMap map, VoltageFit fit)
    {
        if (fit.IsPhaseKnown || !_observation.Currents.Any(current => current is { FromVoltage: false, Candidates.Length: > 0 }))
            return _combinations.ConvertAll(part => (new CurrentLikelihood(part.Observation, fit, map, _grid), part.LogWeight));
        var share = Math.Log(1.0 / Phases);
        return [.. Enumerable.Range(0, Phases).Select(step => fit.Turned(2 * Math.PI * step / Phases)).SelectMany(turned =>
            _combinations.Select(part => (new CurrentLikelihood(part.Observation, turned, map, _grid), part.LogWeight + share)))];
    }

    private static CurrentFit Weigh(List<(CurrentLikelihood Likelihood, double LogWeight)> likelihoods, ClampMap clamps)
    {
        var best = default(CurrentFit);
        var bestLog = double.NegativeInfinity;
        if (likelihoods.Count == 1) return likelihoods[0].Likelihood.Of(clamps);
        Span<double> logs = stackalloc double[MostCombinations * Phases];
        for (var index = 0; index < likelihoods.Count; index++)
        {
            var (likelihood, weight) = likelihoods[index];
            logs[index] = double.NegativeInfinity;
            if (likelihood.LogBoundOf(clamps) + weight < bestLog - Negligible) continue;
            var fit = likelihood.Of(clamps);
            logs[index] = fit.Total + weight;
            if (logs[index] > bestLog || index == 0) (bestLog, best) = (logs[index], fit);
        }

        double sum = 0;
        for (var index = 0; index < likelihoods.Count; index++) sum += Math.Exp(logs[index] - bestLog);
        return best with { Displacement = best.Displacement + (bestLog + Math.Log(sum) - best.Total) };
    }

    private static List<(Observation Observation, double LogWeight)> Combinations(Observation observation)
    {
        var count = observation.Currents.Aggregate(1L, (product, current) => product * Math.Max(current.Candidates.Length, 1));
        if (count is 1 or > MostCombinations) return [(observation, 0)];
        var parts = new List<(CurrentObservation[] Currents, double Weight)> { (observation.Currents, 1) };
        for (var index = 0; index < observation.Currents.Length; index++)
        {
            var candidates = observation.Currents[index].Candidates;
            if (candidates.Length < 2) continue;
            parts = [.. parts.SelectMany(part => candidates.Select(candidate => (With(part.Currents, index, candidate), part.Weight * candidate.Weight)))];
        }

        return parts.ConvertAll(part => (observation with { Currents = part.Currents }, Math.Log(part.Weight)));
    }

    private static CurrentObservation[] With(CurrentObservation[] currents, int index, AngleCandidate candidate)
    {
        var copy = (CurrentObservation[])currents.Clone();
        copy[index] = copy[index] with { Candidates = [candidate with { Weight = 1 }] };
        return copy;
    }
}
