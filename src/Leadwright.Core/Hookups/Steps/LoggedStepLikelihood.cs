using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>How well the changes of a log fit arrangements of the clamps, given where the leads are.</summary>
/// <remarks>
/// The physics of <see cref="StepLikelihood"/>, dE = −Z·dJ, seen through a log: of each voltage only the change along itself is known, and each
/// current is known against the voltage that the recorder holds its clamp against. Under an arrangement both directions are known, so that
/// the changes stay linear in the resistances and reactances, which are integrated over under the same beliefs
/// (<see cref="SourceModel"/>). Natural logarithms, about zero for a fit within the noise. Derivation:
/// docs/methods/switching-steps.md. Not thread-safe.
/// </remarks>
internal sealed class LoggedStepLikelihood
{
    private const int Conductors = LeadRows.Conductors;
    private const int Parameters = 2 * Conductors;

    /// <summary>A channel with a lead in the air follows nothing surely: it drifts, or it hangs between the others and moves no more than they do. Standard deviations as shares of
    /// the reference, and how often (our choice; common practice, no source).</summary>
    private static readonly (double Wandering, double Share)[] s_open = [(0.0003, 0.5), (0.003, 0.5)];

    private static readonly (double Wandering, double Share)[] s_closed = [(0, 1)];

    /// <summary>Lag supposed of a current whose size alone is known.</summary>
    private const double UsualLag = 25 * Math.PI / 180;

    /// <summary>How far the drop of a load lags behind its line's voltage, about: a lagging current through a supply that is neither all resistance nor all reactance.</summary>
    private const double UnclaimedTurn = -20 * Math.PI / 180;

    /// <summary>The bound leaves out the middle of what unread lines may do.</summary>
    private const double QuickMargin = 1;

    private static readonly (double Spread, double Share)[] s_known = [(0, 1)];

    // Where no direction is known, every line's part may be off by a third.
    private static readonly (double Spread, double Share)[] s_sizesOnly = [(0.3, 1)];
    private static readonly int[] s_always = [1];
    private static readonly int[] s_eitherSide = [1, -1];

    private readonly LoggedTable _table;
    private readonly Service _service;
    private readonly LeadRows _rows;
    private readonly int[] _positions;
    private readonly double[] _channelAngles;
    private readonly double[] _clampAngles;
    private readonly double[] _conductorAngles;
    private readonly bool _isReversedSign;
    private readonly bool _isSizesOnly;
    private readonly ConductorCurrents _conductors = new();
    private readonly UnclaimedSteps _unclaimed;
    private readonly LoggedCurrents _currents;
    private readonly ((double OwnFactor, double CommonFactor, double CommonFloor, double Share) Supply, (double Wandering, double Share) Open)[] _unrests;
    private readonly Dictionary<long, double> _full = [];
    private readonly Dictionary<long, double> _quick = [];
    private readonly double _rawImpedance;
    private readonly double _modelError;
    private readonly double _baseLogDeterminant;
    private readonly double[] _features;
    private readonly double[] _turned;
    private readonly double[] _products;
    private readonly double[] _crosses;
    private readonly bool[] _isEmpty;
    private readonly double[] _grams = new double[Parameters * Parameters];
    private readonly double[] _projection = new double[Parameters];
    private (double Spread, double Share)[] _spreads = s_known;
    private double _rest;
    private double _largestAmperes;

