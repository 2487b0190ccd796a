using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Kirchhoff's law of three wires whose loads lie between lines and whose currents add up to nothing exactly.</summary>
public sealed class CurrentSumTests
{
    private const int Count = 200, Row = 120;

    // What is asked of the sum when it is known as well as it can be: 0.8 % of the largest current, and three rows in a hundred anything.
    private const double Spread = 0.008;

    private static readonly double s_star = 400 / Math.Sqrt(3);

    [Fact]
    public void A_row_that_adds_up_says_so_and_one_at_another_scale_says_what_it_is_off_by()
    {
        var currents = Currents();
        var sum = Learn(currents)!;
        Assert.Equal(Density(0), sum.Say(Row, 0, 1), 1e-6);
        // With clamp 1 at ten times its size nine tenths of its current are missing from the sum.
        var rest = 0.9 * currents[0][Row].Magnitude;
        var most = Math.Max(0.1 * currents[0][Row].Magnitude, Math.Max(currents[1][Row].Magnitude, currents[2][Row].Magnitude));
        Assert.Equal(Density(rest / most), sum.Say(Row, 0, 10), 1e-6);
        Assert.Equal(0.2, sum.Say(Row, 0, 0));
    }

    [Theory]
    [InlineData(0, 10)]
    [InlineData(1, 2)]
    [InlineData(2, 0.2)]
    public void A_clamp_at_another_ratio_is_told_with_the_ratio(int clamp, double ratio)
    {
        var currents = Currents();
        for (var row = 100; row < 150; row++) currents[clamp][row] = ratio * currents[clamp][row];
        var sum = Learn(currents)!;
        Assert.Equal(Density(0), sum.Say(Row, clamp, ratio), 1e-6);
        // That it is right needs another to be wrong, or the row to be wild.
        Assert.True(sum.Say(Row, clamp, ratio) - sum.Say(Row, clamp, 1) > 4);
        Assert.True(sum.Say(50, clamp, 1) - sum.Say(50, clamp, ratio) > 4);
    }

    [Fact]
    public void Another_clamp_that_is_off_explains_the_row_at_the_price_of_being_off()
    {
        var currents = Currents();
        for (var row = 100; row < 150; row++) currents[1][row] = 10 * currents[1][row];
        // Clamp 1 is right where clamp 2 at ten times its size is granted, which costs four nats; where clamp 3 is turned round, five.
        Assert.Equal(Density(0) - 4, Learn(currents)!.Say(Row, 0, 1), 1e-6);
        currents = Currents();
        for (var row = 100; row < 150; row++) currents[2][row] = -1 * currents[2][row];
        Assert.Equal(Density(0) - 5, Learn(currents)!.Say(Row, 0, 1), 1e-6);
    }

    [Fact]
    public void A_clamp_turned_round_is_told_from_one_that_is_not()
    {
        var currents = Currents();
        for (var row = 100; row < 150; row++) currents[1][row] = -1 * currents[1][row];
        var sum = Learn(currents)!;
        // Against the other clamps' turns, which cost three nats, and no more than four.
        Assert.InRange(sum.SayTurned(Row, 1), 3 - 1e-6, 4);
        Assert.Equal(-4, sum.SayTurned(50, 1));
    }

    [Fact]
    public void What_a_clamp_lost_is_what_the_others_say_it_should_show()
    {
        var currents = Currents();
        var right = currents[0][Row].Magnitude;
        for (var row = 100; row < 150; row++) currents[0][row] = 0.6 * currents[0][row];
        var (own, wanted, size) = Learn(currents)!.Gain(Row, 0);
        Assert.Equal(0.6 * right, own, 1e-6);
        Assert.Equal(right, wanted, 1e-6);
        Assert.Equal(Math.Max(own, Math.Max(currents[1][Row].Magnitude, currents[2][Row].Magnitude)), size, 1e-6);
        // What lies across the clamp's own current is another's doing.
        Assert.True(double.IsNaN(Learn(currents)!.Gain(Row, 1).Wanted));
    }

    [Fact]
    public void Rows_with_next_to_no_current_tell_nothing()
    {
        var currents = Currents();
        for (var line = 0; line < 3; line++) currents[line][Row] = 0.02 * currents[line][Row];
        currents[0][Row] = 1.5 * currents[0][Row];
        var sum = Learn(currents)!;
        Assert.Equal(0, sum.Say(Row, 0, 1));
        Assert.True(double.IsNaN(sum.Gain(Row, 0).Own));
    }

    [Fact]
    public void Lines_that_follow_each_other_the_other_way_round_add_up_too()
    {
        var sum = Learn(Currents(-1), -1);
        Assert.NotNull(sum);
        Assert.Equal(Density(0), sum.Say(Row, 2, 1), 1e-6);
    }

    [Fact]
    public void Where_there_is_a_neutral_or_the_currents_never_add_up_the_law_tells_nothing()
    {
        var currents = Currents();
        Assert.Null(CurrentSum.Learn(Frame(currents, 1, ServiceKind.Wye), PartLog.Sound(Frame(currents, 1, ServiceKind.Wye))));
        var random = new SeededRandom(3);
        for (var row = 0; row < Count; row++) currents[1][row] = Phasor.FromDegrees(random.Uniform(5, 30), random.Uniform(0, 360));
        Assert.Null(Learn(currents));
    }

    private static double Density(double off) => Math.Log((0.97 * Math.Exp(-off * off / (2 * Spread * Spread)) / (2 * Math.PI * Spread * Spread)) + (0.03 / Math.PI));

    private static CurrentSum? Learn(Phasor[][] currents, int way = 1)
    {
        var frame = Frame(currents, way);
        return CurrentSum.Learn(frame, PartLog.Sound(frame));
    }

    /// <summary>Watts and vars of each line against the middle of the triangle, 230.94 V.</summary>
    private static GuardFrame Frame(Phasor[][] currents, int way, ServiceKind service = ServiceKind.Delta)
    {
        var log = new PartLog(service) { Nominal = new NominalVoltage(s_star, 400) };
        for (var pair = 0; pair < 3; pair++) log.Pair(pair, PartLog.Steady(Count, 400));
        for (var line = 0; line < 3; line++)
        {
            var (watts, vars) = (new double[Count], new double[Count]);
            for (var row = 0; row < Count; row++)
            {
                var lag = ((way * -120.0 * line) - currents[line][row].AngleDegrees) * Math.PI / 180;
                watts[row] = s_star * currents[line][row].Magnitude * Math.Cos(lag);
                vars[row] = s_star * currents[line][row].Magnitude * Math.Sin(lag);
            }

            log.Watts(line, watts).Vars(line, vars);
        }

        return log.ToFrame();
    }

    /// <summary>Loads of 5 to 25 A between each two lines, lagging their voltages by up to forty degrees.</summary>
    private static Phasor[][] Currents(int way = 1)
    {
        var random = new SeededRandom(21);
        var lines = new[] { new Phasor[Count], new Phasor[Count], new Phasor[Count] };
        for (var row = 0; row < Count; row++)
        {
            var loads = Enumerable.Range(0, 3).Select(pair => Phasor.FromDegrees(random.Uniform(5, 25), (way * (30 - (120 * pair))) - random.Uniform(0, 40))).ToArray();
            for (var line = 0; line < 3; line++) lines[line][row] = loads[line] - loads[(line + 2) % 3];
        }

        return lines;
    }
}
