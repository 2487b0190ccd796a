using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Minutes of a wye service behind a source of 0.06 ohm and half as much reactance. A line that draws I loses R·I and half of that comes upon each other line, so that
/// against the mean of the others it moves by 1.5·R·I, and by half as much the other way for what another draws.</summary>
internal sealed class SourceLog
{
    public const int Rows = 800;
    public const double Ohms = 0.06, Reactance = 0.03, Unit = 230;
    private readonly bool _hasPowers;

    /// <param name="hasPowers">True for watts and vars of each phase, and loads that lag.</param>
    /// <param name="load">Amperes in phase by row and line; null for 10 to 30 at random.</param>
    /// <param name="lift">What the supply does to all voltages by row; null for one percent, slowly.</param>
    public SourceLog(bool hasPowers, Func<int, int, double>? load = null, Func<int, double>? lift = null)
    {
        _hasPowers = hasPowers;
        var random = new SeededRandom(31);
        for (var row = 0; row < Rows; row++)
        {
            var common = lift?.Invoke(row) ?? 1 + (0.01 * Math.Sin(row / 50.0));
            for (var line = 0; line < 3; line++) Volts[line][row] = (Unit * common) + (0.02 * random.Gaussian());
            for (var line = 0; line < 3; line++)
            {
                var (inPhase, across) = (random.Uniform(10, 30), random.Uniform(0, 10));
                Draw(row, line, load?.Invoke(row, line) ?? inPhase, hasPowers ? across : 0);
            }
        }
    }

    public double[][] Volts { get; } = Three();

    public double[][] InPhase { get; } = Three();

    public double[][] Across { get; } = Three();

    public double[][] Amperes { get; } = Three();

    /// <summary>A load that comes, and is answered.</summary>
    public void Draw(int row, int line, double inPhase, double across = 0)
    {
        InPhase[line][row] += inPhase;
        Across[line][row] += across;
        Amperes[line][row] = Math.Sqrt((InPhase[line][row] * InPhase[line][row]) + (Across[line][row] * Across[line][row]));
        var drop = (Ohms * inPhase) + (Reactance * across);
        for (var other = 0; other < 3; other++) Volts[other][row] -= other == line ? drop : -0.5 * drop;
    }

    /// <summary>What a clamp shows is multiplied, and no voltage answers.</summary>
    public void Scale(int row, int line, double factor)
    {
        InPhase[line][row] *= factor;
        Across[line][row] *= factor;
        Amperes[line][row] *= factor;
    }

    public GuardFrame ToFrame(Func<int, bool>? isMissing = null, bool hasWattsAlone = false, double seconds = 60)
    {
        var log = new PartLog(seconds: seconds) { Nominal = new NominalVoltage(230, 400), IsMissing = isMissing ?? (_ => false) };
        for (var line = 0; line < 3; line++)
        {
            log.Volts(line, Volts[line]).Amperes(line, Amperes[line]);
            if (_hasPowers || hasWattsAlone) log.Watts(line, PartLog.Rows(Rows, row => Volts[line][row] * InPhase[line][row]));
            if (_hasPowers) log.Vars(line, PartLog.Rows(Rows, row => Volts[line][row] * Across[line][row]));
        }

        return log.ToFrame();
    }

    private static double[][] Three() => [new double[Rows], new double[Rows], new double[Rows]];
}
