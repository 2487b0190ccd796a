using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A current of twelve amperes and three percent of noise whose voltage tells nothing, at another ratio from row 200 to row 259.</summary>
public sealed class RatioShiftTests
{
    private const int Count = 600, From = 200, End = 260;

    // The ratios by their places in the list 1, 0, 10, 0.1, 2, 0.5, 5, 0.2.
    [Theory]
    [InlineData(2, 4)]
    [InlineData(0.5, 5)]
    [InlineData(5, 6)]
    [InlineData(10, 2)]
    public void All_of_a_current_at_one_of_the_usual_ratios_is_found_to_the_row(double ratio, int state)
    {
        var rows = Find(amperes => amperes * ratio);
        Assert.Equal(Enumerable.Range(From, End - From), Enumerable.Range(0, Count).Where(row => rows[row] != 0));
        Assert.Equal(state, rows[From]);
    }

    [Fact]
    public void A_load_that_adds_as_much_leaves_the_noise_as_it_was_and_is_no_ratio() => Assert.All(Find(amperes => amperes + 12), state => Assert.Equal(0, state));

    [Fact]
    public void A_current_at_none_of_the_usual_ratios_is_a_loads() => Assert.All(Find(amperes => amperes * 2.3), state => Assert.Equal(0, state));

    [Fact]
    public void A_ratio_leaves_the_angle_of_the_power_as_it_is_and_one_that_turns_it_is_a_load()
    {
        Assert.Equal(End - From, Find(amperes => amperes * 2, _ => 30).Count(state => state == 4));
        Assert.All(Find(amperes => amperes * 2, row => row is >= From and < End ? 45 : 30), state => Assert.Equal(0, state));
    }

    [Fact]
    public void Where_power_stands_turned_or_another_ratio_was_found_none_is_looked_for()
    {
        Assert.All(Find(amperes => amperes * 2, _ => 30, turned: 230), state => Assert.Equal(0, state));
        var rows = Find(amperes => amperes * 2, given: [220, 221]);
        Assert.Equal([220, 221], Enumerable.Range(0, Count).Where(row => rows[row] != 0));
    }

    [Fact]
    public void On_a_site_that_exports_a_net_current_is_no_loads_and_nothing_is_said() => Assert.All(Find(amperes => amperes * 2, mayExport: true), state => Assert.Equal(0, state));

    [Theory]
    [InlineData(false, End - From)]
    [InlineData(true, 0)]
    public void While_the_voltage_of_another_line_is_not_known_none_is_looked_for(bool isMissing, int rows) => Assert.Equal(rows, Find(amperes => amperes * 2, isBesideMissing: isMissing).Count(state => state == 4));

    private static byte[] Find(Func<double, double> within, Func<int, double>? angle = null, int? turned = null, int[]? given = null, bool mayExport = false, bool? isBesideMissing = null)
    {
        var random = new SeededRandom(51);
        var amperes = PartLog.Rows(Count, _ => 12 * Math.Exp(0.03 * random.Gaussian()));
        for (var row = From; row < End; row++) amperes[row] = within(amperes[row]);
        var log = new PartLog(isBesideMissing is null ? ServiceKind.Single : ServiceKind.Split) { MayExport = mayExport }.Volts(0, PartLog.Steady(Count, 230)).Amperes(0, amperes);
        if (isBesideMissing is { } isMissing) log.Volts(1, PartLog.Rows(Count, row => isMissing && row is >= From and < End ? double.NaN : 230));
        var frame = log.ToFrame();
        var voltages = PartLog.Sound(frame);
        var rows = new byte[Count];
        foreach (var row in given ?? []) rows[row] = 2;
        var current = new CurrentHistory([1, 0, 10, 0.1, 2, 0.5, 5, 0.2], rows, VoltageAnswer.Learn(frame, voltages, 3)) { Unproved = rows };
        AngleHistory? angles = null;
        if (angle is not null)
        {
            var turns = new sbyte[Count];
            if (turned is { } at) turns[at] = 1;
            angles = new AngleHistory([0, 180], turns, 30, []) { Degrees = PartLog.Rows(Count, row => angle(row) + (0.5 * random.Gaussian())), HasVars = true };
        }

        RatioShift.Override(frame, voltages, [angles, null, null], null, [current, null, null, null], TestContext.Current.CancellationToken);
        return current.Rows;
    }
}
