using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>Predicts the power that is missing in holes of one kind from what the rest of the recording teaches.</summary>
/// <remarks>
/// With a known current: P = V·I·(b0 + b1·factor of the others + b2·cos h + b3·sin h + b4·weekend), coefficients by least squares over P; where V is not known it is the others' times
/// its usual share of them, in the hole as in what is learnt from, and where no voltage is known P = I·(…) + b5·I², by which the voltage gives way. Without: P = b0 +
/// b1·profile + Σ by·(Py − profile of y) over the elements that are known. In both, what the slots at the two ends of a hole read beyond the prediction
/// dies away into it as the residuals' own correlation does.
/// </remarks>
internal sealed class HolePredictor
{
    private const int MostFitted = 20000;
    private const int LeastRows = 24;
    private const int MostHours = 20;
    private const double LeastThatTeaches = 0.01;
    private const double LeastOfAKind = 0.05;
    private readonly LineSeries _lines;
    private readonly RawSeries _raw;
    private readonly HoleKey _key;
    private readonly short[] _bins;
    private readonly double[] _hours;
    private readonly int[] _known;
    private readonly double[][] _others = new double[3][];
    private readonly double[] _otherFactor;
    private readonly double[] _residuals;
    private readonly double[][] _volts;
    private readonly bool _isWithoutVolts;
    private bool _teachesHours;
    private bool _teachesDays;

    public HolePredictor(LineSeries lines, RawSeries raw, HoleKey key)
    {
        (_lines, _raw, _key) = (lines, raw, key);
        var count = raw.Grid.Count;
        _bins = new short[count];
        _hours = new double[count];
        for (var slot = 0; slot < count; slot++)
        {
            _bins[slot] = (short)DayProfile.BinOf(raw.Grid.Clocks[slot]);
            _hours[slot] = new DateTime(raw.Grid.Clocks[slot]).TimeOfDay.TotalHours;
        }

        _known = [.. raw.Elements.Where(element => !key.IsMissing(element))];
        Missing = [.. raw.Elements.Where(key.IsMissing)];
        foreach (var other in _known)
        {
            var profile = DayProfile.Learn(KnownOf(other), _bins, []);
            _others[other] = new double[count];
            for (var slot = 0; slot < count; slot++) _others[other][slot] = lines.Watts[other][slot] - profile[_bins[slot]];
        }

        _volts = [.. lines.Volts];
        int[] measured = [.. Enumerable.Range(0, raw.Lines).Where(line => raw.Volts[line] is not null && key.AreVoltsKnown(line))];
        foreach (var element in Missing)
        {
            if (raw.IsTotal || key[element] != PowerState.NeedsFactor || key.AreVoltsKnown(element)) continue;
            _isWithoutVolts |= measured.Length == 0;
            _volts[element] = measured.Length == 0 ? Constant(count) : ByOthers(element, measured);
        }

        _otherFactor = new double[count];
        for (var slot = 0; slot < count; slot++) _otherFactor[slot] = OtherFactor(slot);
        _residuals = new double[count];
    }

    /// <summary>The elements to predict.</summary>
    public int[] Missing { get; }

    /// <summary>True when the power of an element is known in a slot.</summary>
    public bool IsKnown(int element, int slot) => _lines.States[element][slot] <= PowerState.Mended && double.IsFinite(_lines.Watts[element][slot]);

    /// <summary>True when the hole could be made in a slot: what is missing is known there, and so is what the prediction needs.</summary>
    public bool CanTry(int slot)
    {
        foreach (var element in Missing)
        {
            if (!IsKnown(element, slot) || (_key[element] == PowerState.NeedsFactor && !(VoltAmperes(element, slot) >= 0))) return false;
        }

        foreach (var element in _known) if (!IsKnown(element, slot)) return false;
        return true;
    }

