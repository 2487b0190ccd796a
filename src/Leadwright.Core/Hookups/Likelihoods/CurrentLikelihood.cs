using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>Weighs arrangements of the clamps, given where the leads are.</summary>
/// <remarks>Derivation: docs/methods/hook-up-evidence.md, "Currents". Not thread-safe: it keeps sums it has worked out.</remarks>
internal sealed class CurrentLikelihood
{
    private const double Flat = 1 / (2 * Math.PI);
    private const int Absent = 6;

    // How far the currents' sum is off, as a share of their squares: ratio and angle errors of clamps, and on a screen rms
    // values that hold harmonics the angles do not belong to.
    private const double PhasorVariance = 2.2e-4;
    private const double DisplayVariance = 1.0e-3;

    /// <summary>Share of boards whose lines are in balance to within the errors of their clamps, as with motors alone, and mean square of other boards' sums as a share of the lines' squares (common practice, no source).</summary>
    private const double BalancedRate = 0.02;
    private const double UsualSum = 0.3;

    /// <summary>A current worked out from others is known to this share of the largest of them.</summary>
    /// <summary>A reading without an angle below this share of the largest current is noise.</summary>
    private const double NoiseAlone = 0.02;

    private const double DeducedNoise = 0.02;

    private readonly Observation _observation;
    private readonly DisplacementGrid _grid;
    private readonly ClampDensity[] _densities;
    private readonly Phasor[] _phasors;
    private readonly double[] _lineAngles;
    private readonly int[] _lineSixths;
    private readonly LegShifts? _shifts;
    private readonly int _lines;
    private readonly bool _isPointLike;
    private readonly bool _isSingle;
    private readonly double _largest;
    private readonly double _sumVariance;
    private readonly AngleProduct?[] _angles = new AngleProduct?[7 * 7 * 7 * 7];
    private readonly Dictionary<(int Known, int Scales), double[]> _sizes = [];
    // From the largest reading down: the larger of two on one conductor stands for it, whatever the clamps are called.
    private readonly int[] _order;
    private readonly double[] _roleBounds;
    private readonly double _closureBound;
    private readonly double[] _seconds = new double[4 * 4 * 2 * ClampMap.ScaleCodes * ClampMap.ScaleCodes];
    private readonly double[] _pairs = new double[4 * 4 * 6 * 6];

    private readonly double[] _logs = new double[4];
    private readonly int[] _sixths = new int[4];
    private readonly Phasor[] _line = new Phasor[3];
    private readonly bool[] _isKnown = new bool[3];
    private readonly double[] _deduced = new double[DisplacementGrid.Levels];

