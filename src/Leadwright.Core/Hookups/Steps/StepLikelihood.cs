using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>How well the steps fit arrangements of the clamps, given where the leads are.</summary>
/// <remarks>
/// <para>When a load is switched, every conductor's potential moves by minus its impedance times the change of its current:
/// dE = −Z·dJ, whatever the power factor and the direction of power. The arrangement says which channel reads which E and which
/// clamp reads which J; the impedances are integrated over (<see cref="SourceModel"/>), in closed form, since they enter
/// linearly. What all voltages share may have come from upstream and is discounted by how much they wander together.</para>
/// <para>Natural logarithms; the voltages' part is zero for a perfect fit by arrangements that leave no current unknown.
/// Derivation: docs/methods/switching-steps.md. Not thread-safe.</para>
/// </remarks>
internal sealed class StepLikelihood
{
    private const int Conductors = LeadRows.Conductors;

    /// <summary>A channel with a lead in the air follows nothing surely; its change is within this share of the voltage.</summary>
    private const double OpenWandering = 0.003;

    /// <summary>Leaving out the worst steps one by one is not quite the best choice of strays.</summary>
    private const double QuickMargin = 3;

    private const int MostReturnRounds = 4;

    private static readonly (double Spread, double Share)[] s_known = [(0, 1)];
    private static readonly double s_acrossCost = Math.Log(SourceModel.NeutralSteps / SourceModel.AcrossSteps);

    private readonly StepTable _table;
    private readonly StepCurrents _currents;
    private readonly Service _service;
    private readonly LeadRows _rows;
    private readonly int[] _positions;
    private readonly ConductorCurrents _conductors = new();
    private readonly Dictionary<long, double> _full = [];
    private readonly Dictionary<long, double> _quick = [];
    private readonly Dictionary<(int, bool, double, int), VoltageNoise> _noise = [];
    private readonly UnclaimedSteps _unclaimed;
    private readonly double _rawImpedance;
    private readonly double _baseLogDeterminant;
    private readonly Phasor[] _grams = new Phasor[Conductors * Conductors];
    private readonly Phasor[] _projection = new Phasor[Conductors];
    private double _rest;
    private double _log;

    // Steps that follow no rule, and those whose current comes back through the unread line, as bits.
    private ulong _strays;
    private ulong _across;

    /// <summary>Takes up an arrangement of the leads.</summary>
    public StepLikelihood(StepTable table, StepCurrents currents, Service service, LeadMap leads, Clamp[] clamps)
    {
        (_table, _currents, _service) = (table, currents, service);
        _rows = LeadRows.Of(leads, service, table.Voltages);
        _positions = [.. table.Clamps.Select(clamp => Array.IndexOf(clamps, clamp))];
        double volts = 0;
        var all = table.Without(0);
        for (var index = 0; index < table.Voltages.Length; index++)
            volts = Math.Max(volts, all.VoltageProducts[index * (table.Voltages.Length + 1)].Real);
        _rawImpedance = Math.Sqrt(volts / table.Count) / Math.Max(table.TypicalAmperes, 1e-9);
        _unclaimed = new UnclaimedSteps(table, _rows, service, NoiseOf(0, true, 0, 0));
        // Of the leads as they should be: the same for every arrangement, so that logarithms compare.
        _baseLogDeterminant = VoltageNoise.LogDeterminantWithoutOpen(table);
    }

    /// <summary>About the largest logarithm that an arrangement can have; cheap.</summary>
    public double Bound(ClampMap map)
    {
        _conductors.Read(map, _positions, _service);
        if (_table.Count == 0) return _unclaimed.LogOf(_conductors.Unknown);
        var key = ConductorCurrents.Key(map, _positions);
        if (_quick.TryGetValue(key, out var known)) return known;
        var best = double.NegativeInfinity;
        foreach (var (spread, _) in Spreads())
        {
            if (spread > 0 && spread != SourceModel.UnreadChanges[0].Spread && spread != SourceModel.UnreadChanges[^1].Spread) continue;
            for (var unrest = 0; unrest < SourceModel.Unrest.Length; unrest++)
            {
                if (unrest is not 0 && unrest != SourceModel.Unrest.Length - 1) continue;
                Strays(spread, unrest);
                // The best fit without limits on the impedances is better than any within them.
                best = Math.Max(best, _log - Math.Max(0, _rest - BestFit(default)));
            }
        }

        return _quick[key] = best + QuickMargin + _unclaimed.LogOf(_conductors.Unknown);
    }

