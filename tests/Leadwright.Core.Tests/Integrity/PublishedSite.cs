using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A site of two or three lines put together from the published day of a house: each line is that day, begun at another hour.</summary>
/// <remarks>
/// Source of the values: tests/data/README.md, interval. What the supply does in common is the running median over an hour of the day's voltage; what each line adds
/// is what the house's voltage did beyond it at the line's own hour, its loads' drop included. Loads, vars, rounding and the answer of the voltage to the load
/// are so those of a real house, none of them made by this project. Angles are those of the service: what a channel reads follows from the potentials of the
/// leads and the currents of the conductors by arithmetic.
/// </remarks>
internal sealed class PublishedSite
{
    private readonly double[][] _day;
    private readonly double[] _common;
    private readonly int[] _shifts;

    public PublishedSite(ServiceKind service, params int[] shiftMinutes)
    {
        (Service, _shifts) = (service, shiftMinutes);
        var lines = File.ReadAllLines(RepositoryFile.Path("data/interval/household-1min-2007-02-01.csv"))[1..];
        _day = [.. lines.Select(line => line.Split(';')).Select(cells => new[] { Number(cells[4]), Number(cells[5]), 1000 * Number(cells[2]), 1000 * Number(cells[3]) })];
        _common = [.. Enumerable.Range(0, Rows).Select(Median)];
    }

    public ServiceKind Service { get; }

    public int Rows => _day.Length;

    public static DateTime Start { get; } = new(2007, 2, 1);

    /// <summary>Potentials of the lines against the neutral, the neutral last: volts.</summary>
    public Phasor[] Potentials(int row)
    {
        var potentials = new Phasor[_shifts.Length + 1];
        for (var line = 0; line < _shifts.Length; line++)
        {
            var at = At(row, line);
            potentials[line] = Phasor.FromDegrees(_common[row] + _day[at][0] - _common[at], Angle(line));
        }

        return potentials;
    }

    /// <summary>Currents of the lines, their sum back in the neutral last: amperes.</summary>
    public Phasor[] Currents(int row)
    {
        var currents = new Phasor[_shifts.Length + 1];
        for (var line = 0; line < _shifts.Length; line++)
        {
            var at = At(row, line);
            currents[line] = Phasor.FromDegrees(_day[at][1], Angle(line) - (Math.Atan2(_day[at][3], _day[at][2]) * 180 / Math.PI));
            currents[^1] -= currents[line];
        }

        return currents;
    }

    /// <summary>The log of a recorder.</summary>
    /// <param name="hookup">Where each lead (the neutral's last; −1 the air) and each clamp are in a row, with the factor of each clamp, below zero when turned.</param>
    /// <param name="change">What else is done to a row: volts, amperes, watts, vars of each line in turn; null for nothing. False leaves the row out.</param>
    /// <param name="stamp">Moves a row's time, seconds; null for none.</param>
    /// <param name="hasVars">False leaves the vars out.</param>
    public IntervalLog Log(
        Func<int, (int[] Leads, int[] Clamps, double[] Factors)>? hookup = null, Func<int, double[], bool>? change = null, Func<int, double>? stamp = null, bool hasVars = true)
    {
        var count = _shifts.Length;
        var starts = new List<long>();
        var values = Enumerable.Range(0, 4 * count).Select(_ => new List<double>()).ToArray();
        int[] right = [.. Enumerable.Range(0, count + 1)];
        double[] ones = [.. right.Select(_ => 1.0)];
        var cells = new double[4 * count];
        for (var row = 0; row < Rows; row++)
        {
            var (leads, clamps, factors) = hookup?.Invoke(row) ?? (right, right, ones);
            Read(row, leads, clamps, factors, cells);
            if (change is not null && !change(row, cells)) continue;
            starts.Add(Start.AddMinutes(row).AddSeconds(stamp?.Invoke(row) ?? 0).Ticks);
            for (var index = 0; index < cells.Length; index++) values[index].Add(Math.Round(cells[index], index % 4 == 0 ? 1 : index % 4 == 1 ? 2 : 0));
        }

        LogQuantity[] quantities = [LogQuantity.Voltage, LogQuantity.Current, LogQuantity.ActivePower, LogQuantity.ReactivePower];
        int[] kept = [.. Enumerable.Range(0, cells.Length).Where(index => hasVars || index % 4 != 3)];
        return new IntervalLog(
            [.. kept.Select(index => new LogColumn($"{"VIPQ"[index % 4]}{(index / 4) + 1}", quantities[index % 4], LogPlace.Phase1 + (index / 4)))],
            [.. starts], [.. kept.Select(index => values[index].ToArray())], 60);
    }

    private void Read(int row, int[] leads, int[] clamps, double[] factors, double[] cells)
    {
        Phasor[] potentials = Potentials(row), currents = Currents(row);
        var count = _shifts.Length;
        var star = Phasor.Zero;
        if (leads[count] >= 0) star = potentials[leads[count]];
        else for (var line = 0; line < count; line++) star += potentials[leads[line]] / count;
        for (var channel = 0; channel < count; channel++)
        {
            // In the air a lead picks up three volts, a clamp a hundredth of an ampere.
            var volts = leads[channel] < 0 ? Phasor.FromDegrees(3, 17) : potentials[leads[channel]] - star;
            var amperes = clamps[channel] < 0 ? Phasor.FromDegrees(0.01, (row * 57) % 360) : factors[channel] * currents[clamps[channel]];
            var power = volts * amperes.Conjugate;
            (cells[4 * channel], cells[(4 * channel) + 1], cells[(4 * channel) + 2], cells[(4 * channel) + 3]) = (volts.Magnitude, amperes.Magnitude, power.Real, power.Imaginary);
        }
    }

    private int At(int row, int line) => (row + _shifts[line]) % Rows;

    private double Angle(int line) => Service == ServiceKind.Split ? 180 * line : -120 * line;

    private double Median(int row)
    {
        var near = Enumerable.Range(row - 30, 61).Where(at => at >= 0 && at < Rows).Select(at => _day[at][0]).Order().ToArray();
        return near[near.Length / 2];
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