    /// <summary>Takes up an arrangement of the leads.</summary>
    /// <param name="table">The changes.</param>
    /// <param name="currents">The clamps' changes against each other.</param>
    /// <param name="service">The service.</param>
    /// <param name="leads">Where the leads are.</param>
    /// <param name="fit">How the voltages fit it.</param>
    /// <param name="clamps">The clamps of the recorder.</param>
    /// <param name="loadNegative">True when power to the load is shown negative.</param>
    public LoggedStepLikelihood(LoggedTable table, LoggedCurrents currents, Service service, LeadMap leads, VoltageFit fit, Clamp[] clamps, bool loadNegative)
    {
        (_table, _currents, _service, _isReversedSign) = (table, currents, service, loadNegative);
        _rows = LeadRows.Of(leads, service, table.Voltages);
        _unrests = [.. from supply in SourceModel.LoggedUnrest from open in _rows.IsOpen.Contains(true) ? s_open : s_closed select (supply, open)];
        _positions = [.. table.Changes.Clamps.Select(clamp => Array.IndexOf(clamps, clamp))];
        var potentials = LeadPotentials.Of(leads, service, LeadPotentials.Conductors(service, leads));
        _channelAngles = Array.ConvertAll(table.Voltages, channel => AngleOf(potentials, channel, service));
        var frame = fit.Frame.AngleRadians;
        _clampAngles = [.. _positions.Select(position => fit.ClampVoltageAngles[position] - frame)];
        _conductorAngles = [.. LeadPotentials.LineAngles(service, leads, LeadPotentials.Conductors(service, leads))];
        var volts = Enumerable.Range(0, table.Voltages.Length).Max(channel => Moment(table.FirstVoltage + channel, table.FirstVoltage + channel));
        _rawImpedance = Math.Sqrt(volts / table.Count) / Math.Max(table.TypicalAmperes, 1e-9);
        var drop = Math.Min(_rawImpedance * table.Changes.LargestAmperes.Max(), SourceModel.LargestDrop);
        _modelError = Math.Sqrt((SourceModel.ModelError * SourceModel.ModelError) + (SourceModel.LoggedTurning * SourceModel.LoggedTurning * drop * drop));
        _isSizesOnly = table.Changes.Known.All(known => known == LoggedCurrent.Size);
        var rows = table.Voltages.Length * Parameters;
        _features = new double[rows * table.FirstVoltage];
        _turned = new double[rows * table.FirstVoltage];
        _products = new double[rows * rows];
        _crosses = new double[rows * table.Voltages.Length];
        _isEmpty = new bool[rows];
        // Of the leads as they should be: the same for every arrangement, so that logarithms compare.
        var inverse = new double[table.Voltages.Length * table.Voltages.Length];
        _baseLogDeterminant = Covariance(0, SourceModel.LoggedUnrest[0], 0, inverse, 0);
        _unclaimed = new UnclaimedSteps(
            table.Unclaimed, table.Changes.ClaimedCount, service, [.. inverse.Select(value => new Phasor(value, 0))],
            (channel, line) => new Phasor(UnclaimedSteps.Reach(_rows, service, channel, line) * Math.Cos(_conductorAngles[line] - _channelAngles[channel] - UnclaimedTurn), 0));
        // Every change explained whole, under the least unrest: unread lines only add to it.
        Ceiling = UnclaimedSteps.Most + currents.Most + QuickMargin + SourceModel.LoggedUnrest.Max(unrest =>
            0.5 * table.Count * (table.Voltages.Length + _baseLogDeterminant - Covariance(0, unrest, 0, inverse, s_open[0].Wandering)));
    }

    /// <summary>What no arrangement of the clamps can exceed, with these leads.</summary>
    public double Ceiling { get; }

    /// <summary>About the largest logarithm that an arrangement can have; cheap.</summary>
    public double Bound(ClampMap map)
    {
        var key = ConductorCurrents.Key(map, _positions);
        return _quick.TryGetValue(key, out var known) ? known : _quick[key] = Over(map, true) + QuickMargin;
    }

    /// <summary>Logarithm of the likelihood.</summary>
    public double Of(ClampMap map)
    {
        var key = ConductorCurrents.Key(map, _positions);
        return _full.TryGetValue(key, out var known) ? known : _full[key] = Over(map, false);
    }

    private double Over(ClampMap map, bool isBound)
    {
        _conductors.Read(map, _positions, _service);
        _largestAmperes = ConductorCurrents.Largest(map, _positions, _table.Changes.LargestAmperes.AsSpan());
        var others = _unclaimed.LogOf(_conductors.Unknown) + _currents.LogOf(map, _positions);
        if (!_isSizesOnly) LoseUndirected();
        var unknown = _conductors.Unknown;
        _spreads = unknown == 0 ? s_known : SourceModel.UnreadMeans;
        if (_isSizesOnly) (unknown, _spreads) = (unknown | ((1 << Place.N) - 1), s_sizesOnly);
        var (total, top) = (0.0, double.NegativeInfinity);
        Span<int> sides = stackalloc int[_positions.Length];
        var combinations = 0;
        foreach (var first in SidesOf(0))
        {
            foreach (var second in SidesOf(1))
            {
                foreach (var third in SidesOf(2))
                {
                    for (var clamp = 0; clamp < sides.Length; clamp++) sides[clamp] = clamp switch { 0 => first, 1 => second, _ => third };
                    Weigh(map, sides);
                    Multiply();
                    combinations++;
                    Add(isBound ? BoundOf(unknown) : Integrated(unknown), ref total, ref top);
                }
            }
        }

        return top + Math.Log(total / combinations) + others;
    }