    /// <summary>Logarithm of the likelihood.</summary>
    public double Of(ClampMap map)
    {
        _conductors.Read(map, _positions, _service);
        if (_table.Count == 0) return _unclaimed.LogOf(_conductors.Unknown);
        var key = ConductorCurrents.Key(map, _positions);
        if (_full.TryGetValue(key, out var known)) return known;
        double total = 0;
        var top = double.NegativeInfinity;
        foreach (var (spread, share) in Spreads())
        {
            for (var unrest = 0; unrest < SourceModel.Unrest.Length; unrest++)
            {
                Strays(spread, unrest);
                var log = _log + Math.Log(share * SourceModel.Unrest[unrest].Share) + Integrate();
                if (log > top) (total, top) = ((total * Math.Exp(top - log)) + 1, log);
                else total += Math.Exp(log - top);
            }
        }

        return _full[key] = top + Math.Log(total) + _unclaimed.LogOf(_conductors.Unknown);
    }

    /// <summary>Prepares the sums, with what is the likeliest at each step: where its current returns if that is not known, and whether it
    /// follows no rule at all.</summary>
    private void Strays(double spread, int unrest)
    {
        _across = 0;
        WithoutStrays(spread, unrest);
        if (_conductors.Unread < 0) return;
        var (strays, across, reached) = (_strays, _across, _log - _rest + BestFit(default));
        _across = ulong.MaxValue;
        WithoutStrays(spread, unrest);
        if (_log - _rest + BestFit(default) >= reached) return;
        _across = across;
        _log = Sum(spread, unrest, strays);
    }

    /// <summary>Leaves out the steps that fit so badly that they are better taken as strays: the worst first, one by one.</summary>
    private void WithoutStrays(double spread, int unrest)
    {
        var noise = NoiseOf(_conductors.Unknown, _conductors.KnowsNeutral, spread, unrest);
        var cost = StrayCost(noise);
        _strays = 0;
        Span<Phasor> impedances = stackalloc Phasor[Conductors];
        for (var round = 0; round < MostReturnRounds && _conductors.Unread >= 0; round++)
        {
            Sum(spread, unrest, 0);
            BestFit(impedances);
            if (!ChooseReturns(impedances, noise)) break;
        }

        for (var round = 0; round <= _table.Count / 3; round++)
        {
            _log = Sum(spread, unrest, _strays);
            BestFit(impedances);
            if (_conductors.Unread >= 0 && ChooseReturns(impedances, noise)) _log = Sum(spread, unrest, _strays);
            var (worst, at) = (cost, -1);
            for (var step = 0; step < _table.Count; step++)
            {
                if ((_strays & (1UL << step)) != 0) continue;
                var residual = Residual(step, impedances, noise, RestOf(step));
                if (residual > worst) (worst, at) = (residual, step);
            }

            if (at < 0) return;
            _strays |= 1UL << at;
        }

        _log = Sum(spread, unrest, _strays);
    }

    private int RestOf(int step) => (_across & (1UL << step)) != 0 && _conductors.Unread >= 0 ? _conductors.Unread : _conductors.Rest;

    /// <summary>A load is on one line or between two: what the clamps see comes back through the neutral or through the unread line.</summary>
    /// <returns>True when a choice changed.</returns>
    private bool ChooseReturns(ReadOnlySpan<Phasor> impedances, VoltageNoise noise)
    {
        ulong across = 0;
        for (var step = 0; step < _table.Count; step++)
        {
            var gain = Residual(step, impedances, noise, _conductors.Rest) - Residual(step, impedances, noise, _conductors.Unread);
            if (gain > s_acrossCost) across |= 1UL << step;
        }

        if (across == _across) return false;
        _across = across;
        return true;
    }

    /// <summary>What it costs to call a step a stray, against a step that fits.</summary>
    private double StrayCost(VoltageNoise noise) =>
        (2 * _table.Voltages.Length * Math.Log(SourceModel.StrayVoltage)) - noise.LogDeterminant - Math.Log(SourceModel.StrayShare);

