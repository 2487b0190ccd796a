using System.Collections.Immutable;
using System.Numerics;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>How a site of <see cref="OtherSite"/> uses power over the day.</summary>
public enum OtherLoad
{
    /// <summary>Two shifts on weekdays, machines of three lines in cycles, lights on single lines.</summary>
    Factory,

    /// <summary>Nobody at home: a base load, refrigeration, a heater by night.</summary>
    EmptyHouse,

    /// <summary>A house that exports at noon, with clouds.</summary>
    SolarHouse,

    /// <summary>Pumps of three lines by level switches, next to nothing beside them.</summary>
    MotorPlant,

    /// <summary>Welders between two lines, seconds at a time, lights and heaters on single lines.</summary>
    Welding,
}

/// <summary>Which columns its recorder writes.</summary>
public enum OtherColumns
{
    /// <summary>Volts, amperes, watts, vars.</summary>
    All,

    /// <summary>Volts, amperes, watts.</summary>
    NoVars,

    /// <summary>Volts and amperes.</summary>
    VoltsAmperes,

    /// <summary>Watts of all lines together, and a counter.</summary>
    Totals,
}

/// <summary>
/// A four-wire site of 230/400 V made another way than Core/Panels makes its weeks: loads are events with a start and a length drawn beforehand, of a fixed impedance or a
/// fixed power; node voltages are found by repeated substitution through a source and a neutral impedance; mean values are energies over the interval, rms ones roots of
/// mean squares. Nothing of it is shared with that generator but the arithmetic of complex numbers. Sizes are assumed (common practice, no source).
/// </summary>
internal sealed class OtherSite
{
    private static readonly Complex s_turn = Complex.FromPolarCoordinates(1, -2 * Math.PI / 3);
    private readonly Random _random;
    private readonly OtherLoad _load;
    private readonly int _step;
    private readonly int _steps;
    private readonly Complex[][] _wanted;
    private readonly bool[][] _isWinding;
    private readonly double _ohms;

    public OtherSite(OtherLoad load, int seed, double days, int stepSeconds)
    {
        (_load, _step, _random, Days) = (load, stepSeconds, new Random(seed), days);
        _steps = (int)(days * 86400 / stepSeconds);
        _wanted = [new Complex[_steps], new Complex[_steps], new Complex[_steps]];
        _isWinding = [new bool[_steps], new bool[_steps], new bool[_steps]];
        _ohms = load is OtherLoad.EmptyHouse or OtherLoad.SolarHouse ? 0.16 : 0.05;
        Draw();
    }

    public double Days { get; }

    /// <summary>A Monday at half past nine: recorders are hung when people work.</summary>
    public static DateTime Start { get; } = new(2025, 9, 8, 9, 30, 0);

    /// <summary>Conductor of each lead and clamp (0 to 2 the lines, 3 the neutral, −1 the air), with the factor of each clamp.</summary>
    public sealed record Hung(int[] Leads, int[] Clamps, double[] Factors)
    {
        public static Hung Right { get; } = new([0, 1, 2, 3], [0, 1, 2], [1, 1, 1]);
    }