    /// <summary>Takes out the clamps whose direction is not known: their lines are as good as unread.</summary>
    private void LoseUndirected()
    {
        for (var conductor = 0; conductor < Conductors; conductor++)
        {
            var clamp = _conductors.First[conductor];
            if (clamp >= 0 && (_table.Changes.Known[clamp] == LoggedCurrent.Size || double.IsNaN(_clampAngles[clamp]))) _conductors.Lose(conductor);
        }
    }

    /// <summary>The best fit, with no limits on the impedances.</summary>
    private double BoundOf(int unknown)
    {
        var best = double.NegativeInfinity;
        Span<double> inverse = stackalloc double[_table.Voltages.Length * _table.Voltages.Length];
        Span<double> matrix = stackalloc double[Parameters * Parameters];
        Span<double> vector = stackalloc double[Parameters];
        for (var spread = 0; spread < _spreads.Length; spread += Math.Max(_spreads.Length - 1, 1))
        {
            foreach (var (supply, (openWandering, _)) in _unrests)
            {
                var determinant = Covariance(unknown, supply, _spreads[spread].Spread, inverse, openWandering);
                Sum(inverse);
                double largest = 0;
                for (var one = 0; one < Parameters; one++) largest = Math.Max(largest, _grams[one * (Parameters + 1)]);
                _grams.CopyTo(matrix);
                _projection.CopyTo(vector);
                for (var one = 0; one < Parameters; one++) matrix[one * (Parameters + 1)] += 1e-12 + (1e-7 * largest);
                var explained = double.IsNaN(SymmetricMatrix.Factor(matrix, Parameters)) ? _rest : SymmetricMatrix.Form(matrix, Parameters, vector);
                best = Math.Max(
                    best, 0.5 * ((_table.Count * (_table.Voltages.Length + _baseLogDeterminant - determinant)) - Math.Max(0, _rest - explained)));
            }
        }

        return best;
    }

    private int[] SidesOf(int clamp) =>
        clamp < _positions.Length && _table.Changes.Known[clamp] == LoggedCurrent.EitherSide && _conductors.First.Contains(clamp) ? s_eitherSide : s_always;

    /// <summary>Over the noise and over what unread lines do.</summary>
    private double Integrated(int unknown)
    {
        var (total, top) = (0.0, double.NegativeInfinity);
        Span<double> inverse = stackalloc double[_table.Voltages.Length * _table.Voltages.Length];
        foreach (var (spread, share) in _spreads)
        {
            foreach (var (supply, (openWandering, openOften)) in _unrests)
            {
                var determinant = Covariance(unknown, supply, spread, inverse, openWandering);
                Sum(inverse);
                Add(
                    Math.Log(share * supply.Share * openOften) + (0.5 * _table.Count * (_table.Voltages.Length + _baseLogDeterminant - determinant)) + OverImpedances(),
                    ref total, ref top);
            }
        }

        return top + Math.Log(total);
    }

    private static void Add(double log, ref double total, ref double top)
    {
        if (log > top) (total, top) = ((total * Math.Exp(top - log)) + 1, log);
        else total += Math.Exp(log - top);
    }

    /// <summary>What each resistance and reactance adds to each voltage, as weights of the clamps' features.</summary>
    private void Weigh(ClampMap map, ReadOnlySpan<int> sides)
    {
        Array.Clear(_features);
        for (var channel = 0; channel < _table.Voltages.Length; channel++)
        {
            for (var conductor = 0; conductor < Conductors; conductor++)
            {
                if (_rows.Rows[(channel * Conductors) + conductor] == 0) continue;
                if (_conductors.First[conductor] >= 0) Weigh(map, sides, channel, conductor, conductor, 1);
                if (conductor != _conductors.Rest) continue;
                for (var other = 0; other < Conductors; other++)
                {
                    if (other != conductor && _conductors.First[other] >= 0) Weigh(map, sides, channel, conductor, other, -1);
                }
            }
        }
    }

