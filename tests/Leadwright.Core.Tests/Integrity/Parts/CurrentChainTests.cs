using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>At which scale a clamp reads, where the voltage answers to its current as a source of 0.06 ohm does.</summary>
public sealed class CurrentChainTests
{
    private const int From = 300, End = 360;

    [Theory]
    [InlineData(10)]
    [InlineData(0.1)]
    [InlineData(2)]
    [InlineData(0.5)]
    [InlineData(5)]
    [InlineData(0.2)]
    public void A_ratio_that_the_voltage_does_not_bear_out_is_told_from_its_first_row_to_its_last(double ratio)
    {
        var made = Made();
        for (var row = From; row < End; row++) made.Scale(row, 0, ratio);
        Assert.Equal(Stretch(From, End, ratio), Scales(made));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(0.1)]
    public void The_rows_in_which_a_change_fell_belong_to_the_ratio(double ratio)
    {
        var made = Made();
        for (var row = From; row < End; row++) made.Scale(row, 0, row is From or End - 1 ? 1 + (0.5 * (ratio - 1)) : ratio);
        Assert.Equal(Stretch(From, End, ratio), Scales(made));
    }

    [Fact]
    public void A_load_that_grows_by_as_much_is_answered_and_is_no_ratio() =>
        Assert.All(Scales(new SourceLog(true, (row, line) => Load(row, line) * (line == 0 && row is >= From and < End ? 2 : 1))), scale => Assert.Equal(1, scale));

    [Theory]
    [InlineData(2, 2)]
    [InlineData(10, 2)]
    [InlineData(2, 3)]
    [InlineData(10, 3)]
    public void A_ratio_that_is_set_twice_is_told_and_one_that_comes_and_goes_more_often_is_a_load(double ratio, int times)
    {
        int[] starts = [From, 120, 540];
        // Twenty amperes beside each edge.
        var made = new SourceLog(true, (row, line) => Array.Exists(starts, from => Math.Abs(row - from) < 6 || Math.Abs(row - (from + End - From)) < 6) ? 20 : Load(row, line));
        foreach (var from in starts.Take(times))
        {
            for (var row = from; row < from + End - From; row++) made.Scale(row, 0, ratio);
        }

        bool IsWithin(int row) => starts.Take(times).Any(from => row >= from && row < from + End - From);
        Assert.Equal(Enumerable.Range(0, SourceLog.Rows).Select(row => times < 3 && IsWithin(row) ? ratio : 1), Scales(made));
    }

    [Fact]
    public void A_clamp_that_came_off_shows_nothing_while_the_voltage_stays_and_a_load_that_went_lets_it_rise()
    {
        var made = Made();
        for (var row = From; row < End; row++) made.Scale(row, 0, 0.0005);
        Assert.Equal(Stretch(From, End, 0), Scales(made));
        Assert.All(Scales(new SourceLog(true, (row, line) => line == 0 && row is >= From and < End ? 0.01 : Load(row, line))), scale => Assert.Equal(1, scale));
    }

    [Fact]
    public void While_the_supply_is_dead_nothing_is_said_of_a_clamp()
    {
        var made = Made();
        for (var row = From; row < End; row++) made.Scale(row, 0, 0);
        var frame = made.ToFrame();
        var sound = PartLog.Sound(frame);
        var rows = new byte[frame.Count];
        Array.Fill(rows, (byte)Array.FindIndex(sound.States, state => state.Kind == VoltageStateKind.Outage), From, End - From);
        Assert.All(Scales(frame, sound with { Rows = rows }), scale => Assert.Equal(1, scale));
    }

    private static SourceLog Made() => new(true, Load);

    // Loads that move by a tenth or two, each for itself, but for some rows beside the edges.
    private static double Load(int row, int line) =>
        Math.Abs(row - From) < 6 || Math.Abs(row - End) < 6 ? 20 : 20 * Math.Exp(0.15 * Math.Sin(row * row * (0.37 + (0.11 * line))));

    private static IEnumerable<double> Stretch(int from, int end, double scale) => Enumerable.Range(0, SourceLog.Rows).Select(row => row >= from && row < end ? scale : 1);

    private static double[] Scales(SourceLog made)
    {
        var frame = made.ToFrame();
        return Scales(frame, PartLog.Sound(frame));
    }

    private static double[] Scales(GuardFrame frame, VoltageHistory voltages)
    {
        var current = CurrentChain.Find(frame, voltages, [.. Enumerable.Range(0, 3).Select(line => VoltageAnswer.Learn(frame, voltages, line))], new AngleHistory?[3], null, 0, TestContext.Current.CancellationToken)!;
        return Array.ConvertAll(current.Rows, state => current.Scales[state]);
    }
}
