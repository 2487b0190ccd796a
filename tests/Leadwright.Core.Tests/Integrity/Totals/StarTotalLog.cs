using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>Five days of ten-minute values of a site with a neutral whose recorder writes voltages, currents and the total alone, often in watts only, worked out from potentials and currents as complex numbers. Each
/// line has a course of the day and appliances of its own, that come and go by a fixed generator of chance.</summary>
internal sealed class StarTotalLog(ServiceKind service = ServiceKind.Wye)
{
    public const int Rows = 720;
    private static readonly double[] s_degrees = [14, 22, 18];

    /// <summary>Conductor and direction of each clamp by row.</summary>
    public Func<int, (int On, int Sign)[]> Clamps { get; init; } = _ => Right;

    /// <summary>True to write vars as well.</summary>
    public bool HasVars { get; init; }

    /// <summary>Kilowatts of generation on each line by row; above nothing anywhere the site is declared to send power back.</summary>
    public Func<int, double> Generation { get; init; } = _ => 0;

    /// <summary>A further load on line A by row, kilovolt-amperes.</summary>
    public Func<int, Complex> Further { get; init; } = _ => 0;

    public static (int On, int Sign)[] Right => [(0, 1), (1, 1), (2, 1)];

    private int Lines => service == ServiceKind.Split ? 2 : 3;

    private NominalVoltage Nominal => service == ServiceKind.Split ? new NominalVoltage(120, 240) : new NominalVoltage(230, 400);

    /// <summary>The energy that went to the site, kilowatt-hours.</summary>
    public double KilowattHours => Made().True;

    public GuardReport Guard() => IntervalGuard.Judge(Made().Log.ToLog(), Options, TestContext.Current.CancellationToken);

    public IntervalLog ToLog() => Made().Log.ToLog();

    private GuardOptions Options => new() { Service = service, Nominal = Nominal, FrequencyHertz = 50, Check = new CheckOptions { MayExport = Enumerable.Range(0, Rows).Any(row => Generation(row) > 0) } };

    private (PartLog Log, double True) Made()
    {
        var chance = new Random(11);
        var columns = new double[8][];
        for (var column = 0; column < columns.Length; column++) columns[column] = new double[Rows];
        var on = new bool[3, 3];
        double energy = 0, common = 0;
        for (var row = 0; row < Rows; row++)
        {
            var hour = row % 144 / 6.0;
            common = (0.9 * common) + (0.002 * ((2 * chance.NextDouble()) - 1));
            var volts = new Complex[3];
            var lines = new Complex[3];
            for (var line = 0; line < Lines; line++)
            {
                var phase = service == ServiceKind.Split ? Math.PI * line : -2 * Math.PI / 3 * line;
                var load = (2 + (4 * Math.Exp(-Math.Pow((hour - 12 - line) / 4, 2))) + (0.3 * chance.NextDouble())) * Complex.FromPolarCoordinates(1, s_degrees[line] * Math.PI / 180);
                for (var appliance = 0; appliance < 3; appliance++)
                {
                    if (chance.NextDouble() < 0.15) on[line, appliance] = !on[line, appliance];
                    if (on[line, appliance]) load += (0.6 + (0.5 * appliance)) * Complex.FromPolarCoordinates(1, 0.3 * appliance);
                }

                load += (line == 0 ? Further(row) : 0) - Generation(row);
                volts[line] = Complex.FromPolarCoordinates((Nominal.LineToNeutralVolts * (1 + common + (0.006 * line))) - (0.4 * load.Magnitude), phase);
                lines[line] = Complex.Conjugate(1000 * load / volts[line]);
                energy += load.Real / 6;
            }

            var total = Complex.Zero;
            for (var clamp = 0; clamp < Lines; clamp++)
            {
                var (place, sign) = Clamps(row)[clamp];
                total += volts[clamp] * Complex.Conjugate(sign * lines[place]);
                columns[clamp][row] = Math.Round(volts[clamp].Magnitude, 1);
                columns[3 + clamp][row] = Math.Round(lines[place].Magnitude * (1 + (3e-4 * ((2 * chance.NextDouble()) - 1))), 2);
            }

            (columns[6][row], columns[7][row]) = (Math.Round(total.Real), Math.Round(total.Imaginary));
        }

        var log = new PartLog(service) { Nominal = Nominal };
        for (var line = 0; line < Lines; line++) log = log.Volts(line, columns[line]).Amperes(line, columns[3 + line]);
        log = log.With(LogQuantity.ActivePower, LogPlace.Whole, columns[6]);
        return (HasVars ? log.With(LogQuantity.ReactivePower, LogPlace.Whole, columns[7]) : log, energy);
    }
}