    /// <summary>Adds the current of one conductor, read by its clamp, to what flows through another's impedance.</summary>
    private void Weigh(ClampMap map, ReadOnlySpan<int> sides, int channel, int through, int conductor, double sign)
    {
        var clamp = _conductors.First[conductor];
        var scale = _conductors.Scale[conductor] * sign * (_isReversedSign ? -1 : 1);
        var turn = _clampAngles[clamp] - _channelAngles[channel];
        if (_table.Changes.Known[clamp] == LoggedCurrent.Size)
        {
            if (map.Reversed[_positions[clamp]]) scale = -scale;
            if (_isReversedSign) scale = -scale;
            turn = (conductor < Place.N ? _conductorAngles[conductor] : 0) - UsualLag - _channelAngles[channel];
        }

        var (sine, cosine) = Math.SinCos(turn);
        var weight = -_rows.Rows[(channel * Conductors) + through] * scale;
        var side = sides[clamp];
        // The drop along the voltage is Re((R + jX)·(a − j·b)·e^(j·turn)) of the part in phase a and the lagging part b.
        var resistance = Row(channel, through);
        resistance[2 * clamp] += weight * cosine;
        resistance[(2 * clamp) + 1] += weight * side * sine;
        var reactance = Row(channel, through + Conductors);
        reactance[2 * clamp] -= weight * sine;
        reactance[(2 * clamp) + 1] += weight * side * cosine;
    }

    private Span<double> Row(int channel, int parameter) => Row((channel * Parameters) + parameter);

    private Span<double> Row(int row) => _features.AsSpan(row * _table.FirstVoltage, _table.FirstVoltage);

    private double Moment(int one, int other) => _table.Moments[(one * _table.Features) + other];

    /// <summary>Products of what the parameters add to the voltages, summed over the changes; the covariance comes later.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Multiply()
    {
        var (channels, features, first) = (_table.Voltages.Length, _table.Features, _table.FirstVoltage);
        var rows = channels * Parameters;
        for (var row = 0; row < rows; row++)
        {
            for (var f = 0; f < first; f++) _turned[(f * rows) + row] = _features[(row * first) + f];
        }

        ref var turned = ref MemoryMarshal.GetArrayDataReference(_turned);
        ref var products = ref MemoryMarshal.GetArrayDataReference(_products);
        Span<double> product = stackalloc double[features];
        for (var one = 0; one < rows; one++)
        {
            var left = Row(one);
            product.Clear();
            var isEmpty = true;
            for (var f = 0; f < first; f++)
            {
                if (left[f] == 0) continue;
                isEmpty = false;
                var moments = _table.Moments.AsSpan(f * features, features);
                for (var g = 0; g < product.Length; g++) product[g] += left[f] * moments[g];
            }

            _isEmpty[one] = isEmpty;
            if (isEmpty) continue;
            for (var channel = 0; channel < channels; channel++) _crosses[(one * channels) + channel] = product[first + channel];
            // Whole rows of vectors: rows is a multiple of eight.
            for (var other = 0; other < rows; other += 4)
            {
                var sum = Vector256<double>.Zero;
                for (var g = 0; g < first; g++) sum += Vector256.Create(product[g]) * Vector256.LoadUnsafe(ref turned, (nuint)((g * rows) + other));
                sum.StoreUnsafe(ref products, (nuint)((one * rows) + other));
            }
        }
    }

    /// <summary>The normal equations under one covariance.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Sum(ReadOnlySpan<double> inverse)
    {
        var (channels, first) = (_table.Voltages.Length, _table.FirstVoltage);
        var rows = channels * Parameters;
        _rest = 0;
        for (var k = 0; k < channels; k++)
        {
            for (var l = 0; l < channels; l++) _rest += inverse[(k * channels) + l] * Moment(first + k, first + l);
        }

        ref var products = ref MemoryMarshal.GetArrayDataReference(_products);
        ref var grams = ref MemoryMarshal.GetArrayDataReference(_grams);
        for (var one = 0; one < Parameters; one++)
        {
            var (left, right, projection) = (Vector256<double>.Zero, Vector256<double>.Zero, 0.0);
            for (var k = 0; k < channels; k++)
            {
                var row = (k * Parameters) + one;
                if (_isEmpty[row]) continue;
                for (var l = 0; l < channels; l++)
                {
                    var weight = inverse[(k * channels) + l];
                    projection += weight * _crosses[(row * channels) + l];
                    var at = (nuint)((row * rows) + (l * Parameters));
                    left += Vector256.Create(weight) * Vector256.LoadUnsafe(ref products, at);
                    right += Vector256.Create(weight) * Vector256.LoadUnsafe(ref products, at + 4);
                }
            }

            _projection[one] = projection;
            left.StoreUnsafe(ref grams, (nuint)(one * Parameters));
            right.StoreUnsafe(ref grams, (nuint)((one * Parameters) + 4));
        }
    }

