using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>The recorder of a virtual week: what its channels read in one step, and the mean over an interval.</summary>
internal sealed class WeekRecorder
{
    private const int Quantities = 16;
    private readonly WeekRecipe _recipe;
    private readonly SeededRandom _random;
    private readonly double _ratingAmperes;
    private readonly double[] _leadGains = new double[4];
    private readonly Phasor[] _clampFactors = new Phasor[4];
    private readonly double[] _sums = new double[Quantities];
    private readonly Phasor[] _volts = new Phasor[3];
    private readonly Phasor[] _pairs = new Phasor[3];
    private readonly Phasor[] _amperes = new Phasor[4];
    private readonly double[] _rms = new double[4];
    private readonly int[] _leads = new int[4];
    private readonly ClampPlace[] _clamps = new ClampPlace[4];
    private readonly bool _isThreeWire;
    private readonly bool _isTwoElement;
    private readonly int _lines;
    private double _ghost = 1;
    private int _count;

    public WeekRecorder(WeekRecipe recipe, double ratingAmperes, SeededRandom random)
    {
        (_recipe, _ratingAmperes, _random) = (recipe, ratingAmperes, random);
        _lines = SiteLoads.LinesOf(recipe.Service);
        _isThreeWire = recipe.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;
        _isTwoElement = recipe.Service == ServiceKind.DeltaTwoClamp;
        for (var index = 0; index < 4; index++)
        {
            _leadGains[index] = 1 + Math.Clamp(0.001 * random.Gaussian(), -0.003, 0.003);
            _clampFactors[index] = Phasor.FromDegrees(1 + Math.Clamp(0.005 * random.Gaussian(), -0.015, 0.015), Math.Clamp(0.6 * random.Gaussian(), -2, 2));
        }
    }

    /// <summary>The largest current that the clamps still show; infinite without a limit.</summary>
    public double LimitAmperes { get; set; } = double.PositiveInfinity;

    /// <summary>Share of the interval over which each clamp was beyond its range, since the last row.</summary>
    public int[] Clipped { get; } = new int[4];

    /// <summary>Watts of each phase, and vars, as a right hook-up without errors would read them in the last step.</summary>
    public double[] TrueWatts { get; } = new double[3];

    /// <summary>Where leads and clamps are at a time.</summary>
    public void Place(double seconds)
    {
        for (var index = 0; index < 4; index++)
        {
            _leads[index] = index;
            _clamps[index] = ClampPlace.Right((Conductor)index);
        }

        foreach (var mishap in _recipe.Mishaps)
        {
            if (mishap.IsHookup && mishap.IsOnAt(seconds)) mishap.Apply(_leads, _clamps);
        }
    }

    /// <summary>The hook-up as placed last.</summary>
    public Hookup ToHookup()
    {
        var service = Service.Of(_recipe.Service);
        IEnumerable<Clamp> clamps = _recipe.HasNeutralClamp ? [.. service.Clamps, Clamp.IN] : service.Clamps;
        return new Hookup(
            service.Leads.ToImmutableSortedDictionary(lead => lead, lead => _leads[(int)lead] < 0 ? null : (Conductor?)_leads[(int)lead]),
            clamps.ToImmutableSortedDictionary(clamp => clamp, clamp => _clamps[(int)clamp]));
    }

    /// <summary>Takes one step into the interval.</summary>
    public void Take(double seconds, double hertz, WeekCircuit circuit)
    {
        TakeTruth(circuit);
        Place(seconds);
        ReadVoltages(seconds, circuit);
        ReadCurrents(seconds, circuit);
        for (var index = 0; index < 3; index++)
        {
            _sums[index] += Square((_isThreeWire ? _pairs[index] : _volts[index]).Magnitude);
            var own = !_isTwoElement ? _volts[index] : index == 0 ? _pairs[0] : -_pairs[1];
            var power = own * _amperes[index].Conjugate;
            _sums[7 + index] += power.Real;
            _sums[10 + index] += power.Imaginary;
        }

        for (var index = 0; index < 4; index++) _sums[3 + index] += _rms[index] * _rms[index];
        _sums[13] += hertz;
        _count++;
    }

    /// <summary>Means over the interval: three voltages, four currents, three watts, three vars, frequency; starts the next.</summary>
    public void Give(Span<double> row)
    {
        for (var index = 0; index < 14; index++) row[index] = _sums[index] / Math.Max(1, _count);
        for (var index = 0; index < 7; index++) row[index] = Math.Sqrt(row[index]);
        Array.Clear(_sums);
        _count = 0;
    }

