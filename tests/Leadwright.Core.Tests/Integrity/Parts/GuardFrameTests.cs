using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What is taken from a log, and in what units.</summary>
public sealed class GuardFrameTests
{
    private const int Count = 12;

    // The usual voltage nearest on a logarithmic scale, within 12 %; anything else is its own nominal.
    [Theory]
    [InlineData(118, 120)]
    [InlineData(236, 240)]
    [InlineData(234, 230)]
    [InlineData(281, 277)]
    [InlineData(71, 69.3)]
    [InlineData(100, 100)]
    [InlineData(180, 180)]
    public void A_nominal_voltage_that_is_not_stated_is_the_usual_one_nearest_to_the_readings(double reads, double nominal)
    {
        var frame = new PartLog().Volts(0, PartLog.Steady(Count, reads)).Volts(1, PartLog.Steady(Count, reads)).Volts(2, PartLog.Steady(Count, 0)).ToFrame();
        Assert.Equal(nominal, frame.UnitVolts, 1e-9);
        Assert.Equal(reads / nominal, frame.Volts[0]![3], 1e-12);
    }

    [Fact]
    public void Pairs_are_per_unit_of_the_voltage_between_lines()
    {
        var log = new PartLog();
        for (var pair = 0; pair < 3; pair++) log.Pair(pair, PartLog.Steady(Count, 478));
        var frame = log.ToFrame();
        Assert.True(frame.IsPairs);
        Assert.Equal(277 * Math.Sqrt(3), frame.UnitVolts, 0.3);
        Assert.Equal(478 / 479.8, frame.Volts[2]![0], 1e-3);
    }

    [Fact]
    public void A_current_that_its_powers_bear_out_is_taken_at_their_angle_and_one_that_was_switched_from_the_powers_alone()
    {
        // 2300 VA at 230 V and a factor of 0.8: 10 A. Read as 10.01 A it is the same current, as 12 A that of a load on for a part of the interval only.
        var frame = Wye(230, 1840, 1380, [10.01, 12, 10.03], false);
        Assert.True(frame.TryMeanCurrent(0, 0, out var inPhase, out var across));
        Assert.Equal((8.008, 6.006), (Math.Round(inPhase, 9), Math.Round(across, 9)));
        Assert.True(frame.TryMeanCurrent(0, 1, out inPhase, out across));
        Assert.Equal((8, 6), (Math.Round(inPhase, 9), Math.Round(across, 9)));
        // Three thousandths are more than the inputs differ by.
        Assert.True(frame.TryMeanCurrent(0, 2, out inPhase, out _));
        Assert.Equal(8, inPhase, 1e-9);
    }

    [Fact]
    public void Of_a_voltage_that_is_not_sound_or_a_site_that_exports_no_mean_current_is_taken()
    {
        Assert.False(Wye(115, 1840, 1380, [10, 10, 10], false).TryMeanCurrent(0, 0, out var inPhase, out _));
        Assert.True(double.IsNaN(inPhase));
        Assert.False(Wye(230, 1840, 1380, [10, 10, 10], true).TryMeanCurrent(0, 0, out _, out _));
    }

    [Fact]
    public void Of_three_wires_a_line_stands_from_the_middle_of_its_triangle_by_its_side_over_root_three()
    {
        // 400 V between all lines: 230.94 V from the middle, and 2309.4 W are 10 A. With pairs of 420, 400 and 380 V line 1 lies between the first and the last: s² = (2·420² + 2·380² − 400²)/9.
        Assert.Equal(10, OfThreeWires(400, 400, 400, 10 * 400 / Math.Sqrt(3)), 1e-9);
        var volts = Math.Sqrt(((2 * 420 * 420) + (2 * 380 * 380) - (400 * 400)) / 9.0);
        Assert.Equal(10, OfThreeWires(420, 400, 380, 10 * volts), 1e-9);
    }

