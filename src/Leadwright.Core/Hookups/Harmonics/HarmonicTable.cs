using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Harmonics;

/// <summary>The harmonics of the clamps, with how far each can be trusted.</summary>
internal sealed class HarmonicTable
{
    private const int Highest = 14;
    private readonly Phasor[] _phasors;
    private readonly double[] _noise;
    private readonly double[] _spread;

    private HarmonicTable(int clamps)
    {
        _phasors = new Phasor[clamps * Highest];
        _noise = new double[clamps * Highest];
        _spread = new double[clamps * Highest];
    }

    /// <summary>The harmonic of a clamp, amperes.</summary>
    public Phasor Phasor(int clamp, int order) => _phasors[(clamp * Highest) + order];

    /// <summary>Noise of its real and imaginary part each, amperes.</summary>
    public double Noise(int clamp, int order) => _noise[(clamp * Highest) + order];

    /// <summary>Angle of the harmonic, radians.</summary>
    public double Angle(int clamp, int order) => Phasor(clamp, order).AngleRadians;

    /// <summary>Spread of that angle from noise and from what the supply's distortion may drive, radians; infinite when there is none.</summary>
    public double Spread(int clamp, int order) => _spread[(clamp * Highest) + order];

    /// <summary>The table for a set of readings; null when no clamp's harmonics are known or no voltage is.</summary>
    public static HarmonicTable? Of(PanelReadings readings, Clamp[] clamps)
    {
        if (!readings.Harmonics.Any(entry => entry.Key >= Channel.I1) || !readings.Harmonics.Any(entry => entry.Key < Channel.I1)) return null;
        var table = new HarmonicTable(clamps.Length);
        Array.Fill(table._spread, double.PositiveInfinity);
        for (var clamp = 0; clamp < clamps.Length; clamp++)
        {
            if (!readings.Harmonics.TryGetValue(Channel.I1 + (int)clamps[clamp], out var reading)) continue;
            foreach (var order in HarmonicPrior.Orders)
            {
                if (order > reading.Phasors.Length) break;
                var index = (clamp * Highest) + order;
                table._phasors[index] = reading.Phasors[order - 1];
                table._noise[index] = reading.Noise[order - 1];
                var size = reading.Phasors[order - 1].Magnitude;
                // A linear load answers to the supply's distortion with up to about its own share.
                var driven = 1.5 * Distortion(readings, order) * reading.Phasors[0].Magnitude;
                var fundamental = reading.Phasors[0].Magnitude;
                if (size > 0 && fundamental > 0 && size > 0.005 * fundamental)
                    table._spread[index] = Math.Sqrt(Square(reading.Noise[order - 1]) + Square(0.6 * driven)) / size;
            }
        }

        return table;
    }

    private static double Distortion(PanelReadings readings, int order)
    {
        double largest = 0, most = 0;
        foreach (var (channel, reading) in readings.Harmonics)
        {
            if (channel < Channel.I1) largest = Math.Max(largest, reading.Phasors[0].Magnitude);
        }

        foreach (var (channel, reading) in readings.Harmonics)
        {
            if (channel >= Channel.I1 || order > reading.Phasors.Length || reading.Phasors[0].Magnitude < 0.3 * largest) continue;
            most = Math.Max(most, reading.Phasors[order - 1].Magnitude / reading.Phasors[0].Magnitude);
        }

        return most;
    }

    private static double Square(double value) => value * value;
}