    public CurrentLikelihood(Observation observation, VoltageFit fit, LeadMap leads, DisplacementGrid grid)
    {
        _observation = observation;
        _grid = grid;
        var currents = observation.Currents;
        _order = [.. Enumerable.Range(0, currents.Length).OrderByDescending(index => double.IsNaN(currents[index].Amperes) ? -1 : currents[index].Amperes)];
        _densities = new ClampDensity[currents.Length];
        _phasors = new Phasor[currents.Length];
        _lineAngles = fit.ConductorAngles;
        _lineSixths = !observation.Service.HasRotation ? [0, 3, 0] : leads.Rotation == Rotation.Acb ? [0, 2, 4] : [0, 4, 2];
        _lines = observation.Service.LineCount;
        _isSingle = observation.Service.Kind == ServiceKind.Single;
        Array.Fill(_pairs, double.NaN);
        Array.Fill(_seconds, double.NaN);
        _shifts = LegShifts.Of(observation.Service, leads);
        _sumVariance = observation.IsMeasured ? PhasorVariance : DisplayVariance;
        _largest = 0.5;
        foreach (var current in currents)
        {
            if (!double.IsNaN(current.Amperes)) _largest = Math.Max(_largest, current.Amperes);
        }

        _isPointLike = true;
        for (var index = 0; index < currents.Length; index++)
        {
            var current = currents[index];
            var own = current.FromVoltage ? fit.ClampVoltageAngles[index] : 0;
            var isKnown = current.Candidates.Length > 0 && !double.IsNaN(own);
            var displacements = isKnown
                ? Array.ConvertAll(current.Candidates, candidate =>
                    candidate with { AngleRadians = _lineAngles[0] - own - candidate.AngleRadians })
                : [];
            _densities[index] = new ClampDensity(displacements, current.AngleDeviation, grid, _shifts, _lineSixths.AsSpan(0, _lines));
            var isPoint = displacements.Length == 1 && !double.IsNaN(current.Amperes);
            // A current of nothing has no angle, and needs none; a neutral's is nothing where it adds nothing to the lines' sum.
            var isNothing = current.Amperes <= CurrentSizes.Floor * (observation.IsMeasured && current.Clamp == Clamp.IN ? _largest : 0.5);
            // What a recording shows without an angle is noise: its fundamental is nothing.
            isNothing |= observation.IsMeasured && current.Clamp == Clamp.IN && current.Candidates.Length == 0 && current.Amperes < NoiseAlone * _largest;
            _isPointLike &= isPoint || isNothing || current.IsUnread;
            _phasors[index] = isPoint
                ? Phasor.FromRadians(current.Amperes, own + current.Candidates[0].AngleRadians)
                : Phasor.Zero;
        }

        // Largest densities a clamp can have in each role; a margin of e covers the sizes.
        _roleBounds = new double[currents.Length * 4];
        // Which of two clamps on one conductor is its second goes by their readings, not by the arrangement's roles.
        var lines = Array.ConvertAll(_densities, density => Math.Log(density.Largest));
        var second = 5.6 + (lines.Length > 0 ? lines.Max() - lines.Min() : 0);
        for (var index = 0; index < currents.Length; index++)
        {
            var line = lines[index] + 1;
            _roleBounds[(index * 4) + (int)ClampRole.Line] = line;
            _roleBounds[(index * 4) + (int)ClampRole.Second] = second;
            // Of all that flows the neutral's share is at most a whole, a wrong ratio of any clamp included.
            _roleBounds[(index * 4) + (int)ClampRole.Neutral] = Math.Max(-Math.Log(2 * Math.PI * _sumVariance), 3.5);
            _roleBounds[(index * 4) + (int)ClampRole.Open] = Math.Log(Flat) - 0.9;
            LogBound += Math.Max(line, Math.Max(second, 7));
        }

        // Three wires: the sum of the lines adds its own sharp density.
        if (observation.Service.IsThreeWire && _isPointLike) _closureBound = 7;
        LogBound += _closureBound;
    }

    /// <summary>No arrangement's likelihood has a larger logarithm than this.</summary>
    public double LogBound { get; }

    /// <summary>No larger logarithm is possible for arrangements of these roles; <see cref="ClampMap.RoleCode"/>.</summary>
    public double LogBoundOf(byte roleCode)
    {
        var bound = _closureBound;
        for (var index = 0; index < _densities.Length; index++) bound += _roleBounds[(index * 4) + ((roleCode >> (2 * index)) & 3)];
        return bound;
    }

    /// <summary>No larger logarithm is possible for this arrangement; cheap.</summary>
    public double LogBoundOf(ClampMap map)
    {
        var bound = _closureBound;
        Span<int> first = stackalloc int[4];
        Span<int> lines = stackalloc int[4];
        first.Fill(-1);
        var count = 0;
        foreach (var index in _order)
        {
            var place = map.On[index];
            if (place == Place.Air || _observation.Currents[index].IsUnread)
            {
                bound += _roleBounds[(index * 4) + (int)(place == Place.Air ? ClampRole.Open : ClampRole.Line)];
                continue;
            }

            if (_isSingle && place == Place.N) place = 0;
            if (first[place] >= 0)
            {
                bound += LogSecond(map, first[place], index);
                continue;
            }

            first[place] = index;
            bound += _roleBounds[(index * 4) + (int)(place == Place.N ? ClampRole.Neutral : ClampRole.Line)];
            if (place != Place.N) lines[count++] = index;
        }

        return bound + LeastPair(map, lines[..count]);
    }

