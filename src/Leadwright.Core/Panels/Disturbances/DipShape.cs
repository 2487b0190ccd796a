using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Disturbances;

/// <summary>The phasors of the dip types A to G.</summary>
/// <remarks>M. H. J. Bollen, Understanding Power Quality Problems, IEEE Press (2000), tables 4.9 and 4.10 (from memory), for a characteristic voltage V and the voltage before the dip 1; phase a is the
/// symmetrical one.</remarks>
public static class DipShape
{
    /// <summary>The letters.</summary>
    public const string Letters = "ABCDEFG";

    /// <summary>Phasors of the three phases over that of phase a before.</summary>
    /// <param name="letter">A to G.</param>
    /// <param name="characteristic">Characteristic voltage V, 0 to 1 with its angle.</param>
    /// <param name="turns">How many phases on the symmetrical phase stands: 0 a, 1 b, 2 c.</param>
    /// <exception cref="ArgumentOutOfRangeException">Another letter.</exception>
    public static Phasor[] Of(char letter, Phasor characteristic, int turns)
    {
        var v = characteristic;
        var one = new Phasor(1, 0);
        var root = Math.Sqrt(3);
        Phasor J(Phasor phasor, double scale) => phasor.TurnedByDegrees(90) * new Phasor(scale, 0);
        Phasor Real(Phasor phasor, double scale) => phasor * new Phasor(scale, 0);
        Phasor[] around = letter switch
        {
            'A' => [v, Real(v, -0.5) - J(v, root / 2), Real(v, -0.5) + J(v, root / 2)],
            'B' => [v, Real(one, -0.5) - J(one, root / 2), Real(one, -0.5) + J(one, root / 2)],
            'C' => [one, Real(one, -0.5) - J(v, root / 2), Real(one, -0.5) + J(v, root / 2)],
            'D' => [v, Real(v, -0.5) - J(one, root / 2), Real(v, -0.5) + J(one, root / 2)],
            'E' => [one, Real(v, -0.5) - J(v, root / 2), Real(v, -0.5) + J(v, root / 2)],
            'F' => [v, Real(v, -0.5) - J(one, root / 3) - J(v, root / 6), Real(v, -0.5) + J(one, root / 3) + J(v, root / 6)],
            'G' => [Real(one, 2.0 / 3) + Real(v, 1.0 / 3), Real(one, -1.0 / 3) - Real(v, 1.0 / 6) - J(v, root / 2), Real(one, -1.0 / 3) - Real(v, 1.0 / 6) + J(v, root / 2)],
            _ => throw new ArgumentOutOfRangeException(nameof(letter), letter, "A dip type is one of A to G."),
        };
        var turned = new Phasor[3];
        for (var phase = 0; phase < 3; phase++) turned[(phase + turns) % 3] = around[phase].TurnedByDegrees(-120 * turns);
        return turned;
    }
}