    private double Residual(int step, ReadOnlySpan<Phasor> impedances, VoltageNoise noise, int returning)
    {
        var channels = _table.Voltages.Length;
        Span<Phasor> rest = stackalloc Phasor[channels];
        for (var channel = 0; channel < channels; channel++) rest[channel] = _table.Changes[step][channel];
        var left = Phasor.Zero;
        for (var conductor = 0; conductor < Conductors; conductor++)
        {
            if (_conductors.First[conductor] < 0) continue;
            var amperes = _conductors.Scale[conductor] * _table.Currents[step][_conductors.First[conductor]];
            left -= amperes;
            Drop(conductor, impedances[conductor] * amperes, rest);
        }

        if (returning >= 0) Drop(returning, impedances[returning] * left, rest);
        double sum = 0;
        for (var one = 0; one < channels; one++)
        {
            for (var other = 0; other < channels; other++)
                sum += (rest[one].Conjugate * noise.Inverse[(one * channels) + other] * rest[other]).Real;
        }

        return sum;
    }

    private void Drop(int conductor, Phasor volts, Span<Phasor> rest)
    {
        for (var channel = 0; channel < rest.Length; channel++) rest[channel] += _rows.Rows[(channel * Conductors) + conductor] * volts;
    }

    /// <summary>The impedances that fit best, limits aside, and how much of the voltages' changes they explain.</summary>
    private double BestFit(Span<Phasor> impedances)
    {
        Span<Phasor> matrix = stackalloc Phasor[Conductors * Conductors];
        Span<Phasor> vector = stackalloc Phasor[Conductors];
        for (var index = 0; index < matrix.Length; index++) matrix[index] = _grams[index];
        double largest = 0;
        for (var conductor = 0; conductor < Conductors; conductor++)
            largest = Math.Max(largest, _grams[conductor * (Conductors + 1)].Real);
        for (var conductor = 0; conductor < Conductors; conductor++)
            matrix[conductor * (Conductors + 1)] += new Phasor(1e-12 + (1e-7 * largest), 0);
        _projection.CopyTo(vector);
        if (double.IsNaN(HermitianMatrix.Factor(matrix, Conductors))) return _rest;
        var explained = HermitianMatrix.Form(matrix, Conductors, vector);
        if (impedances.IsEmpty) return explained;
        // The vector holds the half-solved system; the other half gives the impedances.
        for (var row = Conductors - 1; row >= 0; row--)
        {
            var value = vector[row];
            for (var inner = row + 1; inner < Conductors; inner++) value -= matrix[(inner * Conductors) + row].Conjugate * impedances[inner];
            impedances[row] = value / matrix[(row * Conductors) + row].Real;
        }

        return explained;
    }

    /// <summary>How much the currents change that no clamp tells.</summary>
    private (double Spread, double Share)[] Spreads() => _conductors.Unknown == 0 ? s_known : SourceModel.UnreadChanges;

    /// <summary>Prepares the sums of one arrangement.</summary>
    /// <returns>What does not depend on the impedances: the currents' own part, and the noise's determinant.</returns>
    private double Sum(double spread, int unrest, ulong strays)
    {
        var noise = NoiseOf(_conductors.Unknown, _conductors.KnowsNeutral, spread, unrest);
        var channels = _table.Voltages.Length;
        Span<Phasor> cross = stackalloc Phasor[Conductors * channels];
        cross.Clear();
        Array.Clear(_grams);
        var across = _conductors.Unread < 0 ? 0 : _across;
        var table = _table.Without(strays);
        AddSums(across == 0 ? table : _table.Without(strays | across), _conductors.Rest, cross);
        if (across != 0) AddSums(_table.Without(strays | ~across), _conductors.Unread, cross);
        for (var one = 0; one < Conductors; one++)
        {
            var projection = Phasor.Zero;
            for (var l = 0; l < channels; l++) projection -= noise.Reach[(one * channels) + l] * cross[(one * channels) + l];
            _projection[one] = projection;
            for (var other = 0; other < Conductors; other++) _grams[(one * Conductors) + other] *= noise.Rows[(one * Conductors) + other];
        }

        _rest = 0;
        for (var index = 0; index < noise.Inverse.Length; index++)
        {
            var (left, right) = (noise.Inverse[index], table.VoltageProducts[index]);
            _rest += (left.Real * right.Real) - (left.Imaginary * right.Imaginary);
        }

        var strayCount = _table.Count - table.Count;
        return _currents.LogOf(_conductors) + LogReturns(strays, across)
            + (_table.Count * (_baseLogDeterminant - noise.LogDeterminant)) - (strayCount * StrayCost(noise));
    }

