using Leadwright.Core.Circuits;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Core.Tests.Studies.Events;

/// <summary>The published phasors of the seven types (M. H. J. Bollen, "Understanding Power Quality Problems", table 4.4, from memory), with V = 0.6.</summary>
public sealed class DipTypeTests
{
    private static readonly double s_half = Math.Sqrt(3) / 2;

    // Magnitudes of the three phases, V, F and V0: A .6/.6/.6; B .6/1/1, V .733, F 1, V0 .133; C 1/.721/.721; D .6/.917/.917; E 1/.6/.6, V0 .133; F .6/.808/.808; G .867/.677/.677; F of E, F, G .867.
    public static TheoryData<char, double[], double, double, double> Types => new()
    {
        { 'A', [0.6, 0.6, 0.6], 0.6, 0.6, 0 },
        { 'B', [0.6, 1, 1], 0.7333, 1, 0.1333 },
        { 'C', [1, 0.7211, 0.7211], 0.6, 1, 0 },
        { 'D', [0.6, 0.9165, 0.9165], 0.6, 1, 0 },
        { 'E', [1, 0.6, 0.6], 0.6, 0.8667, 0.1333 },
        { 'F', [0.6, 0.8083, 0.8083], 0.6, 0.8667, 0 },
        { 'G', [0.8667, 0.6766, 0.6766], 0.6, 0.8667, 0 },
    };

    [Theory]
    [MemberData(nameof(Types))]
    public void Each_type_is_named_with_its_characteristic_values(char letter, double[] magnitudes, double characteristic, double factor, double zero)
    {
        var phasors = Phasors(letter, 0.6);
        Assert.Equal(magnitudes, phasors.Select(phasor => Math.Round(phasor.Magnitude, 4)));
        var found = DipType.Of(phasors[0], phasors[1], phasors[2]);
        Assert.Equal((letter, letter == 'A' ? 0 : 1), (found.Letter, found.Phase));
        Assert.Equal(characteristic, found.Characteristic, 1e-4);
        Assert.Equal(factor, found.PositiveNegative, 1e-4);
        Assert.Equal(zero, found.Zero, 1e-4);
    }

    [Theory]
    [InlineData('B')]
    [InlineData('C')]
    [InlineData('D')]
    [InlineData('E')]
    [InlineData('F')]
    [InlineData('G')]
    public void The_phase_that_stands_alone_is_named(char letter)
    {
        var a = Phasors(letter, 0.6);
        // The same dip with phase B, then C, as the one that stands alone.
        Assert.Equal((letter, 2), Name(a[2].TurnedByDegrees(-120), a[0].TurnedByDegrees(-120), a[1].TurnedByDegrees(-120)));
        Assert.Equal((letter, 3), Name(a[1].TurnedByDegrees(120), a[2].TurnedByDegrees(120), a[0].TurnedByDegrees(120)));
    }

    private static (char Letter, int Phase) Name(Phasor a, Phasor b, Phasor c) => DipType.Of(a, b, c) is var found ? (found.Letter, found.Phase) : default;

    private static Phasor[] Phasors(char letter, double v)
    {
        (double Real, double Imaginary) first = letter switch { 'A' or 'B' or 'D' or 'F' => (v, 0), 'G' => ((2 + v) / 3, 0), _ => (1, 0) };
        var (real, imaginary) = letter switch
        {
            'A' => (-v / 2, s_half * v),
            'B' => (-0.5, s_half),
            'C' => (-0.5, s_half * v),
            'D' => (-v / 2, s_half),
            'E' => (-v / 2, s_half * v),
            'F' => (-v / 2, (Math.Sqrt(3) / 3) + (Math.Sqrt(3) / 6 * v)),
            _ => (-(2 + v) / 6, s_half * v),
        };
        return [new Phasor(first.Real, first.Imaginary), new Phasor(real, -imaginary), new Phasor(real, imaginary)];
    }
}
