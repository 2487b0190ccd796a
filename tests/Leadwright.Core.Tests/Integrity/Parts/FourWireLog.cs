using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Minutes of a wye service worked out with whole phasors: three line conductors of one impedance, a neutral conductor, loads from each line to the neutral, and a recorder whose leads and clamps may be elsewhere for some rows.</summary>
/// <remarks>The impedances of a four-wire line to currents of positive and zero sequence are Z1 and Z1 + 3 Zn (any textbook of symmetrical components); nothing here is made linear.</remarks>
internal sealed class FourWireLog
{
    public const int Rows = 900;
    private const double Volts = 230;
    private readonly Complex[,] _loads = new Complex[Rows, 3];
    private readonly Complex[] _sources = new Complex[3];
    private readonly double[] _common = new double[Rows];
    private readonly double[][] _noise = [new double[Rows], new double[Rows], new double[Rows]];

    /// <param name="isAcb">True for lines that follow each other the other way about.</param>
    /// <param name="seed">Of the loads.</param>
    public FourWireLog(bool isAcb = false, ulong seed = 7)
    {
        var random = new SeededRandom(seed);
        for (var line = 0; line < 3; line++) _sources[line] = Complex.FromPolarCoordinates(Volts, (isAcb ? 1 : -1) * line * 2 * Math.PI / 3);
        double[] level = [20, 14, 26], lag = [0.3, 0.5, 0.4];
        for (var row = 0; row < Rows; row++)
        {
            _common[row] = 1 + (0.01 * Math.Sin(row / 60.0)) + (0.0004 * random.Gaussian());
            for (var line = 0; line < 3; line++)
            {
                // Something is switched on a line every few minutes.
                if (random.Uniform(0, 1) < 0.3) (level[line], lag[line]) = (random.Uniform(6, 34), random.Uniform(0, 0.8));
                _loads[row, line] = Complex.FromPolarCoordinates(level[line], -lag[line]);
                _noise[line][row] = 0.03 * random.Gaussian();
            }
        }
    }

    public Complex Line { get; init; } = new(0.05, 0.03);

    public Complex Neutral { get; init; } = new(0.05, 0.03);

    /// <summary>True in rows in which the neutral lead is in the air.</summary>
    public Func<int, bool> IsNeutralOff { get; init; } = _ => false;

    /// <summary>Conductors of the clamps in a row, 3 for the neutral.</summary>
    public Func<int, int[]> Clamps { get; init; } = _ => [0, 1, 2];

    /// <summary>What the clamps' readings are multiplied by in a row.</summary>
    public Func<int, double[]> Scales { get; init; } = _ => [1, 1, 1];

    public GuardFrame ToFrame()
    {
        double[][] volts = Three(), amperes = Three(), watts = Three(), vars = Three();
        for (var row = 0; row < Rows; row++)
        {
            // A load of a given current at a given angle to its own voltage.
            var currents = new Complex[4];
            var points = new Complex[3];
            for (var line = 0; line < 3; line++) (currents[line], points[line]) = (_loads[row, line] * _sources[line] / Volts, Complex.Zero);
            currents[3] = -(currents[0] + currents[1] + currents[2]);
            for (var line = 0; line < 3; line++) points[line] = (_common[row] * _sources[line]) - (Line * currents[line]);
            var star = IsNeutralOff(row) ? (points[0] + points[1] + points[2]) / 3 : -Neutral * currents[3];
            for (var channel = 0; channel < 3; channel++)
            {
                var across = points[channel] - star;
                var current = Scales(row)[channel] * currents[Clamps(row)[channel]];
                var power = across * Complex.Conjugate(current);
                (volts[channel][row], amperes[channel][row]) = (across.Magnitude + _noise[channel][row], current.Magnitude);
                (watts[channel][row], vars[channel][row]) = (power.Real, power.Imaginary);
            }
        }

        var log = new PartLog { Nominal = new NominalVoltage(230, 400) };
        for (var channel = 0; channel < 3; channel++) log.Volts(channel, volts[channel]).Amperes(channel, amperes[channel]).Watts(channel, watts[channel]).Vars(channel, vars[channel]);
        return log.ToFrame();
    }

    private static double[][] Three() => [new double[Rows], new double[Rows], new double[Rows]];
}