    /// <summary>Logarithm of the probability of just these returns, their share at this panel unknown: beta-binomial.</summary>
    private double LogReturns(ulong strays, ulong across)
    {
        if (_conductors.Unread < 0) return 0;
        var steps = _table.Count == 64 ? ulong.MaxValue : (1UL << _table.Count) - 1;
        var between = BitOperations.PopCount(steps & across & ~strays);
        var single = BitOperations.PopCount(steps & ~across & ~strays);
        double log = 0;
        for (var number = 0; number < between; number++) log += Math.Log(SourceModel.AcrossSteps + number);
        for (var number = 0; number < single; number++) log += Math.Log(SourceModel.NeutralSteps + number);
        for (var number = 0; number < between + single; number++) log -= Math.Log(SourceModel.AcrossSteps + SourceModel.NeutralSteps + number);
        return log;
    }

    /// <summary>Adds the sums of some steps, whose current comes back through one conductor.</summary>
    private void AddSums(StepSums table, int rest, Span<Phasor> cross)
    {
        if (table.Count == 0) return;
        var (channels, clamps) = (_table.Voltages.Length, _table.Clamps.Length);
        var (first, scale) = (_conductors.First, _conductors.Scale);
        Span<Phasor> grams = stackalloc Phasor[Conductors * Conductors];
        Span<Phasor> own = stackalloc Phasor[Conductors * channels];
        grams.Clear();
        own.Clear();
        for (var one = 0; one < Conductors; one++)
        {
            if (first[one] < 0) continue;
            for (var other = 0; other <= one; other++)
            {
                if (first[other] < 0) continue;
                var product = scale[one] * scale[other] * table.CurrentProducts[(first[one] * clamps) + first[other]];
                grams[(one * Conductors) + other] = product;
                grams[(other * Conductors) + one] = product.Conjugate;
            }

            for (var channel = 0; channel < channels; channel++)
                own[(one * channels) + channel] = scale[one] * table.CrossProducts[(first[one] * channels) + channel];
        }

        if (rest >= 0) AddRest(rest, grams, own, channels);
        for (var index = 0; index < grams.Length; index++) _grams[index] += grams[index];
        for (var index = 0; index < own.Length; index++) cross[index] += own[index];
    }

    /// <summary>The conductor that takes what is left: minus the sum of the others.</summary>
    private static void AddRest(int rest, Span<Phasor> grams, Span<Phasor> cross, int channels)
    {
        for (var other = 0; other < Conductors; other++)
        {
            if (other == rest) continue;
            var sum = Phasor.Zero;
            for (var one = 0; one < Conductors; one++)
            {
                if (one != rest) sum -= grams[(one * Conductors) + other];
            }

            grams[(rest * Conductors) + other] = sum;
            grams[(other * Conductors) + rest] = sum.Conjugate;
        }

        var own = Phasor.Zero;
        for (var other = 0; other < Conductors; other++)
        {
            if (other != rest) own -= grams[(rest * Conductors) + other];
        }

        grams[rest * (Conductors + 1)] = new Phasor(own.Real, 0);
        for (var channel = 0; channel < channels; channel++)
        {
            var sum = Phasor.Zero;
            for (var one = 0; one < Conductors; one++)
            {
                if (one != rest) sum -= cross[(one * channels) + channel];
            }

            cross[(rest * channels) + channel] = sum;
        }
    }