    /// <summary>What the recorder writes.</summary>
    /// <param name="columns">Its columns.</param>
    /// <param name="intervalSeconds">Its interval.</param>
    /// <param name="hung">Where leads and clamps are, by seconds from the start; null for right.</param>
    /// <param name="supply">What is left of each line's source voltage, by seconds; null for all.</param>
    public IntervalLog Record(OtherColumns columns, int intervalSeconds, Func<double, Hung>? hung = null, Func<double, double[]>? supply = null)
    {
        var noise = new Random(77);
        double[] gains = [1.0008, 0.9991, 1.0004, 1.006, 0.996, 1.003];
        double[] lags = [0.004, -0.007, 0.009];
        var perRow = intervalSeconds / _step;
        var rows = _steps / perRow;
        var values = Enumerable.Range(0, 14).Select(_ => new double[rows]).ToArray();
        var (sums, lines, currents) = (new double[12], new Complex[4], new Complex[4]);
        double wander = 0, counter = 0;
        var ghost = Complex.FromPolarCoordinates(0.035 * 230, 1.1);
        for (var row = 0; row < rows; row++)
        {
            Array.Clear(sums);
            for (var at = row * perRow; at < (row + 1) * perRow; at++)
            {
                var seconds = (at + 0.5) * _step;
                wander += (-wander * _step / 7000) + (0.9 * Math.Sqrt(_step / 7000.0) * Gauss(noise));
                var hour = Start.AddSeconds(seconds).TimeOfDay.TotalHours;
                var level = 231 + wander + (1.4 * Math.Cos((hour - 4) * Math.PI / 12)) + (0.1 * Gauss(noise));
                Solve(at, level, supply?.Invoke(seconds) ?? [1, 1, 1], noise, lines, currents);
                var place = hung?.Invoke(seconds) ?? Hung.Right;
                var star = place.Leads[3] >= 0 ? lines[place.Leads[3]] : (lines[0] + lines[1] + lines[2]) / 3;
                for (var channel = 0; channel < 3; channel++)
                {
                    var volts = gains[channel] * (place.Leads[channel] < 0 ? ghost : lines[place.Leads[channel]] - star);
                    var amperes = place.Clamps[channel] < 0
                        ? Complex.FromPolarCoordinates(0.02, 6 * noise.NextDouble())
                        : gains[3 + channel] * place.Factors[channel] * Complex.FromPolarCoordinates(1, lags[channel]) * currents[place.Clamps[channel]];
                    var power = volts * Complex.Conjugate(amperes);
                    sums[channel] += (volts * Complex.Conjugate(volts)).Real;
                    sums[3 + channel] += (amperes * Complex.Conjugate(amperes)).Real;
                    sums[6 + channel] += power.Real;
                    sums[9 + channel] += power.Imaginary;
                }
            }

            for (var channel = 0; channel < 3; channel++)
            {
                values[channel][row] = Math.Round(Math.Sqrt(sums[channel] / perRow), 2);
                values[3 + channel][row] = Math.Round(Math.Sqrt(sums[3 + channel] / perRow), 3);
                values[6 + channel][row] = Math.Round(sums[6 + channel] / perRow, 1);
                values[9 + channel][row] = Math.Round(sums[9 + channel] / perRow, 1);
            }

            values[12][row] = values[6][row] + values[7][row] + values[8][row];
            values[13][row] = Math.Round(counter += values[12][row] * intervalSeconds / 3600);
        }

        var kept = ImmutableArray.CreateBuilder<LogColumn>();
        var data = new List<double[]>();
        void Keep(string name, LogQuantity quantity, int from, bool isKept)
        {
            for (var channel = 0; isKept && channel < 3; channel++)
            {
                kept.Add(new LogColumn($"{name}{channel + 1}", quantity, LogPlace.Phase1 + channel));
                data.Add(values[from + channel]);
            }
        }

        Keep("V", LogQuantity.Voltage, 0, columns != OtherColumns.Totals);
        Keep("I", LogQuantity.Current, 3, columns != OtherColumns.Totals);
        Keep("P", LogQuantity.ActivePower, 6, columns is OtherColumns.All or OtherColumns.NoVars);
        Keep("Q", LogQuantity.ReactivePower, 9, columns == OtherColumns.All);
        if (columns == OtherColumns.Totals)
        {
            kept.Add(new LogColumn("P", LogQuantity.ActivePower));
            kept.Add(new LogColumn("Wh", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter));
            data.AddRange([values[12], values[13]]);
        }

        return new IntervalLog(kept.ToImmutable(), [.. Enumerable.Range(0, rows).Select(row => Start.AddSeconds((double)row * intervalSeconds).Ticks)], [.. data], intervalSeconds);
    }

    private void Solve(int at, double level, double[] supply, Random noise, Complex[] lines, Complex[] currents)
    {
        Complex source = new(_ohms, 0.4 * _ohms), neutral = new(1.3 * _ohms, 0.3 * _ohms);
        var ideal = new Complex[3];
        for (var line = 0; line < 3; line++) ideal[line] = level * supply[line] * (1 + (line * 0.002) + (0.00015 * Gauss(noise))) * Complex.Pow(s_turn, line);
        for (var line = 0; line < 3; line++) (lines[line], currents[line]) = (ideal[line], 0);
        lines[3] = 0;
        for (var round = 0; round < 5; round++)
        {
            for (var line = 0; line < 3; line++)
            {
                var volts = lines[line] - lines[3];
                var size = Math.Max(1, volts.Magnitude);
                // Resistive loads draw with the voltage, machines against it, and nothing without it.
                var wanted = _wanted[line][at] * (_isWinding[line][at] ? Math.Min(1, size / 160) : size * size / (230 * 230));
                currents[line] = volts.Magnitude < 20 ? 0 : Complex.Conjugate(wanted / volts);
            }

            currents[3] = -(currents[0] + currents[1] + currents[2]);
            for (var line = 0; line < 3; line++) lines[line] = ideal[line] - (source * currents[line]);
            lines[3] = -neutral * currents[3];
        }
    }