    /// <summary>Covariance of a change's voltages besides the known currents; its inverse and the logarithm of its determinant.</summary>
    private double Covariance(
        int unknown, (double OwnFactor, double CommonFactor, double CommonFloor, double Share) supply, double spread, Span<double> inverse, double openWandering)
    {
        var (channels, changes) = (_table.Voltages.Length, _table.Changes);
        Span<double> matrix = stackalloc double[channels * channels];
        var own = supply.OwnFactor * changes.OwnWandering * changes.OwnWandering;
        var common = (supply.CommonFactor * changes.CommonWandering * changes.CommonWandering) + (supply.CommonFloor * supply.CommonFloor);
        var usual = _rawImpedance * _table.TypicalAmperes;
        var (drop, model) = (spread * usual, _modelError * usual);
        for (var k = 0; k < channels; k++)
        {
            for (var l = 0; l < channels; l++)
            {
                var value = common * _table.MeanVoltages[k] * _table.MeanVoltages[l];
                if (k == l) value += (own * _table.MeanVoltages[k] * _table.MeanVoltages[k]) + (0.5 * model * model) + (_rows.IsOpen[k] ? openWandering * openWandering : 0);
                for (var line = 0; line < Place.N; line++)
                {
                    if ((unknown & (1 << line)) != 0) value += 0.5 * drop * drop * Reach(k, line) * Reach(l, line);
                }

                matrix[(k * channels) + l] = value;
            }
        }

        var log = SymmetricMatrix.Factor(matrix, channels);
        SymmetricMatrix.Invert(matrix, channels, inverse);
        return log;

        double Reach(int channel, int line) =>
            _rows.Rows[(channel * Conductors) + line]
            - (_service.IsThreeWire ? 0 : SourceModel.NeutralFactor * _rows.Rows[(channel * Conductors) + Place.N]);
    }

    private double OverImpedances()
    {
        Span<double> direction = stackalloc double[Parameters];
        var (sine, cosine) = Math.SinCos(40 * Math.PI / 180);
        for (var conductor = 0; conductor < Conductors; conductor++)
            (direction[conductor], direction[conductor + Conductors]) = (Factor(conductor) * cosine, Factor(conductor) * sine);
        double all = 0, together = 0, withNeutral = 0;
        for (var one = 0; one < Parameters; one++)
        {
            all += direction[one] * _projection[one];
            withNeutral += direction[one] * OfNeutral(one);
            for (var other = 0; other < Parameters; other++) together += direction[one] * direction[other] * _grams[(one * Parameters) + other];
        }

        // The neutral's own is left to the readings: it may be nothing at all, and must not draw the lines' with it.
        const int Reactance = Place.N + Conductors;
        var slack = SourceModel.NeutralSlack * _rawImpedance;
        var own = (cosine * OfNeutral(Place.N)) + (sine * OfNeutral(Reactance));
        var pull = withNeutral / (own + (2 / Math.Max(slack * slack, 1e-30)));
        all -= pull * ((cosine * _projection[Place.N]) + (sine * _projection[Reactance]));
        together -= pull * withNeutral;
        var limit = SourceModel.LargestDrop / Math.Max(_largestAmperes, 1e-9);
        var least = Math.Min(SourceModel.LeastSize * _rawImpedance, limit);
        var centre = Math.Clamp(all / Math.Max(together, 1e-30), least, limit);
        var (_, looseLine, looseNeutral) = SourceModel.Regimes[^1];
        centre = SourceModel.Climb(centre, least, limit, size => Fit(size, SourceModel.MiddleAngleDegrees, looseLine, looseNeutral));
        var (total, top) = (0.0, double.NegativeInfinity);
        foreach (var size in SourceModel.Sizes)
        {
            foreach (var angle in SourceModel.AngleDegrees)
            {
                foreach (var (share, line, neutral) in SourceModel.Regimes)
                    Add(Math.Log(share) + Fit(Math.Min(size * centre, limit), angle, line, neutral), ref total, ref top);
            }
        }

        return top + Math.Log(total / (SourceModel.Sizes.Length * SourceModel.AngleDegrees.Length));

        double OfNeutral(int parameter) =>
            (cosine * _grams[(parameter * Parameters) + Place.N]) + (sine * _grams[(parameter * Parameters) + Reactance]);
    }