    private double Integrate()
    {
        // The common impedance that fits best under a usual angle sets where to look.
        double denominator = 0;
        var numerator = Phasor.Zero;
        for (var one = 0; one < Conductors; one++)
        {
            numerator += Factor(one) * _projection[one];
            for (var other = 0; other < Conductors; other++)
                denominator += Factor(one) * Factor(other) * _grams[(one * Conductors) + other].Real;
        }

        var limit = SourceModel.LargestDrop / Math.Max(_table.LargestAmperes, 1e-9);
        var fitted = (numerator * Phasor.FromDegrees(1, -40)).Real / Math.Max(denominator, 1e-30);
        var centre = Math.Clamp(fitted, 0.03 * _rawImpedance, limit);
        double total = 0;
        var top = double.NegativeInfinity;
        foreach (var size in SourceModel.Sizes)
        {
            foreach (var angle in SourceModel.AngleDegrees)
            {
                foreach (var (share, line, neutral) in SourceModel.Regimes)
                {
                    var log = Math.Log(share) + Fit(Math.Min(size * centre, limit), angle, line, neutral);
                    if (log > top) (total, top) = ((total * Math.Exp(top - log)) + 1, log);
                    else total += Math.Exp(log - top);
                }
            }
        }

        return top + Math.Log(total / (SourceModel.Sizes.Length * SourceModel.AngleDegrees.Length));
    }

    /// <summary>Log of the likelihood with the impedances integrated round one size and angle.</summary>
    private double Fit(double size, double angleDegrees, double lineSpread, double neutralSpread)
    {
        Span<Phasor> prior = stackalloc Phasor[Conductors * Conductors];
        Span<Phasor> matrix = stackalloc Phasor[Conductors * Conductors];
        Span<Phasor> mean = stackalloc Phasor[Conductors];
        Span<Phasor> vector = stackalloc Phasor[Conductors];
        var common = SourceModel.CommonSpread * size;
        for (var one = 0; one < Conductors; one++)
        {
            mean[one] = Phasor.FromDegrees(Factor(one) * size, angleDegrees);
            var own = (one == Place.N ? neutralSpread * SourceModel.NeutralFactor : lineSpread) * size;
            for (var other = 0; other < Conductors; other++)
            {
                var value = Factor(one) * Factor(other) * common * common;
                prior[(one * Conductors) + other] = new Phasor(one == other ? value + (own * own) : value, 0);
            }
        }

        // Woodbury: the data's precision G and the prior's covariance P meet in I + L'GL with P = LL'.
        HermitianMatrix.Factor(prior, Conductors);
        var quadratic = _rest;
        for (var one = 0; one < Conductors; one++)
        {
            var residual = _projection[one];
            for (var other = 0; other < Conductors; other++) residual -= _grams[(one * Conductors) + other] * mean[other];
            quadratic -= (mean[one].Conjugate * (residual + _projection[one])).Real;
            vector[one] = residual;
        }

        Span<Phasor> lowered = stackalloc Phasor[Conductors];
        for (var column = 0; column < Conductors; column++)
        {
            var sum = Phasor.Zero;
            for (var row = column; row < Conductors; row++) sum += prior[(row * Conductors) + column].Real * vector[row];
            lowered[column] = sum;
        }

        for (var one = 0; one < Conductors; one++)
        {
            for (var other = 0; other <= one; other++)
            {
                var sum = Phasor.Zero;
                for (var row = one; row < Conductors; row++)
                {
                    var left = prior[(row * Conductors) + one].Real;
                    if (left == 0) continue;
                    for (var column = other; column < Conductors; column++)
                        sum += left * prior[(column * Conductors) + other].Real * _grams[(row * Conductors) + column];
                }

                matrix[(one * Conductors) + other] = one == other ? new Phasor(1 + sum.Real, 0) : sum;
                matrix[(other * Conductors) + one] = matrix[(one * Conductors) + other].Conjugate;
            }
        }

        var logDeterminant = HermitianMatrix.Factor(matrix, Conductors);
        if (double.IsNaN(logDeterminant)) return double.NegativeInfinity;
        return HermitianMatrix.Form(matrix, Conductors, lowered) - quadratic - logDeterminant;
    }

    private static double Factor(int conductor) => conductor == Place.N ? SourceModel.NeutralFactor : 1;

    private VoltageNoise NoiseOf(int unknown, bool knowsNeutral, double spread, int unrest)
    {
        var key = (unknown, knowsNeutral, spread, unrest);
        if (_noise.TryGetValue(key, out var noise)) return noise;
        return _noise[key] = VoltageNoise.Of(
            _table, _rows, unknown, knowsNeutral || _service.IsThreeWire,
            SourceModel.Unrest[unrest].OwnFactor, SourceModel.Unrest[unrest].CommonFloor, OpenWandering, spread * _rawImpedance);
    }
}
