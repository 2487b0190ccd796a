using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Rows of seconds in which the load of each line steps once in fifty, as circuits have it, with 0.06 ohm in each conductor.</summary>
internal static class StepLog
{
    public const int Count = 4000;
    private const double Ohms = 0.06;

    /// <summary>Guards it.</summary>
    /// <param name="service">Wye or split.</param>
    /// <param name="isOff">True with the neutral lead in the air.</param>
    /// <param name="seconds">Length of a row.</param>
    /// <param name="gain">What the first clamp shows of its current, by row; null for all.</param>
    public static GuardReport Judge(ServiceKind service, bool isOff = false, double seconds = 1, Func<int, double>? gain = null)
    {
        var random = new SeededRandom(12);
        var lines = service == ServiceKind.Wye ? 3 : 2;
        var nominal = lines == 3 ? new NominalVoltage(230, 400) : new NominalVoltage(120, 240);
        var unit = nominal.LineToNeutralVolts;
        var amperes = Enumerable.Range(0, lines).Select(_ => new double[Count]).ToArray();
        var across = Enumerable.Range(0, lines).Select(_ => new double[Count]).ToArray();
        var volts = Enumerable.Range(0, lines).Select(_ => new double[Count]).ToArray();
        for (var line = 0; line < lines; line++)
        {
            double load = 20, lag = 0.3;
            for (var row = 0; row < Count; row++)
            {
                if (random.Chance(0.02)) (load, lag) = (random.Uniform(8, 45), random.Uniform(0, 0.6));
                amperes[line][row] = load * (1 + (0.001 * random.Gaussian()));
                across[line][row] = lag * amperes[line][row];
            }
        }

        for (var row = 0; row < Count; row++)
        {
            var all = amperes.Sum(column => column[row]);
            for (var line = 0; line < lines; line++)
            {
                double own = amperes[line][row], others = all - own;
                var fall = lines == 3
                    ? isOff ? ((2 * own) + (0.5 * others)) / 3 : (2 * own) - (0.5 * others)
                    : isOff ? 0.5 * all : (2 * own) - others;
                volts[line][row] = (unit * (1 + (0.004 * Math.Sin(row / 700.0)))) - (Ohms * fall) + (0.02 * random.Gaussian());
            }
        }

        var log = new PartLog(service, seconds: seconds) { Nominal = nominal };
        for (var line = 0; line < lines; line++)
        {
            double[] own = amperes[line], lagging = across[line], voltage = volts[line];
            if (line == 0 && gain is not null)
            {
                for (var row = 0; row < Count; row++) (own[row], lagging[row]) = (gain(row) * own[row], gain(row) * lagging[row]);
            }

            log.Volts(line, voltage).Amperes(line, PartLog.Rows(Count, row => Math.Sqrt((own[row] * own[row]) + (lagging[row] * lagging[row]))))
                .Watts(line, PartLog.Rows(Count, row => voltage[row] * own[row])).Vars(line, PartLog.Rows(Count, row => voltage[row] * lagging[row]));
        }

        var frame = log.ToFrame();
        return IntervalGuard.Judge(frame.Log, frame.Options, TestContext.Current.CancellationToken);
    }
}