    /// <summary>Log of the likelihood with the impedances integrated round one size and angle.</summary>
    private double Fit(double size, double angleDegrees, double lineSpread, double neutralSpread)
    {
        Span<double> prior = stackalloc double[Conductors * Conductors];
        Span<double> mean = stackalloc double[Parameters];
        Span<double> vector = stackalloc double[Parameters];
        Span<double> lowered = stackalloc double[Parameters];
        Span<double> matrix = stackalloc double[Parameters * Parameters];
        var common = SourceModel.CommonSpread * size;
        var (sine, cosine) = Math.SinCos(angleDegrees * Math.PI / 180);
        for (var one = 0; one < Conductors; one++)
        {
            (mean[one], mean[one + Conductors]) = (Factor(one) * size * cosine, Factor(one) * size * sine);
            var own = (one == Place.N ? neutralSpread * SourceModel.NeutralFactor : lineSpread) * size;
            // Resistance and reactance share the spread of the complex impedance.
            for (var other = 0; other < Conductors; other++)
                prior[(one * Conductors) + other] = 0.5 * ((Factor(one) * Factor(other) * common * common) + (one == other ? own * own : 0));
        }

        SymmetricMatrix.Factor(prior, Conductors);
        var quadratic = _rest;
        for (var one = 0; one < Parameters; one++)
        {
            var residual = _projection[one];
            for (var other = 0; other < Parameters; other++) residual -= _grams[(one * Parameters) + other] * mean[other];
            quadratic -= mean[one] * (residual + _projection[one]);
            vector[one] = residual;
        }

        for (var one = 0; one < Parameters; one++)
        {
            var (part, column) = (one / Conductors * Conductors, one % Conductors);
            for (var row = column; row < Conductors; row++) lowered[one] += prior[(row * Conductors) + column] * vector[part + row];
            for (var other = 0; other <= one; other++)
            {
                var (otherPart, otherColumn) = (other / Conductors * Conductors, other % Conductors);
                double sum = one == other ? 1 : 0;
                for (var row = column; row < Conductors; row++)
                {
                    for (var inner = otherColumn; inner < Conductors; inner++)
                    {
                        sum += prior[(row * Conductors) + column] * prior[(inner * Conductors) + otherColumn]
                            * _grams[((part + row) * Parameters) + otherPart + inner];
                    }
                }

                matrix[(one * Parameters) + other] = sum;
            }
        }

        var logDeterminant = SymmetricMatrix.Factor(matrix, Parameters);
        if (double.IsNaN(logDeterminant)) return double.NegativeInfinity;
        var log = 0.5 * (SymmetricMatrix.Form(matrix, Parameters, lowered) - quadratic - logDeterminant);
        // The other half of the solution gives the impedances' mean.
        for (var row = Parameters - 1; row >= 0; row--)
        {
            var value = lowered[row];
            for (var inner = row + 1; inner < Parameters; inner++) value -= matrix[(inner * Parameters) + row] * lowered[inner];
            lowered[row] = value / matrix[(row * Parameters) + row];
        }

        for (var conductor = 0; conductor < Conductors; conductor++)
        {
            var resistance = mean[conductor];
            for (var column = 0; column <= conductor; column++) resistance += prior[(conductor * Conductors) + column] * lowered[column];
            log += SourceModel.LogPassive(resistance, size);
        }

        return log;
    }

    private static double Factor(int conductor) => conductor == Place.N ? SourceModel.NeutralFactor : 1;

    private static double AngleOf(LeadPotentials potentials, Channel channel, Service service)
    {
        var (plus, minus) = channel switch
        {
            Channel.V12 => (0, 1),
            Channel.V23 => (1, 2),
            Channel.V31 => (2, 0),
            _ => ((int)channel, service.IsThreeWire ? -1 : (int)Lead.VN),
        };
        return potentials.Between(plus, minus).Value.AngleRadians;
    }
}
