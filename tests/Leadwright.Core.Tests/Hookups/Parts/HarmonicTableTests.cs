using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Harmonics;

namespace Leadwright.Core.Tests.Hookups.Parts;

/// <summary>How far a clamp's harmonic can be trusted.</summary>
public sealed class HarmonicTableTests
{
    [Fact]
    public void Below_half_a_percent_of_the_fundamental_a_harmonic_tells_nothing()
    {
        Assert.Equal(double.PositiveInfinity, Of(third: 0.49, distortion: 0).Spread(0, 3));
        // Noise over size, where the supply drives nothing: 0.02 / 0.6.
        Assert.Equal(0.02 / 0.6, Of(third: 0.6, distortion: 0).Spread(0, 3), 12);
    }

    [Fact]
    public void What_the_supplys_distortion_may_drive_widens_the_angle()
    {
        // 1 % of third in the voltage may drive 1.5 % of 100 A, of which 0.6 is taken: 0.9 A beside noise of 0.02, over 3 A.
        Assert.Equal(Math.Sqrt((0.02 * 0.02) + (0.9 * 0.9)) / 3, Of(third: 3, distortion: 2.3).Spread(0, 3), 12);
    }

    [Fact]
    public void Without_harmonics_of_a_clamp_or_of_a_voltage_there_is_no_table()
    {
        Assert.Null(HarmonicTable.Of(Readings() with { Harmonics = Harmonics(3, 0).Remove(Channel.V1) }, [Clamp.I1]));
        Assert.Null(HarmonicTable.Of(Readings() with { Harmonics = Harmonics(3, 0).Remove(Channel.I1) }, [Clamp.I1]));
    }

    private static HarmonicTable Of(double third, double distortion) => HarmonicTable.Of(Readings() with { Harmonics = Harmonics(third, distortion) }, [Clamp.I1])!;

    private static PanelReadings Readings() => new() { Service = ServiceKind.Single };

    private static ImmutableSortedDictionary<Channel, HarmonicReading> Harmonics(double third, double distortion)
    {
        var none = Phasor.Zero;
        return ImmutableSortedDictionary<Channel, HarmonicReading>.Empty
            .Add(Channel.V1, new HarmonicReading([new Phasor(230, 0), none, new Phasor(distortion, 0)], [0, 0, 0]))
            .Add(Channel.I1, new HarmonicReading([new Phasor(100, 0), none, new Phasor(0, third)], [0.02, 0.02, 0.02]));
    }
}