    /// <summary>By how much the two clamps that agree least with each other, or with the load, lower the bound.</summary>
    /// <remarks>A sum of products of densities is not above the sum of products of any two of them, times the others' largest.</remarks>
    private double LeastPair(ClampMap map, ReadOnlySpan<int> lines)
    {
        double least = 0;
        for (var one = 0; one < lines.Length; one++)
        {
            for (var other = one + 1; other < lines.Length; other++)
            {
                var (left, right) = (Math.Min(lines[one], lines[other]), Math.Max(lines[one], lines[other]));
                var (leftSixths, rightSixths) = (SixthsOf(map, left), SixthsOf(map, right));
                ref var pair = ref _pairs[(((((left * 4) + right) * 6) + leftSixths) * 6) + rightSixths];
                if (double.IsNaN(pair))
                {
                    var together = AngleProduct.OfPair(_grid, _densities[left], leftSixths, _densities[right], rightSixths);
                    pair = Math.Log(together + 1e-300) - Math.Log(_densities[left].Largest) - Math.Log(_densities[right].Largest);
                }

                least = Math.Min(least, pair);
            }
        }

        return least;
    }

    /// <summary>Logarithm of the density of a second clamp on a conductor; the same for many arrangements.</summary>
    private double LogSecond(ClampMap map, int first, int second)
    {
        var turned = map.Reversed[first] != map.Reversed[second]
            ^ (_isSingle && (map.On[first] == Place.N) != (map.On[second] == Place.N));
        ref var log = ref _seconds[(((((((first * 4) + second) * 2) + (turned ? 1 : 0)) * ClampMap.ScaleCodes) + map.ScaleCodeOf(first)) * ClampMap.ScaleCodes)
            + map.ScaleCodeOf(second)];
        if (double.IsNaN(log)) log = SameConductor.LogDensity(_observation, map, first, second, _isSingle, _phasors, _largest);
        return log;
    }

    private int SixthsOf(ClampMap map, int index)
    {
        var (place, reversed) = (map.On[index], map.Reversed[index]);
        if (_isSingle && place == Place.N) (place, reversed) = (0, !reversed);
        return (_lineSixths[place] + (reversed ? 3 : 0)) % 6;
    }

    public CurrentFit Of(ClampMap map)
    {
        var service = _observation.Service;
        double kirchhoff = 0, sizes = 0;
        Array.Clear(_isKnown);
        Span<int> first = stackalloc int[4];
        first.Fill(-1);
        var known = 0;
        _sixths.AsSpan().Fill(Absent);
        foreach (var index in _order)
        {
            var place = map.On[index];
            var reversed = map.Reversed[index];
            if (place == Place.Air || _observation.Currents[index].IsUnread)
            {
                sizes += LogOpen(index);
                continue;
            }

            if (_isSingle && place == Place.N) (place, reversed) = (0, !reversed);
            if (first[place] >= 0)
            {
                kirchhoff += LogSecond(map, first[place], index);
                continue;
            }

            first[place] = index;
            if (place == Place.N) continue;
            _sixths[index] = (_lineSixths[place] + (reversed ? 3 : 0)) % 6;
            _line[place] = (reversed ? -1 : 1) / map.ScaleOf(index) * _phasors[index];
            _isKnown[place] = true;
            var amperes = _observation.Currents[index].Amperes;
            if (!double.IsNaN(amperes)) _logs[known++] = LogAmperes(amperes / map.ScaleOf(index));
        }

        Array.Fill(_deduced, 1);
        var read = known;
        var neutral = first[Place.N];
        if (neutral >= 0) kirchhoff += Neutral(neutral, map, _lines, ref known);
        else if (service.IsThreeWire && _isPointLike) kirchhoff += ThreeWire(map, ref known);
        var density = known > read ? SizeDensities(known) : RememberedSizes(map, known);
        return Combine(density, kirchhoff, sizes, service.IsThreeWire && _isPointLike && known == 3);
    }

    /// <summary>Size densities of currents that were all read depend only on which clamps and which ratio.</summary>
    private double[] RememberedSizes(ClampMap map, int known)
    {
        var (mask, scales) = (0, 0);
        for (var index = 0; index < map.On.Length; index++)
        {
            if (_sixths[index] == Absent) continue;
            mask |= 1 << index;
            scales = (scales * ClampMap.ScaleCodes) + map.ScaleCodeOf(index);
        }

        var key = (mask, scales);
        if (!_sizes.TryGetValue(key, out var density)) _sizes[key] = density = SizeDensities(known);
        return density;
    }

