using Leadwright.Core.Logs;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>The table of voltage quality that a recorder writes beside its log: rms voltages and P<sub>st</sub> by ten minutes.</summary>
/// <remarks>
/// <para>The flicker of the switched load is measured, by the flickermeter, on a wave that changes as the load makes it; it then goes with the size of the changes, as the
/// meter does (P<sub>inst</sub> with the square of a small change, P<sub>st</sub> with its root). What ordinary loads add is drawn; both are put together as cubes
/// (IEC TR 61000-3-7, summation with exponent 3).</para>
/// <para>A lead that is off, or a supply that is out, has no flicker to measure: the cell is empty.</para>
/// </remarks>
public static class FlickerWeek
{
    private const int TableSeconds = 600;
    private const double RateHertz = 2000;
    private const double DeadShare = 0.5;
    private const int BlockFrames = 2000;

    /// <summary>Makes the table of a week with four wires.</summary>
    /// <param name="week">The week; its interval goes into ten minutes a whole number of times, and it has voltages to neutral.</param>
    /// <param name="source">The load that flickers.</param>
    /// <exception cref="ArgumentException">The week has no voltages to neutral, or its interval does not fit.</exception>
    public static IntervalLog Table(VirtualWeek week, FlickerSource source)
    {
        ArgumentNullException.ThrowIfNull(week);
        ArgumentNullException.ThrowIfNull(source);
        var (log, recipe) = (week.Log, week.Recipe);
        if (TableSeconds % recipe.IntervalSeconds != 0) throw new ArgumentException($"Ten minutes are no whole number of intervals of {recipe.IntervalSeconds} s.", nameof(week));
        int[] volts = [log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1), log.IndexOf(LogQuantity.Voltage, LogPlace.Phase2), log.IndexOf(LogQuantity.Voltage, LogPlace.Phase3)];
        if (volts.Any(column => column < 0)) throw new ArgumentException("The week has no voltages to neutral.", nameof(week));

        var unit = ShortTerm(source.ChangesPerMinute, source.ChangePercent, recipe.Hertz);
        var random = new SeededRandom(recipe.Seed).Fork(9);
        var (starts, rms, pst) = (new List<long>(), NewColumns(), NewColumns());
        const long Length = TableSeconds * TimeSpan.TicksPerSecond;
        for (var row = 0; row < log.Count;)
        {
            var start = log.Starts.Span[row] / Length * Length;
            var (squares, least, count) = (new double[3], new[] { double.MaxValue, double.MaxValue, double.MaxValue }, 0);
            for (; row < log.Count && log.Starts.Span[row] / Length * Length == start; row++, count++)
            {
                for (var line = 0; line < 3; line++)
                {
                    var value = log.Values(volts[line])[row];
                    squares[line] += value * value;
                    least[line] = Math.Min(least[line], value);
                }
            }

            var work = WorkAt(source, new DateTime(start)) * random.Uniform(0.75, 1.1);
            starts.Add(start);
            for (var line = 0; line < 3; line++)
            {
                var own = unit * work * (line == source.Line ? 1 : source.OtherLinesShare);
                var others = random.LogUniform(0.12, 0.4);
                rms[line].Add(Math.Round(Math.Sqrt(squares[line] / count), 1));
                pst[line].Add(least[line] < DeadShare * recipe.Nominal.LineToNeutralVolts ? double.NaN : Math.Round(Math.Cbrt(Math.Pow(own, 3) + Math.Pow(others, 3)), 3));
            }
        }

        return new IntervalLog(
            [
                .. Enumerable.Range(0, 3).Select(line => new LogColumn($"V{line + 1}", LogQuantity.Voltage, LogPlace.Phase1 + line, LogStatistic.Mean)),
                .. Enumerable.Range(0, 3).Select(line => new LogColumn($"Pst{line + 1}", LogQuantity.ShortTermFlicker, LogPlace.Phase1 + line, LogStatistic.Mean)),
            ],
            [.. starts], [.. rms.Select(values => values.ToArray()), .. pst.Select(values => values.ToArray())], TableSeconds);
    }

    /// <summary>P<sub>st</sub> of ten minutes of a supply that changes in steps, alike up and down.</summary>
    /// <param name="changesPerMinute">Changes a minute; above zero.</param>
    /// <param name="changePercent">Size of each change, percent of the voltage; above zero.</param>
    /// <param name="hertz">50 or 60.</param>
    public static double ShortTerm(double changesPerMinute, double changePercent, double hertz)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(changesPerMinute);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(changePercent);
        var meter = new FlickerMeter(RateHertz, hertz, FlickerLamp.Volts230);
        var frames = new float[BlockFrames * Lane.Count];
        var whole = (long)((FlickerMeter.SettlingSeconds + TableSeconds) * RateHertz);
        for (long first = 0; first < whole; first += BlockFrames)
        {
            var count = (int)Math.Min(BlockFrames, whole - first);
            for (var index = 0; index < count; index++)
            {
                var seconds = (first + index) / RateHertz;
                var isUp = (long)(seconds * changesPerMinute / 60) % 2 == 0;
                frames[index * Lane.Count] = (float)((1 + (isUp ? changePercent / 200 : -changePercent / 200)) * Math.Sin(2 * Math.PI * hertz * seconds));
            }

            meter.Add(frames.AsSpan(0, count * Lane.Count));
        }

        return meter.Classes(0).Pst();
    }

    private static double WorkAt(FlickerSource source, DateTime start) =>
        start.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday) && start.TimeOfDay.TotalHours >= source.FromHour && start.TimeOfDay.TotalHours < source.ToHour ? 1 : 0;

    private static List<double>[] NewColumns() => [[], [], []];
}
