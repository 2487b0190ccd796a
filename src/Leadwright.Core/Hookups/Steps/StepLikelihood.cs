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

    /// <summary>Leaving out the worst steps one by one is not quite the best choice of strays.</summary>
    private const double QuickMargin = 3;

    private const int MostRounds = 4;

    private static readonly (double Spread, int Lines, double Share)[] s_known = [(0, 0, 1)];
    private static readonly VoltageNoise[] s_none = [];
    private static readonly double s_strayVoltage = Math.Log(SourceModel.StrayVoltage);
    private static readonly double s_strayShare = Math.Log(SourceModel.StrayShare);
    private static readonly double s_acrossCost = Math.Log(SourceModel.NeutralSteps / SourceModel.AcrossSteps);

    private readonly StepTable _table;
    private readonly StepCurrents _currents;
    private readonly Service _service;
    private readonly LeadRows _rows;
    private readonly int[] _positions;
    private readonly ConductorCurrents _conductors = new();
    private readonly Dictionary<long, double> _full = [];
    private readonly Dictionary<long, double> _quick = [];
    private readonly Dictionary<(int, bool, double, int, int), VoltageNoise> _noise = [];
    private readonly Dictionary<int, (double Spread, int Lines, double Share)[]> _changes = [];
    private readonly UnclaimedSteps _unclaimed;
    private readonly double _openWandering;
    private readonly double _openLog;
    private readonly double _rawImpedance;
    private readonly double _baseLogDeterminant;
    private readonly ulong _all;
    private readonly Phasor[] _grams = new Phasor[Conductors * Conductors];
    private readonly Phasor[] _projection = new Phasor[Conductors];
    private double _rest;
    private double _log;
    private double _largestImpedance;

    // Steps that follow no rule, and those whose current comes back through the unread line, as bits.
    private ulong _strays;
    private ulong _across;

    // How much a line that no clamp tells of may change, the noise that this makes, and the steps that are taken so, as bits.
    private (double Spread, int Lines, double Share)[] _spreads = s_known;
    private VoltageNoise[] _noises = s_none;
    private ulong[] _members = [];
    private readonly HashSet<(ulong Strays, ulong Across, string Members)> _answers = [];

    /// <summary>Takes up an arrangement of the leads.</summary>
    public StepLikelihood(StepTable table, StepCurrents currents, Service service, LeadMap leads, Clamp[] clamps)
    {
        (_table, _currents, _service) = (table, currents, service);
        _rows = LeadRows.Of(leads, service, table.Voltages);
        _positions = [.. table.Clamps.Select(clamp => Array.IndexOf(clamps, clamp))];
        _all = table.Count == 64 ? ulong.MaxValue : (1UL << table.Count) - 1;
        double volts = 0;
        var all = table.Without(0);
        for (var index = 0; index < table.Voltages.Length; index++)
            volts = Math.Max(volts, all.VoltageProducts[index * (table.Voltages.Length + 1)].Real);
        _rawImpedance = Math.Sqrt(volts / table.Count) / Math.Max(table.TypicalAmperes, 1e-9);
        (_rows, _openWandering) = OpenChannels.Of(table, _rows, leads);
        _openLog = _rows.IsOpen.Contains(true) ? OpenChannels.LogChoice : 0;
        _unclaimed = new UnclaimedSteps(table, _rows, service, NoiseOf(0, true, 0, 0, 0));
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
        _largestImpedance = SourceModel.LargestDrop / Math.Max(ConductorCurrents.Largest(map, _positions, _table.LargestAmperes), 1e-9);
        var best = double.NegativeInfinity;
        for (var unrest = 0; unrest < SourceModel.Unrest.Length; unrest++)
        {
            if (unrest is not 0 && unrest != SourceModel.Unrest.Length - 1) continue;
            // The best fit without limits on the impedances is better than any within them.
            for (var start = 0; start < Starts; start++)
            {
                Explain(unrest, start);
                best = Math.Max(best, _log - Math.Max(0, _rest - BestFit(default)));
            }
        }

        return _quick[key] = best + QuickMargin + _openLog + _unclaimed.LogOf(_conductors.Unknown);
    }

    /// <summary>Logarithm of the likelihood.</summary>
    public double Of(ClampMap map)
    {
        _conductors.Read(map, _positions, _service);
        if (_table.Count == 0) return _unclaimed.LogOf(_conductors.Unknown);
        var key = ConductorCurrents.Key(map, _positions);
        if (_full.TryGetValue(key, out var known)) return known;
        _largestImpedance = SourceModel.LargestDrop / Math.Max(ConductorCurrents.Largest(map, _positions, _table.LargestAmperes), 1e-9);
        double total = 0;
        var top = double.NegativeInfinity;
        for (var unrest = 0; unrest < SourceModel.Unrest.Length; unrest++)
        {
            var log = double.NegativeInfinity;
            for (var start = 0; start < Starts; start++)
            {
                Explain(unrest, start);
                if (IsNew(start)) log = Math.Max(log, _log + Integrate());
            }

            log += Math.Log(SourceModel.Unrest[unrest].Share);
            if (log > top) (total, top) = ((total * Math.Exp(top - log)) + 1, log);
            else total += Math.Exp(log - top);
        }

        return _full[key] = double.IsNegativeInfinity(top) ? top : top + Math.Log(total) + _openLog + _unclaimed.LogOf(_conductors.Unknown);
    }

    /// <summary>Prepares the sums, with what is the likeliest at each step: how much an unread line changes, where the current returns if that is
    /// not known, and whether the step follows no rule at all.</summary>
    /// <param name="unrest">Which unrest.</param>
    /// <param name="start">The search stops at the nearest good answer, so it starts from several ends: unread lines that may change much (which
    /// takes their own pattern out of the voltages, so that what is left shows the impedances), such lines that stand still, and the
    /// same with currents that all return through the unread line.</param>
    private void Explain(int unrest, int start)
    {
        _spreads = ChangesOf(_conductors.Unknown);
        if (_noises.Length != _spreads.Length) (_noises, _members) = (new VoltageNoise[_spreads.Length], new ulong[_spreads.Length]);
        for (var size = 0; size < _spreads.Length; size++) _noises[size] = NoiseOf(_conductors.Unknown, _conductors.KnowsNeutral, _spreads[size].Spread, _spreads[size].Lines, unrest);
        Array.Clear(_members);
        _members[start == 0 ? Math.Min(_spreads.Length, SourceModel.UnreadChanges.Length) - 1 : 0] = _all;
        _across = start == 2 ? _all : 0;
        _strays = 0;
        Span<Phasor> impedances = stackalloc Phasor[Conductors];
        for (var round = 0; round < MostRounds && _conductors.Unknown != 0; round++)
        {
            Sum(0);
            BestFit(impedances);
            if (!ChooseReturns(impedances) & !ChooseSizes(impedances)) break;
        }

        LeaveOutStrays(impedances);
    }

    /// <summary>What unread lines may do at a step: all the same, or, where there are several, one of them alone.</summary>
    private (double Spread, int Lines, double Share)[] ChangesOf(int unknown)
    {
        if (unknown == 0) return s_known;
        if (_changes.TryGetValue(unknown, out var known)) return known;
        // Without a neutral no line can move alone.
        var count = _service.IsThreeWire ? 1 : BitOperations.PopCount((uint)unknown);
        var changes = new List<(double, int, double)>();
        foreach (var (spread, share) in SourceModel.UnreadChanges)
            changes.Add((spread, unknown, count > 1 && spread > SourceModel.UnreadAlone ? share * SourceModel.UnreadTogether : share));
        for (var line = 0; line < Place.N && count > 1; line++)
        {
            if ((unknown & (1 << line)) == 0) continue;
            foreach (var (spread, share) in SourceModel.UnreadChanges)
            {
                if (spread > SourceModel.UnreadAlone) changes.Add((spread, 1 << line, share * (1 - SourceModel.UnreadTogether) / count));
            }
        }

        return _changes[unknown] = [.. changes];
    }

    private int Starts => _conductors.Unknown == 0 ? 1 : _conductors.Unread < 0 ? 2 : 3;

    /// <summary>True when no earlier start came to the same answer.</summary>
    private bool IsNew(int start)
    {
        if (start == 0) _answers.Clear();
        return _answers.Add((_strays, _across, string.Join(',', _members)));
    }

    /// <summary>Leaves out the steps that fit so badly that they are better taken as strays: the worst first, one by one.</summary>
    private void LeaveOutStrays(Span<Phasor> impedances)
    {
        for (var round = 0; round <= _table.Count / 3; round++)
        {
            _log = Sum(_strays);
            BestFit(impedances);
            if (_conductors.Unknown != 0 && (ChooseReturns(impedances) | ChooseSizes(impedances))) _log = Sum(_strays);
            var (worst, at) = (0.0, -1);
            for (var step = 0; step < _table.Count; step++)
            {
                if ((_strays & (1UL << step)) != 0) continue;
                var size = SizeOf(step);
                var beyond = Residual(step, impedances, _noises[size], RestOf(step)) - StrayCost(_noises[size]) - Math.Log(_spreads[size].Share);
                if (beyond > worst) (worst, at) = (beyond, step);
            }

            if (at < 0) return;
            _strays |= 1UL << at;
        }

        _log = Sum(_strays);
    }

    private int SizeOf(int step)
    {
        for (var size = 0; size < _members.Length; size++)
        {
            if ((_members[size] & (1UL << step)) != 0) return size;
        }

        return 0;
    }

    /// <summary>Takes each step with the change of an unread line that explains it best.</summary>
    /// <returns>True when a choice changed.</returns>
    private bool ChooseSizes(ReadOnlySpan<Phasor> impedances)
    {
        if (_spreads.Length == 1) return false;
        var changed = false;
        for (var step = 0; step < _table.Count; step++)
        {
            var (least, chosen, was) = (double.PositiveInfinity, 0, SizeOf(step));
            for (var size = 0; size < _spreads.Length; size++)
            {
                var cost = Residual(step, impedances, _noises[size], RestOf(step)) + _noises[size].LogDeterminant - Math.Log(_spreads[size].Share);
                if (cost < least) (least, chosen) = (cost, size);
            }

            if (chosen == was) continue;
            _members[was] &= ~(1UL << step);
            _members[chosen] |= 1UL << step;
            changed = true;
        }

        return changed;
    }

    private int RestOf(int step) => (_across & (1UL << step)) != 0 && _conductors.Unread >= 0 ? _conductors.Unread : _conductors.Rest;

    /// <summary>A load is on one line or between two: what the clamps see comes back through the neutral or through the unread line.</summary>
    /// <returns>True when a choice changed.</returns>
    private bool ChooseReturns(ReadOnlySpan<Phasor> impedances)
    {
        if (_conductors.Unread < 0) return false;
        ulong across = 0;
        for (var step = 0; step < _table.Count; step++)
        {
            var noise = _noises[SizeOf(step)];
            var gain = Residual(step, impedances, noise, _conductors.Rest) - Residual(step, impedances, noise, _conductors.Unread);
            if (gain > s_acrossCost) across |= 1UL << step;
        }

        if (across == _across) return false;
        _across = across;
        return true;
    }

    /// <summary>What it costs to call a step a stray, against a step that fits.</summary>
    private double StrayCost(VoltageNoise noise) => (2 * _table.Voltages.Length * s_strayVoltage) - noise.LogDeterminant - s_strayShare;

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

    /// <summary>The impedances that fit best, held to what a panel may have, and how much of the voltages' changes they explain without those limits.</summary>
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

        SourceFit.HoldToLimits(impedances, _grams, _projection, 1e-12 + (1e-7 * largest), _largestImpedance);
        return explained;
    }

    /// <summary>Prepares the sums of one arrangement.</summary>
    /// <returns>What does not depend on the impedances: the currents' own part, and the noise's determinant.</returns>
    private double Sum(ulong strays)
    {
        var channels = _table.Voltages.Length;
        Span<Phasor> cross = stackalloc Phasor[Conductors * channels];
        Span<Phasor> grams = stackalloc Phasor[Conductors * Conductors];
        Array.Clear(_grams);
        Array.Clear(_projection);
        _rest = 0;
        var across = _conductors.Unread < 0 ? 0 : _across;
        var log = _currents.LogOf(_conductors) + LogReturns(strays, across) + LogSizes(strays);
        for (var size = 0; size < _members.Length; size++)
        {
            var members = _members[size] & ~strays;
            if (members == 0) continue;
            var noise = _noises[size];
            cross.Clear();
            grams.Clear();
            AddSums(members & ~across, _conductors.Rest, grams, cross);
            AddSums(members & across, _conductors.Unread, grams, cross);
            for (var one = 0; one < Conductors; one++)
            {
                var projection = Phasor.Zero;
                for (var l = 0; l < channels; l++) projection -= noise.Reach[(one * channels) + l] * cross[(one * channels) + l];
                _projection[one] += projection;
                for (var other = 0; other < Conductors; other++)
                    _grams[(one * Conductors) + other] += noise.Rows[(one * Conductors) + other] * grams[(one * Conductors) + other];
            }

            var table = _table.Without(_all & ~members);
            for (var index = 0; index < noise.Inverse.Length; index++)
            {
                var (left, right) = (noise.Inverse[index], table.VoltageProducts[index]);
                _rest += (left.Real * right.Real) - (left.Imaginary * right.Imaginary);
            }

            log += table.Count * (_baseLogDeterminant - noise.LogDeterminant);
        }

        return log + (BitOperations.PopCount(strays) * (_baseLogDeterminant + s_strayShare - (2 * channels * s_strayVoltage)));
    }

    /// <summary>Logarithm of the probability of just these returns, their share at this panel unknown: beta-binomial.</summary>
    private double LogReturns(ulong strays, ulong across)
    {
        if (_conductors.Unread < 0) return 0;
        var between = BitOperations.PopCount(_all & across & ~strays);
        var single = BitOperations.PopCount(_all & ~across & ~strays);
        double log = 0;
        for (var number = 0; number < between; number++) log += Math.Log(SourceModel.AcrossSteps + number);
        for (var number = 0; number < single; number++) log += Math.Log(SourceModel.NeutralSteps + number);
        for (var number = 0; number < between + single; number++) log -= Math.Log(SourceModel.AcrossSteps + SourceModel.NeutralSteps + number);
        return log;
    }

    /// <summary>Logarithm of the probability that an unread line changes by just these sizes, their shares at this panel unknown: a line whose loads
    /// stand still at one step often does at all (Dirichlet and multinomial).</summary>
    private double LogSizes(ulong strays)
    {
        if (_spreads.Length == 1) return 0;
        double log = 0;
        var all = 0;
        for (var size = 0; size < _spreads.Length; size++)
        {
            var count = BitOperations.PopCount(_members[size] & ~strays);
            for (var number = 0; number < count; number++) log += Math.Log((SourceModel.UnreadWeight * _spreads[size].Share) + number);
            all += count;
        }

        for (var number = 0; number < all; number++) log -= Math.Log(SourceModel.UnreadWeight + number);
        return log;
    }

    /// <summary>Adds the sums of some steps, whose current comes back through one conductor.</summary>
    private void AddSums(ulong steps, int rest, Span<Phasor> sums, Span<Phasor> cross)
    {
        if (steps == 0) return;
        var table = _table.Without(_all & ~steps);
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
        for (var index = 0; index < grams.Length; index++) sums[index] += grams[index];
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
        // The common impedance that fits best under a usual angle sets where to look, the neutral's own being left to the readings: it may be
        // nothing at all, and must not draw the lines' with it.
        double together = 0;
        Phasor all = Phasor.Zero, withNeutral = Phasor.Zero;
        for (var one = 0; one < Conductors; one++)
        {
            all += Factor(one) * _projection[one];
            withNeutral += Factor(one) * _grams[(one * Conductors) + Place.N];
            for (var other = 0; other < Conductors; other++)
                together += Factor(one) * Factor(other) * _grams[(one * Conductors) + other].Real;
        }

        var slack = SourceModel.NeutralSlack * _rawImpedance;
        var pull = withNeutral / (_grams[Place.N * (Conductors + 1)].Real + (1 / Math.Max(slack * slack, 1e-30)));
        var numerator = all - (pull * _projection[Place.N]);
        var limit = _largestImpedance;
        var fitted = (numerator * Phasor.FromDegrees(1, -40)).Real / Math.Max(together - (pull * withNeutral.Conjugate).Real, 1e-30);
        var least = Math.Min(SourceModel.LeastSize * _rawImpedance, limit);
        var (_, looseLine, looseNeutral) = SourceModel.Regimes[^1];
        var centre = SourceModel.Climb(
            Math.Clamp(fitted, least, limit), least, limit, size => Fit(size, SourceModel.MiddleAngleDegrees, looseLine, looseNeutral));
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

        return double.IsNegativeInfinity(top) ? top : top + Math.Log(total / (SourceModel.Sizes.Length * SourceModel.AngleDegrees.Length));
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
        var log = HermitianMatrix.Form(matrix, Conductors, lowered) - quadratic - logDeterminant;
        // The other half of the solution gives the impedances' mean.
        for (var row = Conductors - 1; row >= 0; row--)
        {
            var value = lowered[row];
            for (var inner = row + 1; inner < Conductors; inner++) value -= matrix[(inner * Conductors) + row].Conjugate * lowered[inner];
            lowered[row] = value / matrix[(row * Conductors) + row].Real;
        }

        for (var conductor = 0; conductor < Conductors; conductor++)
        {
            var resistance = mean[conductor].Real;
            for (var column = 0; column <= conductor; column++) resistance += (prior[(conductor * Conductors) + column] * lowered[column]).Real;
            log += SourceModel.LogPassive(resistance, size);
        }

        return log;
    }

    private static double Factor(int conductor) => conductor == Place.N ? SourceModel.NeutralFactor : 1;

    private VoltageNoise NoiseOf(int unknown, bool knowsNeutral, double spread, int moving, int unrest)
    {
        var key = (unknown, knowsNeutral, spread, moving, unrest);
        if (_noise.TryGetValue(key, out var noise)) return noise;
        return _noise[key] = VoltageNoise.Of(
            _table, _rows, unknown, moving, knowsNeutral || _service.IsThreeWire,
            SourceModel.Unrest[unrest].OwnFactor, SourceModel.Unrest[unrest].CommonFloor, _openWandering, spread * _rawImpedance, SourceModel.UnreadChanges[0].Spread * _rawImpedance);
    }
}