    /// <summary>Predicts.</summary>
    /// <param name="element">Of which element.</param>
    /// <param name="slots">The slots of the hole, rising.</param>
    /// <param name="isHidden">Slots that may not be learnt from.</param>
    /// <param name="predicted">Receives one value a slot, watts.</param>
    /// <returns>False when there is too little to learn from; a guess is given then.</returns>
    public bool Predict(int element, ReadOnlySpan<int> slots, bool[] isHidden, Span<double> predicted)
    {
        var isByFactor = _key[element] == PowerState.NeedsFactor;
        var profile = DayProfile.Learn(KnownOf(element), _bins, isHidden);
        LearnWhatTeaches(element, isHidden);
        Span<double> features = stackalloc double[isByFactor ? _isWithoutVolts ? 6 : 5 : 2 + _known.Length];
        var ridge = new Ridge(features.Length);
        var usual = isByFactor ? UsualProduct(element, slots) : 0;
        var stride = Math.Max(1, _raw.Grid.Count / MostFitted);
        for (var slot = 0; slot < _raw.Grid.Count; slot += stride)
        {
            if (isHidden[slot] || !IsKnown(element, slot) || !Features(element, slot, isByFactor, profile, features)) continue;
            // What an outage shows is no power factor.
            if (isByFactor && !(features[0] > LeastThatTeaches * usual)) continue;
            ridge.Add(features, _lines.Watts[element][slot]);
        }

        if (ridge.Count < LeastRows)
        {
            for (var index = 0; index < slots.Length; index++) predicted[index] = Guess(element, slots[index], isByFactor);
            return false;
        }

        var coefficients = ridge.Solve();
        for (var slot = 0; slot < _raw.Grid.Count; slot++)
        {
            _residuals[slot] = isHidden[slot] || !IsKnown(element, slot) || !Features(element, slot, isByFactor, profile, features)
                ? double.NaN : _lines.Watts[element][slot] - Dot(coefficients, features);
        }

        var bridge = new ResidualBridge(_residuals);
        for (var index = 0; index < slots.Length; index++)
        {
            var slot = slots[index];
            predicted[index] = (Features(element, slot, isByFactor, profile, features) ? Dot(coefficients, features) : profile[_bins[slot]]) + bridge.At(slot);
        }

        return true;
    }

    /// <summary>Of a kind of day, or of hours, that were never seen nothing is learnt: the part of the factor that they have would be any.</summary>
    private void LearnWhatTeaches(int element, bool[] isHidden)
    {
        Span<int> hours = stackalloc int[24];
        hours.Clear();
        var (count, weekend) = (0, 0);
        for (var slot = 0; slot < _raw.Grid.Count; slot++)
        {
            if (isHidden[slot] || !IsKnown(element, slot)) continue;
            count++;
            weekend += _bins[slot] >= DayProfile.Bins ? 1 : 0;
            hours[(int)_hours[slot] % 24]++;
        }

        var seen = 0;
        foreach (var hour in hours) seen += hour > 0 ? 1 : 0;
        _teachesHours = seen >= MostHours;
        _teachesDays = weekend > LeastOfAKind * count && count - weekend > LeastOfAKind * count;
    }

    /// <summary>The middle of what the currents of a hole make of the volt-amperes.</summary>
    private double UsualProduct(int element, ReadOnlySpan<int> slots)
    {
        var products = new double[slots.Length];
        for (var index = 0; index < slots.Length; index++) products[index] = VoltAmperes(element, slots[index]);
        return Integrity.Relations.Robust.Median(products);
    }

    private double[] KnownOf(int element)
    {
        var values = new double[_raw.Grid.Count];
        for (var slot = 0; slot < values.Length; slot++) values[slot] = IsKnown(element, slot) ? _lines.Watts[element][slot] : double.NaN;
        return values;
    }

    private bool Features(int element, int slot, bool isByFactor, DayProfile profile, Span<double> features)
    {
        if (isByFactor)
        {
            var product = VoltAmperes(element, slot);
            var turn = _hours[slot] * Math.PI / 12;
            features[0] = product;
            features[1] = product * (double.IsNaN(_otherFactor[slot]) ? 0 : _otherFactor[slot]);
            features[2] = _teachesHours ? product * Math.Cos(turn) : 0;
            features[3] = _teachesHours ? product * Math.Sin(turn) : 0;
            features[4] = _teachesDays && _bins[slot] >= DayProfile.Bins ? product : 0;
            if (_isWithoutVolts) features[5] = product * product;
            return product >= 0;
        }

        features[0] = 1;
        features[1] = profile[_bins[slot]];
        for (var index = 0; index < _known.Length; index++)
        {
            features[2 + index] = _others[_known[index]][slot];
            if (double.IsNaN(features[2 + index])) return false;
        }

        return true;
    }