    [Fact]
    public void Two_elements_have_no_middle_clamp_and_the_second_may_be_called_two()
    {
        var frame = new PartLog(ServiceKind.DeltaTwoClamp).Pair(0, PartLog.Steady(Count, 400)).Amperes(0, PartLog.Steady(Count, 4)).Amperes(1, PartLog.Steady(Count, 5))
            .Amperes(2, PartLog.Steady(Count, 6)).Watts(0, PartLog.Steady(Count, 100)).Watts(1, PartLog.Steady(Count, 200)).ToFrame();
        Assert.Null(frame.Amperes[1]);
        Assert.Equal(6, frame.Amperes[2]![0]);
        Assert.Null(frame.Watts[1]);
        Assert.Equal(200, frame.Watts[2]![0]);
    }

    [Fact]
    public void One_line_is_read_from_the_columns_of_the_whole()
    {
        var frame = new PartLog(ServiceKind.Single).With(LogQuantity.Voltage, LogPlace.Whole, PartLog.Steady(Count, 231)).With(LogQuantity.Current, LogPlace.Whole, PartLog.Steady(Count, 7)).ToFrame();
        Assert.Equal(231 / 230.0, frame.Volts[0]![0], 1e-12);
        Assert.Equal(7, frame.Amperes[0]![0]);
        Assert.False(frame.HasWatts);
    }

    [Fact]
    public void What_repeated_is_left_out_from_its_first_row_to_its_last_with_the_powers_of_its_clamp()
    {
        var made = Made(PartLog.Steady(Count, 10)).With(LogQuantity.Current, LogPlace.Neutral, PartLog.Steady(Count, 2));
        var frame = made.ToFrame();
        frame.Blank([Stuck([], [Clamp.I1], made.At(4), made.At(7)), Stuck([Lead.V2], [], made.At(0), made.At(1)), Stuck([], [Clamp.IN], made.At(11), made.At(12))]);
        Assert.Equal([4, 5, 6], Missing(frame.Amperes[0]!));
        Assert.Equal([4, 5, 6], Missing(frame.Watts[0]!));
        Assert.Equal([4, 5, 6], Missing(frame.Vars[0]!));
        Assert.Equal([0], Missing(frame.Volts[1]!));
        Assert.Empty(Missing(frame.Volts[0]!));
        Assert.Equal([11], Missing(frame.Amperes[3]!));
    }

    [Fact]
    public void A_row_has_values_where_any_column_has_one()
    {
        var (volts, amperes) = (PartLog.Steady(Count, 230), PartLog.Steady(Count, 5));
        (volts[3], amperes[3], volts[5]) = (double.NaN, double.NaN, double.NaN);
        var frame = new PartLog().Volts(0, volts).Amperes(0, amperes).ToFrame();
        Assert.Equal([3], Enumerable.Range(0, Count).Where(row => !frame.HasValues[row]));
    }

    private static int[] Missing(double[] column) => [.. Enumerable.Range(0, column.Length).Where(row => double.IsNaN(column[row]))];

    private static GuardSpan Stuck(Lead[] leads, Clamp[] clamps, DateTime from, DateTime to) =>
        new(SpanKind.Stuck, [.. leads], [.. clamps], from, to, 0.97, new SpanFinding(SpanRelation.ValueRepeated, 8));

    private static PartLog Made(double[] amperes, double volts = 230, double watts = 1840, double vars = 1380, bool mayExport = false)
    {
        var log = new PartLog { Nominal = new NominalVoltage(230, 400), MayExport = mayExport };
        for (var line = 0; line < 3; line++) log.Volts(line, PartLog.Steady(amperes.Length, volts));
        return log.Amperes(0, amperes).Watts(0, PartLog.Steady(amperes.Length, watts)).Vars(0, PartLog.Steady(amperes.Length, vars));
    }

    private static GuardFrame Wye(double volts, double watts, double vars, double[] amperes, bool mayExport) =>
        Made(amperes, volts, watts, vars, mayExport).ToFrame();

    private static double OfThreeWires(double first, double second, double third, double watts)
    {
        var frame = new PartLog(ServiceKind.Delta) { Nominal = new NominalVoltage(400 / Math.Sqrt(3), 400) }.Pair(0, PartLog.Steady(Count, first)).Pair(1, PartLog.Steady(Count, second))
            .Pair(2, PartLog.Steady(Count, third)).Watts(0, PartLog.Steady(Count, watts)).Vars(0, PartLog.Steady(Count, 0)).ToFrame();
        Assert.True(frame.TryMeanCurrent(0, 5, out var inPhase, out _));
        return inPhase;
    }
}
