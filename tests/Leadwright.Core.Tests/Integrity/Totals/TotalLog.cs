using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>Five days of ten-minute values of a three-wire site at 400 V of which the recorder writes voltages, currents and the total alone, worked out from potentials and currents as complex numbers.</summary>
internal sealed class TotalLog(bool hasTwoClamps)
{
    public const int Rows = 720;

    // No two voltages are alike to the last tenth of a percent.
    private static readonly Complex[] s_potentials = [At(231.4, 0), At(230.6, -120), At(230.9, 120)];

    /// <summary>By row: the conductor of each lead, and of each clamp with its direction (−1 turned).</summary>
    public Func<int, (int[] Leads, (int On, int Sign)[] Clamps)> Hookup { get; init; } = _ => Right;

    /// <summary>Angle of the loads by row, degrees, positive when they lag.</summary>
    public Func<int, double> Degrees { get; init; } = row => 30 + (3 * Math.Sin(row * 0.7));

    /// <summary>Amperes of the load by row.</summary>
    public Func<int, double> Amperes { get; init; } = row => 30 - (20 * Math.Cos(row * Math.PI / 72)) + (4 * Math.Sin(row * row * 0.37));

    public static (int[] Leads, (int On, int Sign)[] Clamps) Right => ([0, 1, 2], [(0, 1), (1, 1), (2, 1)]);

    public GuardReport Guard() => IntervalGuard.Judge(Part().ToLog(), new GuardOptions { Service = Service, Nominal = new NominalVoltage(400 / Math.Sqrt(3), 400), FrequencyHertz = 50 }, TestContext.Current.CancellationToken);

    public PartLog Part()
    {
        var columns = new double[8][];
        for (var column = 0; column < columns.Length; column++) columns[column] = new double[Rows];
        for (var row = 0; row < Rows; row++)
        {
            var (leads, clamps) = Hookup(row);
            Complex[] lines = [.. Enumerable.Range(0, 3).Select(line => Amperes(row) * (1 + (0.06 * Math.Sin((row * 1.3) + (2 * line)))) * Complex.FromPolarCoordinates(1, s_potentials[line].Phase - (Degrees(row) * Math.PI / 180)))];
            Complex[] shown = [.. clamps.Select(clamp => clamp.Sign * lines[clamp.On])];
            Complex Lead(int lead) => s_potentials[leads[lead]];
            var total = hasTwoClamps
                ? ((Lead(0) - Lead(1)) * Complex.Conjugate(shown[0])) + ((Lead(2) - Lead(1)) * Complex.Conjugate(shown[2]))
                : Enumerable.Range(0, 3).Aggregate(Complex.Zero, (sum, lead) => sum + ((Lead(lead) - ((Lead(0) + Lead(1) + Lead(2)) / 3)) * Complex.Conjugate(shown[lead])));
            for (var pair = 0; pair < 3; pair++) columns[pair][row] = (Lead(pair) - Lead((pair + 1) % 3)).Magnitude;
            for (var clamp = 0; clamp < 3; clamp++) columns[3 + clamp][row] = shown[clamp].Magnitude;
            (columns[6][row], columns[7][row]) = (total.Real, total.Imaginary);
        }

        var part = new PartLog(Service) { Nominal = new NominalVoltage(400 / Math.Sqrt(3), 400) };
        for (var pair = 0; pair < 3; pair++) part.Pair(pair, columns[pair]);
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (!hasTwoClamps || clamp != 1) part.Amperes(clamp, columns[3 + clamp]);
        }

        return part.With(LogQuantity.ActivePower, LogPlace.Whole, columns[6]).With(LogQuantity.ReactivePower, LogPlace.Whole, columns[7]);
    }

    private ServiceKind Service => hasTwoClamps ? ServiceKind.DeltaTwoClamp : ServiceKind.Delta;

    private static Complex At(double size, double degrees) => Complex.FromPolarCoordinates(size, degrees * Math.PI / 180);
}
