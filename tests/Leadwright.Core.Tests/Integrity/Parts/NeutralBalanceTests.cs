using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What the neutral's own clamp says of the lines' clamps, where it reads what their currents leave over.</summary>
public sealed class NeutralBalanceTests
{
    private const int Count = 300, From = 100;
    private static readonly double[] s_scales = [1, 0, 10, 0.1, 2, 0.5, 5, 0.2];

    // From row 100 on, two thirds of the recording, ten times too much: the rows before are the right ones all the same.
    [Fact]
    public void On_two_legs_the_neutral_tells_a_ratio_row_by_row_however_long_it_was_wrong()
    {
        var sum = Of(ServiceKind.Split, (row, clamp) => clamp == 0 && row >= From ? 10 : 1)!;
        Assert.True(sum.Say(200, 0, 10) - sum.Say(200, 0, 1) > 3);
        // Where all agree it may be all of them at ten: that is asked of all together.
        Assert.Equal(sum.Say(50, 0, 1), sum.Say(50, 0, 10), 1e-9);
        // What the other leg does is no matter of this one's ratio.
        Assert.True(Enumerable.Range(150, 100).Sum(row => sum.Say(row, 1, 1) - sum.Say(row, 1, 10)) > 50);
    }

    [Fact]
    public void All_clamps_at_one_ratio_agree_and_say_nothing_of_it()
    {
        var sum = Of(ServiceKind.Split, (_, _) => 1)!;
        double[] right = [1, 1, 1, 1], all = [10, 10, 1, 10], one = [10, 1, 1, 1];
        Assert.Equal(sum.Say(50, right), sum.Say(50, all), 1e-9);
        Assert.True(sum.Say(50, right) - sum.Say(50, one) > 3);
    }

    [Fact]
    public void A_clamp_that_reads_something_else_is_no_neutrals_and_one_that_is_not_there_tells_nothing()
    {
        var random = new SeededRandom(9);
        Assert.Null(Of(ServiceKind.Split, (_, clamp) => clamp == 3 ? random.Uniform(0.1, 10) : 1));
        Assert.Null(Of(ServiceKind.Split, (_, _) => 1, hasNeutral: false));
    }

    [Fact]
    public void A_ratio_that_leaves_the_neutral_what_no_line_carries_is_dropped_and_one_that_it_bears_out_is_wrong_there()
    {
        // Said of clamp 1 that was right, and of clamp 2 that did read twice too much.
        var (frame, sum) = With(ServiceKind.Wye, (row, clamp) => clamp == 1 && row >= 200 ? 2 : 1);
        var currents = Histories(frame.Count);
        Array.Fill(currents[0]!.Rows, (byte)4, 40, 60);
        Array.Fill(currents[1]!.Rows, (byte)4, 200, 100);
        BalancedRatios.Override(frame, sum, PartLog.Sound(frame), currents);
        Assert.All(currents[0]!.Rows, state => Assert.Equal(0, state));
        Assert.Equal(Enumerable.Range(0, Count).Select(row => row >= 200 ? 4 : 0), currents[1]!.Rows.Select(state => (int)state));
        Assert.True(currents[1]!.IsAbsolute);
    }

    // Half of what flowed from row 120 to the end; what stands out are the hours before, and they were called twice too much.
    [Fact]
    public void Where_the_hours_that_stand_out_were_right_what_lies_beside_them_was_wrong()
    {
        var (frame, sum) = With(ServiceKind.Wye, (row, clamp) => clamp == 2 && row >= 120 ? 0.5 : 1);
        var currents = Histories(frame.Count);
        Array.Fill(currents[2]!.Rows, (byte)4, 0, 120);
        BalancedRatios.Override(frame, sum, PartLog.Sound(frame), currents);
        Assert.Equal(Enumerable.Range(0, Count).Select(row => row >= 120 ? 5 : 0), currents[2]!.Rows.Select(state => (int)state));
    }

    private static CurrentHistory?[] Histories(int rows) => [.. Enumerable.Range(0, 4).Select(_ => new CurrentHistory(s_scales, new byte[rows], null!) { Unproved = new byte[rows] })];

    private static CurrentSum? Of(ServiceKind service, Func<int, int, double> scale, bool hasNeutral = true) => With(service, scale, hasNeutral).Sum;

    /// <summary>Loads of each line for itself at 230 V, lagging by 10 to 35 degrees; clamp 3 is the neutral's, and reads the size of the sum.</summary>
    private static (GuardFrame Frame, CurrentSum? Sum) With(ServiceKind service, Func<int, int, double> scale, bool hasNeutral = true)
    {
        var random = new SeededRandom(4);
        var lines = service == ServiceKind.Split ? 2 : 3;
        var log = new PartLog(service) { Nominal = new NominalVoltage(230, 400) };
        double[][] amperes = [.. Enumerable.Range(0, 4).Select(_ => new double[Count])], watts = [.. Enumerable.Range(0, 3).Select(_ => new double[Count])], vars = [.. Enumerable.Range(0, 3).Select(_ => new double[Count])];
        for (var row = 0; row < Count; row++)
        {
            var sum = Phasor.Zero;
            for (var line = 0; line < lines; line++)
            {
                double size = random.Uniform(5, 40), lag = random.Uniform(10, 35), gain = scale(row, line);
                sum += Phasor.FromDegrees(size, (line * (service == ServiceKind.Split ? 180 : -120)) - lag);
                amperes[line][row] = gain * size;
                watts[line][row] = gain * size * 230 * Math.Cos(lag * Math.PI / 180);
                vars[line][row] = gain * size * 230 * Math.Sin(lag * Math.PI / 180);
            }

            amperes[3][row] = scale(row, 3) * sum.Magnitude;
        }

        for (var line = 0; line < lines; line++) log.Volts(line, PartLog.Steady(Count, 230)).Amperes(line, amperes[line]).Watts(line, watts[line]).Vars(line, vars[line]);
        if (hasNeutral) log.With(LogQuantity.Current, LogPlace.Neutral, amperes[3]);
        var frame = log.ToFrame();
        return (frame, CurrentSum.OfNeutral(frame, PartLog.Sound(frame)));
    }
}
