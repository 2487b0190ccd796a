using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>The panel at one frequency: conductors A, B, C, N behind their source impedances, with the loads' admittances
/// between them and the loads' currents drawn from them.</summary>
/// <remarks>A conductor that the service lacks stays at zero volts and carries nothing. Solved are (1 + Z·Y)·E = S − Z·J: E the
/// potentials at the panel, S those of the source, Y the admittances, J the drawn currents, all toward the load.</remarks>
internal sealed class Network
{
    private const int Size = 4;
    private readonly Phasor[] _admittance = new Phasor[Size * Size];
    private readonly Phasor[] _factors = new Phasor[Size * Size];
    private readonly int[] _pivots = new int[Size];
    private readonly Phasor[] _drawn = new Phasor[Size];
    private readonly Phasor[] _potentials = new Phasor[Size];
    private readonly Phasor[] _impedances = new Phasor[Size];
    private readonly Phasor[] _fundamentals = new Phasor[Size];

    public Network(ServiceKind service, PanelSource source)
    {
        Service = service;
        Source = source;
    }

    public ServiceKind Service { get; }

    public PanelSource Source { get; }

    /// <summary>Harmonic order being solved; 1 for the fundamental.</summary>
    public int Order { get; private set; }

    /// <summary>The operator that turns by 120 degrees along the rotation of the supply.</summary>
    public Phasor Turn => Source.Rotation == Rotation.Acb ? Phasor.FromDegrees(1, -120) : Phasor.FromDegrees(1, 120);

    public Phasor Potential(Conductor conductor) => _potentials[(int)conductor];

    /// <summary>Potential at the fundamental, while a harmonic is solved.</summary>
    public Phasor Fundamental(Conductor conductor) => _fundamentals[(int)conductor];

    public void Begin(int order)
    {
        Order = order;
        Array.Clear(_admittance);
        _impedances.AsSpan(0, 3).Fill(Source.Line.AtOrder(order));
        _impedances[3] = Source.Neutral.AtOrder(order);
    }

    public void SetPotentials(ReadOnlySpan<Phasor> potentials) => potentials.CopyTo(_potentials);

    public void KeepFundamentals() => _potentials.CopyTo(_fundamentals, 0);

    public void ClearDrawn() => Array.Clear(_drawn);

    /// <summary>An admittance between two conductors.</summary>
    public void Connect(Conductor from, Conductor to, Phasor siemens)
    {
        var (i, j) = ((int)from, (int)to);
        _admittance[(i * Size) + i] += siemens;
        _admittance[(j * Size) + j] += siemens;
        _admittance[(i * Size) + j] -= siemens;
        _admittance[(j * Size) + i] -= siemens;
    }

    /// <summary>The current into line <paramref name="row"/> for each volt on line <paramref name="column"/>.</summary>
    public void Couple(Conductor row, Conductor column, Phasor siemens) =>
        _admittance[((int)row * Size) + (int)column] += siemens;

    /// <summary>A current drawn from one conductor and returned to another.</summary>
    public void Draw(Conductor from, Conductor to, Phasor amperes)
    {
        _drawn[(int)from] += amperes;
        _drawn[(int)to] -= amperes;
    }

    /// <summary>A current drawn from one conductor; the caller sees to it that all sum to zero.</summary>
    public void Draw(Conductor from, Phasor amperes) => _drawn[(int)from] += amperes;

    /// <summary>Total current from a conductor into the loads.</summary>
    public Phasor Current(Conductor conductor)
    {
        var row = (int)conductor;
        var sum = _drawn[row];
        for (var column = 0; column < Size; column++) sum += _admittance[(row * Size) + column] * _potentials[column];
        return sum;
    }

    /// <summary>Factors 1 + Z·Y; call after the admittances are in and before <see cref="Solve"/>.</summary>
    public void Factor()
    {
        for (var row = 0; row < Size; row++)
        {
            for (var column = 0; column < Size; column++)
            {
                var product = _impedances[row] * _admittance[(row * Size) + column];
                _factors[(row * Size) + column] = row == column ? product + new Phasor(1, 0) : product;
            }
        }

        for (var step = 0; step < Size; step++)
        {
            var pivot = step;
            for (var row = step + 1; row < Size; row++)
            {
                if (_factors[(row * Size) + step].SquaredMagnitude > _factors[(pivot * Size) + step].SquaredMagnitude) pivot = row;
            }

            _pivots[step] = pivot;
            if (pivot != step)
            {
                for (var column = 0; column < Size; column++)
                {
                    (_factors[(step * Size) + column], _factors[(pivot * Size) + column]) =
                        (_factors[(pivot * Size) + column], _factors[(step * Size) + column]);
                }
            }

            for (var row = step + 1; row < Size; row++)
            {
                if (_factors[(row * Size) + step] == Phasor.Zero) continue;
                var factor = _factors[(row * Size) + step] / _factors[(step * Size) + step];
                _factors[(row * Size) + step] = factor;
                for (var column = step + 1; column < Size; column++)
                    _factors[(row * Size) + column] -= factor * _factors[(step * Size) + column];
            }
        }
    }

    /// <summary>Solves the potentials for the drawn currents as they stand.</summary>
    /// <param name="sourcePotentials">Potentials of the source: A, B, C, N.</param>
    /// <returns>The largest change of a potential, volts.</returns>
    public double Solve(ReadOnlySpan<Phasor> sourcePotentials)
    {
        Span<Phasor> right = stackalloc Phasor[Size];
        for (var row = 0; row < Size; row++) right[row] = sourcePotentials[row] - (_impedances[row] * _drawn[row]);
        for (var step = 0; step < Size; step++)
        {
            var pivot = _pivots[step];
            if (pivot != step) (right[step], right[pivot]) = (right[pivot], right[step]);
        }

        for (var row = 1; row < Size; row++)
        {
            for (var column = 0; column < row; column++) right[row] -= _factors[(row * Size) + column] * right[column];
        }

        var change = 0.0;
        for (var row = Size - 1; row >= 0; row--)
        {
            for (var column = row + 1; column < Size; column++) right[row] -= _factors[(row * Size) + column] * right[column];
            right[row] = right[row] / _factors[(row * Size) + row];
            change = Math.Max(change, (right[row] - _potentials[row]).SquaredMagnitude);
            _potentials[row] = right[row];
        }

        return Math.Sqrt(change);
    }
}
