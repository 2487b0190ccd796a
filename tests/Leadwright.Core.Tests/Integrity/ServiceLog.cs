using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>
/// A wye or split service by Kirchhoff's laws alone: what each line draws comes back through the neutral, and each input reads its source less what both conductors take,
/// V = E − z·I − zn·ΣI (derivation). What a clamp shows is its gain times the current that it surrounds, and powers are made of what the recorder reads.
/// </summary>
internal sealed class ServiceLog(int rows, double seconds, ServiceKind service = ServiceKind.Wye)
{
    private readonly SeededRandom _random = new(19);

    public static DateTime Start => PartLog.Start;

    /// <summary>Impedance of each line's conductor, ohms: some tens of metres of copper (common practice, no source).</summary>
    public Complex[] Lines { get; init; } = [new(0.06, 0.02), new(0.06, 0.02), new(0.06, 0.02)];

    public Complex Neutral { get; init; } = new(0.06, 0.02);

    /// <summary>Current of a line, amperes, by row and line: in phase with the source's voltage, and lagging it by a right angle.</summary>
    public required Func<int, int, (double InPhase, double Across)> Load { get; init; }

    /// <summary>A load between the two legs of a split service, amperes.</summary>
    public Func<int, double> Between { get; init; } = _ => 0;

    /// <summary>By how much a source's voltage is above its nominal one, by row and line, beside the noise.</summary>
    public Func<int, int, double> Lift { get; init; } = (row, _) => 0.006 * Math.Sin(row / 90.0);

    /// <summary>Noise of each line's source for itself, per unit.</summary>
    public double Noise { get; init; } = 0.0002;

    /// <summary>Noise of each input of the recorder, volts.</summary>
    public double OfInputs { get; init; } = 0.02;

    /// <summary>What a clamp shows over what flows, by row and clamp.</summary>
    public Func<int, int, double> Shows { get; init; } = (_, _) => 1;

    /// <summary>The line that a clamp surrounds, by row and clamp.</summary>
    public Func<int, int, int> On { get; init; } = (_, clamp) => clamp;

    /// <summary>True with the recorder's neutral lead in the air: of a split service the two inputs then halve what is between the legs.</summary>
    public bool IsNeutralOff { get; init; }

    /// <summary>Digits of the amperes behind the point.</summary>
    public int Digits { get; init; } = 3;

    /// <summary>What a clamp on nothing shows, amperes.</summary>
    public double OfClamps { get; init; }

    /// <summary>What was drawn through the lines, watt-hours.</summary>
    public double TrueWattHours { get; private set; }

    public NominalVoltage Nominal { get; } = service == ServiceKind.Split ? new NominalVoltage(120, 240) : new NominalVoltage(230, 400);

    public int Rows => rows;

    private int Count => service == ServiceKind.Split ? 2 : 3;

    /// <summary>The time at which a row starts.</summary>
    public DateTime At(int row) => Start.AddSeconds(row * seconds);

    public GuardOptions Options => new() { Service = service, Nominal = Nominal };

    public GuardReport Judge() => IntervalGuard.Judge(ToLog(), Options, TestContext.Current.CancellationToken);

    /// <summary>What the guard is sure of.</summary>
    public IReadOnlyList<GuardSpan> Sure() => [.. Judge().Spans.Where(span => !span.IsDoubtful)];

    public IntervalLog ToLog()
    {
        TrueWattHours = 0;
        var read = Enumerable.Range(0, 4 * Count).Select(_ => new double[rows]).ToArray();
        Complex[] sources = new Complex[Count], currents = new Complex[Count], volts = new Complex[Count];
        for (var row = 0; row < rows; row++)
        {
            for (var line = 0; line < Count; line++)
            {
                var turn = Complex.FromPolarCoordinates(1, -2 * Math.PI * line / Count);
                sources[line] = Nominal.LineToNeutralVolts * (1 + Lift(row, line) + (Noise * _random.Gaussian())) * turn;
                var (inPhase, across) = Load(row, line);
                currents[line] = new Complex(inPhase, -across) * turn;
            }

            // Out of one leg and into the other.
            for (var line = 0; line < 2; line++) currents[line] += Between(row) * Complex.FromPolarCoordinates(1, -2 * Math.PI * line / Count);
            var back = currents.Aggregate((sum, current) => sum + current);
            for (var line = 0; line < Count; line++) volts[line] = sources[line] - (Lines[line] * currents[line]) - (Neutral * back);
            for (var line = 0; line < Count; line++) TrueWattHours += (volts[line] * Complex.Conjugate(currents[line])).Real * seconds / 3600;
            if (IsNeutralOff) (volts[0], volts[1]) = ((volts[0] - volts[1]) / 2, (volts[1] - volts[0]) / 2);
            for (var line = 0; line < Count; line++)
            {
                var shown = Shows(row, line) * currents[On(row, line)];
                // Of any angle, so that a clamp on nothing has no power of its own.
                if (OfClamps > 0) shown += Complex.FromPolarCoordinates(OfClamps * Math.Abs(_random.Gaussian()), _random.Uniform(0, 2 * Math.PI));
                var power = volts[line] * Complex.Conjugate(shown);
                (read[line][row], read[Count + line][row]) = (Math.Round(volts[line].Magnitude + (OfInputs * _random.Gaussian()), 2), Math.Round(shown.Magnitude, Digits));
                (read[(2 * Count) + line][row], read[(3 * Count) + line][row]) = (Math.Round(power.Real, 1), Math.Round(power.Imaginary, 1));
            }
        }

        var log = new PartLog(service, seconds) { Nominal = Nominal };
        for (var line = 0; line < Count; line++) log.Volts(line, read[line]).Amperes(line, read[Count + line]).Watts(line, read[(2 * Count) + line]).Vars(line, read[(3 * Count) + line]);
        return log.ToLog();
    }

    /// <summary>Loads that come and go at random, each line's for itself, on top of a base and a working day.</summary>
    /// <param name="rows">How many rows.</param>
    /// <param name="seconds">Length of a row.</param>
    /// <param name="seed">Another seed, other loads.</param>
    /// <param name="lines">How many lines.</param>
    public static Func<int, int, (double InPhase, double Across)> Household(int rows, double seconds, ulong seed = 3, int lines = 3)
    {
        var random = new SeededRandom(seed);
        var made = new (double InPhase, double Across)[lines, rows];
        // A load stays for twenty minutes or so, however long the rows are.
        var change = Math.Min(0.7, seconds / 1200);
        for (var line = 0; line < lines; line++)
        {
            (double InPhase, double Across) on = (5, 1);
            for (var row = 0; row < rows; row++)
            {
                if (random.Chance(change)) on = (random.Uniform(0, 16), random.Uniform(0, 6));
                var hour = row * seconds / 3600 % 24;
                var day = hour is >= 7 and < 22 ? 1 : 0.35;
                made[line, row] = ((2.5 + (day * on.InPhase)) * (1 + (0.01 * random.Gaussian())), (0.8 + (day * on.Across)) * (1 + (0.01 * random.Gaussian())));
            }
        }

        return (row, line) => made[line, row];
    }
}