    private double[] SizeDensities(int known)
    {
        var density = new double[DisplacementGrid.Levels];
        for (var level = 0; level < density.Length; level++)
            density[level] = CurrentSizes.Density(
                _logs.AsSpan(0, known), DisplacementGrid.SizeSpread[level], _observation.Service.Kind == ServiceKind.Split);
        return density;
    }

    /// <summary>Sums over the levels and mean displacements.</summary>
    private CurrentFit Combine(double[] density, double kirchhoff, double sizes, bool closes)
    {
        var sums = Angles().Sums;
        double together = 0, sizeAlone = 0;
        for (var level = 0; level < DisplacementGrid.Levels; level++)
        {
            var size = density[level];
            if (closes) size /= Closure(level);
            together += sums[level] * _deduced[level] * size;
            sizeAlone += _grid.LevelWeights[level] * size;
        }

        var logSize = Math.Log(sizeAlone + 1e-300);
        return new CurrentFit(Math.Log(together + 1e-300) - logSize, kirchhoff, sizes + logSize);
    }

    /// <summary>For each level, the product of the clamps' densities at each mean displacement, and its sum.</summary>
    private AngleProduct Angles()
    {
        var key = 0;
        foreach (var sixth in _sixths) key = (key * 7) + sixth;
        return _angles[key] ??= new AngleProduct(_grid, _densities, _sixths);
    }

    /// <summary>A clamp on the neutral: the sum of the lines when all are known, the missing line when one is not.</summary>
    private double Neutral(int index, ClampMap map, int lines, ref int known)
    {
        var amperes = _observation.Currents[index].Amperes;
        var read = Math.Max(amperes, CurrentSizes.Floor * _largest);
        if (double.IsNaN(amperes)) return Math.Log(Flat);
        if (_isPointLike && known >= lines - 1)
        {
            var sum = (map.Reversed[index] ? -1 : 1) / map.ScaleOf(index) * _phasors[index];
            var missing = -1;
            for (var line = 0; line < lines; line++)
            {
                if (_isKnown[line]) sum += _line[line];
                else missing = line;
            }

            // Densities are of the current itself, so that a ratio which makes much of little has no advantage by it.
            read /= map.ScaleOf(index);
            var weight = (map.Reversed[index] ? -1 : 1) / map.ScaleOf(index);
            if (missing < 0) return Math.Log((Residual(sum, map) + Balanced(sum, index, weight)) * read * read);
            var deduced = -sum;
            var size = Math.Max(deduced.Magnitude, DeducedNoise * _largest);
            Deduce(deduced, missing);
            _logs[known++] = Math.Log(size);
            return Math.Log((read * read / (size * size)) + (Silent(weight * _phasors[index]) * read * read));
        }

        return Math.Log(Flat * Gauss.Density(Math.Log(read / _largest / 0.35), 1.1));
    }

    /// <summary>Three wires: the three line currents add up to nothing; two of them give the third.</summary>
    private double ThreeWire(ClampMap map, ref int known)
    {
        if (known < 2) return 0;
        var sum = Phasor.Zero;
        double logMean = 0;
        var missing = -1;
        for (var line = 0; line < 3; line++)
        {
            if (_isKnown[line]) sum += _line[line];
            else missing = line;
        }

        if (known == 3)
        {
            for (var line = 0; line < 3; line++) logMean += _logs[line] / 3;
            return Math.Log(Residual(sum, map)) + (2 * logMean);
        }

        var size = Math.Max(sum.Magnitude, DeducedNoise * _largest);
        Deduce(-sum, missing);
        _logs[known++] = Math.Log(size);
        for (var line = 0; line < 3; line++) logMean += _logs[line] / 3;
        return 2 * (logMean - Math.Log(size));
    }

