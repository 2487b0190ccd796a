using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>Draws the supply of a simulated site.</summary>
/// <remarks>Spreads are assumed to be those of healthy low-voltage supplies: common practice, no source.</remarks>
internal static class SiteDraw
{
    public static (PanelSource Source, double RatingAmperes) Draw(
        ServiceKind service, LoadFamily family, double reversedShare, SeededRandom random)
    {
        var (lineToNeutral, frequency) = Nameplate(service, random);
        var nominal = new NominalVoltage(lineToNeutral, lineToNeutral * NominalVoltage.LineRatio(service));
        ReadOnlySpan<double> ratings = [50, 100, 200, 500, 1000];
        var rating = ratings[random.Below(ratings.Length)];

        // At full rated current the voltage drops by half a percent to three percent.
        var ohms = random.Uniform(0.005, 0.03) * lineToNeutral / rating;
        var (sine, cosine) = Math.SinCos(Math.Atan(random.Uniform(0.4, 2)));
        var line = new Impedance(ohms * cosine, ohms * sine);
        var neutralFactor = random.Uniform(0.8, 2);
        var level = random.Uniform(-0.04, 0.04);
        var distortion = family == LoadFamily.Distorted ? 2 : 1;
        var source = new PanelSource
        {
            Nominal = nominal,
            FrequencyHertz = frequency + Math.Clamp(0.02 * random.Gaussian(), -0.1, 0.1),
            NominalFrequencyHertz = frequency,
            Rotation = random.Chance(reversedShare) ? Rotation.Acb : Rotation.Abc,
            HighLeg = service == ServiceKind.HighLeg ? HighLeg(random.Fork(3)) : Conductor.B,
            Line = line,
            Neutral = new Impedance(neutralFactor * line.ResistanceOhms, neutralFactor * line.ReactanceOhms),
            DeviationA = Deviation(level, random),
            DeviationB = Deviation(level, random),
            DeviationC = Deviation(level, random),
            Background = new Spectrum(
                new SpectrumLine(3, distortion * random.Uniform(0.002, 0.012), random.Uniform(-180, 180)),
                new SpectrumLine(5, distortion * random.Uniform(0.005, 0.025), random.Uniform(-180, 180)),
                new SpectrumLine(7, distortion * random.Uniform(0.003, 0.015), random.Uniform(-180, 180)),
                new SpectrumLine(9, distortion * random.Uniform(0, 0.003), random.Uniform(-180, 180)),
                new SpectrumLine(11, distortion * random.Uniform(0, 0.005), random.Uniform(-180, 180)),
                new SpectrumLine(13, distortion * random.Uniform(0, 0.004), random.Uniform(-180, 180))),
            GroundOffset = Phasor.FromDegrees(random.Uniform(0, 1.5), random.Uniform(-180, 180)),
        };
        return (source, rating);
    }

    private static (double LineToNeutralVolts, double FrequencyHertz) Nameplate(ServiceKind service, SeededRandom random)
    {
        var draw = random.Below(3);
        return service switch
        {
            ServiceKind.Wye => draw switch { 0 => (230, 50), 1 => (120, 60), _ => (277, 60) },
            ServiceKind.Delta or ServiceKind.DeltaTwoClamp => draw switch
            {
                0 => (480 / Math.Sqrt(3), 60),
                1 => (400 / Math.Sqrt(3), 50),
                _ => (240 / Math.Sqrt(3), 60),
            },
            ServiceKind.Split or ServiceKind.HighLeg => (120, 60),
            ServiceKind.Network => draw == 0 ? (230, 50) : (120, 60),
            _ => draw == 0 ? (120, 60) : (230, 50),
        };
    }

    /// <summary>Oftener off B than on real sites, to try the other places too.</summary>
    private static Conductor HighLeg(SeededRandom random) =>
        random.NextUnit() switch { < 0.7 => Conductor.B, < 0.92 => Conductor.C, _ => Conductor.A };

    private static PhaseDeviation Deviation(double level, SeededRandom random) => new(
        level + Math.Clamp(0.006 * random.Gaussian(), -0.018, 0.018), Math.Clamp(0.35 * random.Gaussian(), -1, 1));
}
