using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Maps;
using Leadwright.Core.Mending.Models;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Mending;

/// <summary>What a clamp carried beyond its range, from the voltage of its line.</summary>
public sealed class VoltageExcessTests
{
    private const int Count = 1008;

    // Behind 0.08 ohms, 40 A more than the 100 A that could be shown pull the voltage down by 3.2 V more than those explain.
    [Fact]
    public void The_fall_of_the_voltage_says_how_much_more_there_was()
    {
        var (lines, raw) = Cut(0.08);
        VoltageExcess.Put(lines, raw);
        var more = Enumerable.Range(400, 60).Average(slot => lines.CutExcess[0][slot]);
        var error = Enumerable.Range(400, 60).Average(slot => lines.CutErrors[0][slot]);
        Assert.Equal(0.4, more, 0.05);
        Assert.InRange(error, 0.05, 0.2);
    }

    [Fact]
    public void A_stiff_supply_says_nothing()
    {
        var (lines, raw) = Cut(0.0005);
        VoltageExcess.Put(lines, raw);
        Assert.True(double.IsNaN(lines.CutExcess[0][420]));
    }

    private static (LineSeries Lines, RawSeries Raw) Cut(double ohms)
    {
        var random = new SeededRandom(9);
        double[][] volts = [new double[Count], new double[Count], new double[Count]], amperes = [new double[Count], new double[Count], new double[Count]];
        for (var row = 0; row < Count; row++)
        {
            var supply = 231 + Math.Sin(row / 50.0);
            for (var line = 0; line < 3; line++)
            {
                amperes[line][row] = line == 0 && row is >= 400 and < 460 ? 140 : random.Uniform(20, 90);
                volts[line][row] = supply - (ohms * amperes[line][row]) + (0.3 * line) + (0.2 * random.Gaussian());
            }
        }

        var columns = Enumerable.Range(0, 3).SelectMany(line => new[] { new LogColumn($"V{line}", LogQuantity.Voltage, LogPlace.Phase1 + line), new LogColumn($"I{line}", LogQuantity.Current, LogPlace.Phase1 + line) });
        var start = new DateTime(2026, 3, 2);
        var log = new IntervalLog(
            [.. columns], [.. Enumerable.Range(0, Count).Select(row => start.AddMinutes(10 * row).Ticks)],
            [.. Enumerable.Range(0, 3).SelectMany(line => new[] { volts[line], (double[])[.. amperes[line].Select(ampere => Math.Min(100, ampere))] })], 600);
        var grid = new SlotGrid(log, GuardAnswer.Of(log, ImmutableArray<HookupPiece>.Empty));
        var raw = new RawSeries(log, grid, ServiceKind.Wye);
        var lines = new LineSeries(Count);
        for (var line = 0; line < 3; line++)
        {
            for (var row = 0; row < Count; row++)
            {
                (lines.Volts[line][row], lines.Amperes[line][row]) = (volts[line][row], Math.Min(100, amperes[line][row]));
                lines.ClipShares[line][row] = line == 0 && row is >= 400 and < 460 ? 1 : 0;
            }
        }

        return (lines, raw);
    }
}