    /// <summary>Density of a sum that should be zero, per square ampere.</summary>
    private double Residual(Phasor sum, ClampMap map)
    {
        double squares = 0;
        for (var index = 0; index < _phasors.Length; index++)
        {
            // A clamp's error is a share of the current itself, whatever its ratio makes of it.
            if (map.On[index] != Place.Air) squares += _phasors[index].SquaredMagnitude / (map.ScaleOf(index) * map.ScaleOf(index));
        }

        var floor = (0.002 * _largest) + 0.01;
        var variance = (_sumVariance * squares) + (floor * floor);
        return (0.9 * Gauss.PlaneDensity(sum, variance))
            + (0.097 * Gauss.PlaneDensity(sum, 20 * variance))
            + (0.003 * Gauss.PlaneDensity(sum, (0.03 * squares) + variance)) + 1e-30;
    }

    /// <summary>Density of a neutral's reading where the lines may be in balance: next to nothing then, and nearer to it than the errors of three clamps let their sum be.</summary>
    /// <remarks>Without it a neutral clamp that truly reads nothing is less likely on the neutral than around nothing, the more so the larger the lines. How near the lines' own sum is to nothing
    /// weighs the balance against sums of any size.</remarks>
    private double Balanced(Phasor sum, int neutral, double scale)
    {
        // Sizes and powers alone tell the lines' sum too roughly to call it a balance.
        if (!_observation.IsMeasured) return 0;
        var own = scale * _phasors[neutral];
        double squares = 0;
        for (var index = 0; index < _phasors.Length; index++)
        {
            if (index != neutral) squares += _phasors[index].SquaredMagnitude;
        }

        var floor = (0.002 * _largest) + 0.01;
        var odds = Gauss.PlaneDensity(sum - own, (_sumVariance * squares) + (floor * floor)) * Math.PI * UsualSum * squares;
        return BalancedRate * odds * Gauss.PlaneDensity(_phasors[neutral], floor * floor);
    }

    /// <summary>Density of a neutral's reading where the lines are in balance though one of them is not read.</summary>
    private double Silent(Phasor neutral)
    {
        if (!_observation.IsMeasured) return 0;
        var floor = (0.002 * _largest) + 0.01;
        return BalancedRate * Gauss.PlaneDensity(neutral, floor * floor);
    }

    /// <summary>Weighs the displacement of a current that was worked out, not read.</summary>
    private void Deduce(Phasor current, int line)
    {
        var displacement = _lineAngles[line] - current.AngleRadians;
        var noise = Math.Min(((0.01 * _largest) + 0.02) / Math.Max(current.Magnitude, 1e-9), 3);
        var angles = Angles();
        for (var level = 0; level < DisplacementGrid.Independent; level++)
        {
            var sum = angles.Sums[level];
            _deduced[level] = sum > 0 ? WeighShifted(level, angles.Row(level), line, displacement, noise) / sum : 0;
        }

        _deduced[DisplacementGrid.Independent] = ClampDensity.Marginal(_grid, _shifts, _shifts?.SignOf(line) ?? 0, displacement);
    }

    private double WeighShifted(int level, ReadOnlySpan<double> weights, int line, double displacement, double noise)
    {
        if (_shifts is null || _shifts.SignOf(line) == 0) return _grid.Weigh(level, weights, displacement, noise);
        double sum = 0;
        for (var number = 0; number < LegShifts.Steps.Length; number++)
        {
            var shift = _shifts.SignOf(line) * DisplacementGrid.MeanOf(LegShifts.Steps[number]);
            sum += _shifts.Weights[number] * _grid.Weigh(level, weights, displacement - shift, noise);
        }

        return sum;
    }

    /// <summary>Density with which three unrelated line currents of a level would add up to nothing, by their mean square.</summary>
    private static double Closure(int level) => level switch
    {
        0 => 4.5,
        1 => 0.9,
        2 => 0.25,
        _ => 0.12,
    };

    private double LogOpen(int index)
    {
        var amperes = _observation.Currents[index].Amperes;
        return double.IsNaN(amperes) ? Math.Log(Flat) : Math.Log(Flat * CurrentSizes.OpenClamp(amperes / _largest, amperes));
    }

    private double LogAmperes(double amperes) => Math.Log(Math.Max(amperes, CurrentSizes.Floor * _largest));
}