    private void Draw()
    {
        switch (_load)
        {
            case OtherLoad.Factory:
                for (var line = 0; line < 3; line++) Base(line, 900 + (300 * line), 0.95, 0.05);
                Events(-1, 9000, 0.82, 900, hour => hour is >= 6 and < 22 ? 0.55 : 0.03, true);
                Events(-1, 5000, 0.78, 240, hour => hour is >= 6 and < 22 ? 0.4 : 0.02, true);
                for (var line = 0; line < 3; line++)
                {
                    Events(line, 3200, 0.97, 5400, hour => hour is >= 6 and < 22 ? 0.8 : 0.1, true);
                    Events(line, 1500, 1, 500, hour => hour is >= 6 and < 22 ? 0.4 : 0.02, true);
                }

                break;
            case OtherLoad.EmptyHouse:
                for (var line = 0; line < 3; line++) Base(line, 60 + (50 * line), 0.9, 0.04);
                Events(0, 140, 0.75, 700, _ => 0.4, false);
                Events(1, 90, 0.7, 1100, _ => 0.35, false);
                Events(2, 2000, 1, 2400, hour => hour is < 5 or >= 22 ? 0.5 : 0.02, false);
                Events(0, 700, 1, 900, hour => hour is >= 17 and < 23 ? 0.3 : 0.05, false);
                break;
            case OtherLoad.SolarHouse:
                for (var line = 0; line < 3; line++)
                {
                    Base(line, 150 + (60 * line), 0.92, 0.06);
                    Events(line, 1800, 1, 800, hour => hour is >= 6 and < 23 ? 0.15 : 0.03, false);
                    Events(line, 500, 0.85, 1500, _ => 0.3, false);
                }

                Sun(5200);
                break;
            case OtherLoad.MotorPlant:
                for (var line = 0; line < 3; line++) Base(line, 250 + (90 * line), 0.9, 0.05);
                Events(-1, 15000, 0.84, 1500, _ => 0.45, false);
                Events(-1, 11000, 0.8, 2600, _ => 0.35, false);
                Events(1, 600, 1, 4000, hour => hour is >= 7 and < 17 ? 0.7 : 0.1, false);
                break;
            default:
                for (var line = 0; line < 3; line++)
                {
                    Base(line, 700 + (150 * line), 0.96, 0.05);
                    Events(line, 1600, 1, 1800, hour => hour is >= 7 and < 16 ? 0.5 : 0.05, true);
                }

                for (var pair = 0; pair < 3; pair++) Weld(pair, 9000);
                break;
        }
    }

    private void Base(int line, double watts, double factor, double spread)
    {
        double wander = 0;
        for (var at = 0; at < _steps; at++)
        {
            wander += (-wander * _step / 1500) + (spread * Math.Sqrt(2.0 * _step / 1500) * Gauss(_random));
            Put(line, at, Power(watts * Math.Max(0.3, 1 + wander), factor), false);
        }
    }

    /// <summary>A load that is on for about a time, as often as makes its share of the hour; line −1 for three lines.</summary>
    private void Events(int line, double watts, double factor, double seconds, Func<int, double> share, bool isWeekday)
    {
        for (double from = 600 * _random.NextDouble(); from < _steps * (double)_step;)
        {
            var time = Start.AddSeconds(from);
            var part = isWeekday && time.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday ? 0.02 : share(time.Hour);
            var length = seconds * (0.4 + (1.2 * _random.NextDouble()));
            if (_random.NextDouble() < part)
            {
                for (var at = (int)(from / _step); at < Math.Min(_steps, (from + length) / _step); at++) PutAll(line, at, Power(watts, factor), factor < 0.95);
            }

            from += length;
        }
    }

    /// <summary>Between two lines: the same current in both, thirty degrees to either side.</summary>
    private void Weld(int pair, double watts)
    {
        for (var at = 0; at < _steps; at++)
        {
            var time = Start.AddSeconds((double)at * _step);
            if (time.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday || time.Hour is < 7 or >= 16 || _random.NextDouble() > 0.12) continue;
            var half = Power(watts, 0.6) / 2 * (0.3 + (0.7 * _random.NextDouble()));
            Put(pair, at, half * new Complex(1, Math.Tan(Math.PI / 6)), true);
            Put((pair + 1) % 3, at, half * new Complex(1, -Math.Tan(Math.PI / 6)), true);
        }
    }

    private void Sun(double watts)
    {
        double cloud = 0.8;
        for (var at = 0; at < _steps; at++)
        {
            var hour = Start.AddSeconds((double)at * _step).TimeOfDay.TotalHours;
            cloud = Math.Clamp(cloud + (0.05 * Math.Sqrt(_step / 60.0) * Gauss(_random)), 0.15, 1);
            if (hour is > 6.5 and < 19.5) PutAll(-1, at, -watts * cloud * Math.Sin((hour - 6.5) * Math.PI / 13), false);
        }
    }

    private void PutAll(int line, int at, Complex power, bool isWinding)
    {
        if (line >= 0)
        {
            Put(line, at, power, isWinding);
            return;
        }

        for (var each = 0; each < 3; each++) Put(each, at, power / 3, isWinding);
    }

    private void Put(int line, int at, Complex power, bool isWinding)
    {
        _wanted[line][at] += power;
        _isWinding[line][at] |= isWinding;
    }

    private static Complex Power(double watts, double factor) => new(watts, watts * Math.Sqrt(1 - (factor * factor)) / factor);

    private static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