    private double VoltAmperes(int element, int slot) => _raw.IsTotal ? SumOfCurrents(slot) :
        _lines.Amperes[element][slot] * (double.IsNaN(_volts[element][slot]) ? 1 : _volts[element][slot]);

    // A total goes with the currents of those clamps that the hole leaves; the voltage's own few percent are in what the trials show.
    private double SumOfCurrents(int slot)
    {
        var sum = 0.0;
        foreach (var clamp in _raw.TotalClamps) sum += (_key.VoltsUnknown & (1 << clamp)) == 0 ? _lines.Amperes[clamp][slot] : 0;
        return sum;
    }

    // A voltage as it would be modelled in every slot, so that what is learnt and tried has the same errors as the hole.
    private double[] ByOthers(int element, int[] measured)
    {
        double own = 0, theirs = 0;
        var volts = new double[_raw.Grid.Count];
        for (var slot = 0; slot < volts.Length; slot++)
        {
            var (sum, areKnown) = (0.0, true);
            foreach (var line in measured)
            {
                sum += _lines.Volts[line][slot];
                areKnown &= _lines.VoltStates[line][slot] <= PowerState.Mended;
            }

            volts[slot] = sum / measured.Length;
            if (!areKnown || !(volts[slot] > 0) || _lines.VoltStates[element][slot] > PowerState.Mended || !double.IsFinite(_lines.Volts[element][slot])) continue;
            own += _lines.Volts[element][slot];
            theirs += volts[slot];
        }

        if (!(theirs > 0)) return _lines.Volts[element];
        for (var slot = 0; slot < volts.Length; slot++) volts[slot] *= own / theirs;
        return volts;
    }

    private static double[] Constant(int count)
    {
        var volts = new double[count];
        Array.Fill(volts, 1);
        return volts;
    }

    private double OtherFactor(int slot)
    {
        double watts = 0, product = 0;
        foreach (var other in _known)
        {
            watts += _lines.Watts[other][slot];
            product += VoltAmperes(other, slot);
        }

        return product > 0 ? watts / product : double.NaN;
    }

    // With nothing to learn from: the power factor of the others, or an ordinary one; the mean of the others.
    private double Guess(int element, int slot, bool isByFactor)
    {
        // With no current to go by, what the total showed is all there is: a guess that may be off by all of it.
        if (_raw.IsTotal) return isByFactor ? double.IsFinite(_lines.ByFactors[slot]) ? _lines.ByFactors[slot] : GuessTotal(slot) : double.IsFinite(_raw.Watts[0]![slot]) ? Math.Abs(_raw.Watts[0]![slot]) : 0;
        if (isByFactor) return _lines.Amperes[element][slot] * (double.IsNaN(_lines.Volts[element][slot]) ? 1 : _lines.Volts[element][slot]) * (double.IsNaN(_otherFactor[slot]) ? 0.9 * (_raw.IsThreeWire ? Math.Sqrt(3) / _raw.Elements.Length : 1) : _otherFactor[slot]);
        double sum = 0;
        foreach (var other in _known) sum += _lines.Watts[other][slot];
        return _known.Length > 0 && double.IsFinite(sum) ? sum / _known.Length : 0;
    }

    // An ordinary power factor at the voltages that were written, every line carrying as much as those that are known.
    private double GuessTotal(int slot)
    {
        double volts = 0;
        var count = 0;
        for (var line = 0; line < _raw.Lines; line++)
        {
            if (_raw.Volts[line] is not { } column || !(column[slot] > 0)) continue;
            volts = Math.Max(volts, column[slot]);
            count++;
        }

        var known = _raw.TotalClamps.Count(clamp => (_key.VoltsUnknown & (1 << clamp)) == 0);
        return count == 0 || known == 0 ? 0 : 0.9 * volts * SumOfCurrents(slot) / known * (_raw.IsThreeWire ? Math.Sqrt(3) : _raw.Lines);
    }

    private static double Dot(ReadOnlySpan<double> one, ReadOnlySpan<double> other)
    {
        var sum = 0.0;
        for (var index = 0; index < one.Length; index++) sum += one[index] * other[index];
        return sum;
    }
}