    private void TakeTruth(WeekCircuit circuit)
    {
        var potentials = circuit.Potentials;
        var star = _isThreeWire ? (potentials[0] + potentials[1] + potentials[2]) / 3 : potentials[3];
        for (var line = 0; line < 3; line++)
        {
            var volts = !_isTwoElement ? potentials[line] - star : line == 0 ? potentials[0] - potentials[1] : potentials[2] - potentials[1];
            var isRead = line < _lines && !(_isTwoElement && line == 1);
            TrueWatts[line] = isRead ? (volts * circuit.Currents[line].Conjugate).Real : 0;
        }
    }

    private void ReadVoltages(double seconds, WeekCircuit circuit)
    {
        _ghost = 1 + (0.95 * (_ghost - 1)) + (0.01 * _random.Gaussian());
        var nominal = _recipe.Nominal.LineToNeutralVolts;
        var mean = Phasor.Zero;
        var connected = 0;
        for (var lead = 0; lead < _lines; lead++)
        {
            if (_leads[lead] < 0) continue;
            mean += circuit.Potentials[_leads[lead]];
            connected++;
        }

        if (connected > 0) mean = mean / connected;
        var floats = _isThreeWire || _leads[3] < 0;
        var star = floats ? mean : circuit.Potentials[_leads[3]];
        Span<Phasor> points = stackalloc Phasor[3];
        for (var lead = 0; lead < 3; lead++)
        {
            var volts = lead >= _lines ? Phasor.Zero : _leads[lead] >= 0 ? circuit.Potentials[_leads[lead]] - star : floats ? Phasor.Zero : Ghost(lead, seconds, nominal);
            // Two wires have no star: with either lead off both inputs hang in the air.
            if (_lines == 1 && lead == 0 && _leads[3] < 0) volts = Ghost(3, seconds, nominal);
            points[lead] = volts;
            _volts[lead] = _leadGains[lead] * (1 + (0.0001 * _random.Gaussian())) * volts;
        }

        if (!_isThreeWire) return;
        for (var pair = 0; pair < 3; pair++)
            _pairs[pair] = _leadGains[pair] * (1 + (0.0001 * _random.Gaussian())) * (points[pair] - points[(pair + 1) % 3]);
    }

    private Phasor Ghost(int lead, double seconds, double nominal)
    {
        foreach (var mishap in _recipe.Mishaps)
        {
            var isOwn = lead == 3 ? mishap.Kind == MishapKind.NeutralLeadOff : mishap.Kind == MishapKind.LeadOff && mishap.First == lead;
            if (isOwn && mishap.IsOnAt(seconds)) return Phasor.FromDegrees(nominal * mishap.Size * _ghost, mishap.Detail);
        }

        return Phasor.Zero;
    }

    private void ReadCurrents(double seconds, WeekCircuit circuit)
    {
        for (var clamp = 0; clamp < 4; clamp++)
        {
            var place = _clamps[clamp];
            var noise = 0.0003 * _ratingAmperes;
            var floor = Phasor.FromDegrees(Math.Abs(noise * (1 + (0.3 * _random.Gaussian()))), 360 * _random.NextUnit());
            if (place.On is not { } on || (int)on >= 4)
            {
                (_amperes[clamp], _rms[clamp]) = (floor, floor.Magnitude);
                continue;
            }

            var factor = (place.Reversed ? -1 : 1) * place.Scale * Opening(clamp, seconds) * _clampFactors[clamp];
            var current = (factor * circuit.Currents[(int)on]) + (0.3 * floor);
            var rms = Math.Sqrt(current.SquaredMagnitude + Square(factor.Magnitude * circuit.Extras[(int)on]));
            var limit = LimitAmperes * place.Scale;
            if (rms > limit)
            {
                Clipped[clamp]++;
                current = (limit / rms) * current;
                rms = limit;
            }

            (_amperes[clamp], _rms[clamp]) = (current, rms);
        }
    }

    private double Opening(int clamp, double seconds)
    {
        var factor = 1.0;
        foreach (var mishap in _recipe.Mishaps)
        {
            if (mishap.Kind == MishapKind.ClampOpening && mishap.First == clamp && mishap.IsOnAt(seconds))
            {
                var gone = (seconds - mishap.FromSeconds) / (mishap.ToSeconds - mishap.FromSeconds);
                factor *= 1 - ((1 - mishap.Size) * gone);
            }
        }

        return factor;
    }

    private static double Square(double value) => value * value;
}
