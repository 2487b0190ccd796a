using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>What the conductors of a virtual week do in one step of time.</summary>
/// <remarks>Loads are admittances that draw with the square root of their voltage; a few rounds settle them behind the source impedance.
/// The neutral's potential follows from the sum of its currents, so that a broken neutral floats to where they cancel.</remarks>
internal sealed class WeekCircuit
{
    private const int Rounds = 5;

    /// <summary>Loads in series settle slowly: after so many rounds what goes out in the lines comes back in them.</summary>
    private const int RoundsWithoutNeutral = 60;
    private readonly List<SiteLoad> _loads;
    private readonly double _volts;
    private readonly double _lineRatio;
    private readonly Phasor _line;
    private readonly Phasor _neutral;
    private readonly int _lines;
    private readonly bool _hasNeutral;
    private readonly bool _isHighLeg;
    private readonly Phasor[] _drawn = new Phasor[4];
    private readonly Phasor[] _source = new Phasor[3];
    private double _squareExtra;

    public WeekCircuit(WeekRecipe recipe, List<SiteLoad> loads, Phasor line, Phasor neutral)
    {
        (_loads, _line, _neutral) = (loads, line, neutral);
        _volts = recipe.Nominal.LineToNeutralVolts;
        _lineRatio = NominalVoltage.LineRatio(recipe.Service);
        _lines = SiteLoads.LinesOf(recipe.Service);
        _hasNeutral = recipe.Service is not (ServiceKind.Delta or ServiceKind.DeltaTwoClamp);
        _isHighLeg = recipe.Service == ServiceKind.HighLeg;
    }

    /// <summary>Potentials of A, B, C, N.</summary>
    public Phasor[] Potentials { get; } = new Phasor[4];

    /// <summary>Currents of A, B, C, N toward the load, fundamental.</summary>
    public Phasor[] Currents { get; } = new Phasor[4];

    /// <summary>Rms of the harmonics of those currents.</summary>
    public double[] Extras { get; } = new double[4];

    public void Solve(WeekSupply supply, ReadOnlySpan<Phasor> source, double solarWatts, double stepSeconds)
    {
        Array.Clear(Potentials);
        for (var line = 0; line < _lines; line++) Potentials[line] = source[line];
        source.CopyTo(_source);
        var lost = supply.LostLine;
        if (lost >= 0) Potentials[lost] = _source[lost] = supply.Held * source[lost];
        Array.Clear(Currents);
        Array.Clear(Extras);
        if (supply.IsOut) return;
        var rounds = supply.IsNeutralLost ? RoundsWithoutNeutral : Rounds;
        for (var round = 0; round < rounds; round++)
        {
            Draw(solarWatts, stepSeconds, round == rounds - 1);
            var neutralAdmittance = supply.IsNeutralLost ? new Phasor(0.002, 0) : new Phasor(1, 0) / _neutral;
            if (_hasNeutral)
            {
                // The neutral's loads, seen from it: sum Y (V - N) = Yn N.
                var current = Phasor.Zero;
                var admittance = Phasor.Zero;
                for (var line = 0; line < _lines; line++)
                {
                    var across = Potentials[line] - Potentials[3];
                    if (across.SquaredMagnitude < 1e-9) continue;
                    var own = _toNeutral[line] / across;
                    admittance += own;
                    current += own * Potentials[line];
                }

                var target = current / (admittance + neutralAdmittance);
                Potentials[3] = supply.IsNeutralLost ? 0.5 * (Potentials[3] + target) : target;
            }

            for (var line = 0; line < _lines; line++)
            {
                if (line == lost) continue;
                Potentials[line] = _source[line] - (_line * _drawn[line]);
            }
        }

        var sum = Phasor.Zero;
        var extra = 0.0;
        for (var line = 0; line < _lines; line++)
        {
            Currents[line] = line == lost ? Phasor.Zero : _drawn[line];
            if (line == lost) Extras[line] = 0;
            sum += Currents[line];
            extra += Extras[line];
        }

        if (!_hasNeutral) return;
        Currents[3] = supply.IsNeutralLost ? Phasor.Zero : -sum;
        Extras[3] = supply.IsNeutralLost ? 0 : 0.8 * extra;
    }

    private readonly Phasor[] _toNeutral = new Phasor[3];

    private void Draw(double solarWatts, double stepSeconds, bool isLast)
    {
        Array.Clear(_drawn);
        Array.Clear(_toNeutral);
        foreach (var load in _loads)
        {
            if (load.Level == 0) continue;
            var starting = load.IsMotor ? Math.Min(1, load.StartingSeconds / stepSeconds) : 0;
            var watts = load.Watts * load.Level * (1 + (0.8 * starting));
            var vars = (load.Vars * load.Level) + (4.5 * load.Watts * load.Level * starting);
            _squareExtra = (load.Distortion * load.Distortion) - 1;
            if (load.IsThreePhase) DrawAll(watts / 3, vars / 3, isLast);
            else Draw(load.From, load.To, watts, vars, isLast);
        }

        _squareExtra = 0;
        if (solarWatts <= 0) return;
        if (_lines == 3) DrawAll(-solarWatts / 3, 0, isLast);
        else Draw(0, _lines == 2 ? 1 : 3, -solarWatts, 0, isLast);
    }

    private void DrawAll(double watts, double vars, bool isLast)
    {
        for (var line = 0; line < 3; line++) Draw(line, (line + 1) % 3, watts, vars, isLast);
    }

    private void Draw(int from, int to, double watts, double vars, bool isLast)
    {
        var across = Potentials[from] - Potentials[to];
        var square = across.SquaredMagnitude;
        var rated = to == 3 ? _volts : _volts * _lineRatio;
        if (_isHighLeg && (from == 1 || to == 1) && to == 3) rated *= Math.Sqrt(3);
        if (square < 1e-6 * rated * rated) return;
        var share = Math.Pow(square / (rated * rated), 0.75);
        var current = (new Phasor(watts * share, -vars * share) * across) / square;
        _drawn[from] += current;
        if (to < 3) _drawn[to] -= current;
        else _toNeutral[from] += current;
        if (!isLast || _squareExtra <= 0) return;
        var extra = Math.Sqrt(_squareExtra * current.SquaredMagnitude);
        Extras[from] += extra;
        if (to < 3) Extras[to] += extra;
    }
}
