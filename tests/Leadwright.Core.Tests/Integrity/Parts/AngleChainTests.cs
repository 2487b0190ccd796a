using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Powers of two kilovolt-amperes that lag by twenty-five degrees and two of scatter, turned from row 120 to row 179.</summary>
public sealed class AngleChainTests
{
    private const int Count = 300, From = 120, End = 180;

    [Theory]
    [InlineData(180)]
    [InlineData(120)]
    [InlineData(-120)]
    public void A_power_that_turns_by_what_lies_between_conductors_is_turned_from_its_first_row_to_its_last(double turn)
    {
        var history = Find(Frame(row => row is >= From and < End ? turn : 0));
        Assert.Equal(Enumerable.Range(From, End - From), Turned(history));
        Assert.Equal(turn, history.Turns[history.Rows[From]]);
        Assert.Equal(25, history.UsualDegrees, 1.0);
    }

    [Fact]
    public void Without_vars_a_clamp_turned_round_shows_in_watts_below_nothing()
    {
        var history = Find(Frame(row => row is >= From and < End ? 180 : 0, hasVars: false));
        Assert.Equal(Enumerable.Range(From, End - From), Turned(history));
        Assert.Equal(180, history.Turns[history.Rows[From]]);
        Assert.Equal(155, history.Degrees[150], 8.0);
    }

    [Fact]
    public void A_load_between_capacitors_and_idling_motors_is_no_turn()
    {
        Assert.Empty(Turned(Find(Frame(row => row is >= From and < End ? 30 : 0))));
        Assert.Empty(Turned(Find(Frame(row => row is >= From and < End ? -30 : 0))));
        // Sixty degrees either way of twenty-five go to the load still, at 85 and at −35: two slips would do that, and so does another load.
        Assert.Empty(Turned(Find(Frame(row => row is >= From and < End ? 60 : 0))));
        Assert.Empty(Turned(Find(Frame(row => row is >= From and < End ? -60 : 0))));
    }

    [Fact]
    public void By_day_on_a_site_that_exports_a_turned_power_tells_nothing_and_by_night_it_does()
    {
        // Rows of ten minutes from midnight: 120 to 179 are from eight in the evening to six in the morning.
        Assert.Equal(Enumerable.Range(From, End - From), Turned(Find(Frame(row => row is >= From and < End ? 180 : 0, mayExport: true))));
        // From nine to three by day.
        Assert.Empty(Turned(Find(Frame(row => row is >= 54 and < 90 ? 180 : 0, mayExport: true))));
        Assert.Equal(36, Turned(Find(Frame(row => row is >= 54 and < 90 ? 180 : 0))).Count());
    }

    [Fact]
    public void Next_to_no_power_tells_no_angle()
    {
        // A hundredth of what the channel carries else.
        var frame = Frame(_ => 0, row => row is 40 or 41 ? 0.0099 : 1);
        Assert.Equal([40, 41], Silent(Find(frame)));
    }

    [Fact]
    public void With_another_lead_in_the_air_a_channel_still_tells_and_with_its_own_or_the_neutral_s_it_does_not()
    {
        var frame = Frame(_ => 0);
        Assert.Equal(Enumerable.Range(50, 10), Silent(Find(frame, [-1, 1, 2, 3])));
        Assert.Empty(Silent(Find(frame, [0, -1, 2, 3])));
        Assert.Equal(Enumerable.Range(50, 10), Silent(Find(frame, [0, 1, 2, -1])));
    }

    [Theory]
    [InlineData(0, 10)]
    [InlineData(1, 0)]
    public void A_dead_supply_has_no_angle_and_one_that_lost_its_neutral_has(int which, int silent)
    {
        var frame = Frame(_ => 0);
        var states = VoltageStates.Of(frame);
        var rows = new byte[Count];
        Array.Fill(rows, (byte)Array.FindIndex(states, state => state.Kind == (which == 0 ? VoltageStateKind.Outage : VoltageStateKind.SupplyNeutralLost)), 50, 10);
        Assert.Equal(silent, Silent(Find(frame, PartLog.Sound(frame) with { Rows = rows })).Count());
    }

    [Fact]
    public void A_channel_without_watts_or_with_watts_and_nothing_else_has_no_angles()
    {
        var frame = new PartLog().Watts(0, PartLog.Steady(Count, 100)).ToFrame();
        Assert.Null(AngleChain.Find(frame, PartLog.Sound(frame), null, 0, TestContext.Current.CancellationToken));
        Assert.Null(AngleChain.Find(frame, PartLog.Sound(frame), null, 1, TestContext.Current.CancellationToken));
    }

    // Three lines that lag by forty degrees. Turned by 120 the power of the first leads by eighty, as capacitors beside few loads do. Loads go one by one, so that no edge tells: over
    // twelve rows it moves there, and over twelve back.
    [Fact]
    public void A_power_that_leads_by_much_while_the_others_do_not_is_turned() => Assert.Contains(150, Turned(Find(ThreeLines(-80, 40, 40))));

    [Fact]
    public void Powers_that_lead_by_much_in_all_lines_are_capacitors() => Assert.Empty(Turned(Find(ThreeLines(-80, -80, -80))));

    // Capacitors move each line by 25 degrees at the least: 35 do, 15 do not (the scatter is two).
    [Fact]
    public void A_line_that_hardly_leads_speaks_against_capacitors()
    {
        Assert.Empty(Turned(Find(ThreeLines(-80, 40 - 35, -80))));
        Assert.Contains(150, Turned(Find(ThreeLines(-80, 40 - 15, -80))));
    }

    [Fact]
    public void Powers_that_lead_while_another_goes_back_to_the_supply_are_turned() => Assert.Contains(150, Turned(Find(ThreeLines(-80, -80, -160))));

    // The least on either day is a tenth of what the line carries else: one and a half of that is light, twice that is not.
    [Fact]
    public void A_power_that_leads_while_the_line_carries_least_is_what_capacitors_leave()
    {
        Assert.Empty(Turned(Find(ThreeLines(-80, 40, 40, row => row % 3 == 0 ? 0.1 : 0.15))));
        Assert.Contains(150, Turned(Find(ThreeLines(-80, 40, 40, row => row % 3 == 0 ? 0.1 : 0.2))));
    }

    [Fact]
    public void Where_capacitors_lead_usually_a_load_that_lags_is_no_turn() => Assert.Empty(Turned(Find(ThreeLines(40, -80, -80, usual: -80))));

    private static bool IsWithin(int row) => row is >= From and < End;

    private static GuardFrame ThreeLines(double first, double second, double third, Func<int, double>? size = null, double usual = 40)
    {
        double[] within = [first, second, third];
        double Degrees(int row, int line) => usual + ((within[line] - usual) * Math.Clamp(Math.Min(row - From, End - 1 - row) / 12.0, 0, 1));
        var random = new SeededRandom(62);
        var log = new PartLog { Nominal = new NominalVoltage(230, 400) };
        for (var line = 0; line < 3; line++)
        {
            var (watts, vars, amperes) = (new double[Count], new double[Count], new double[Count]);
            for (var row = 0; row < Count; row++)
            {
                var angle = (Degrees(row, line) + (2 * random.Gaussian())) * Math.PI / 180;
                var apparent = 2000 * (!IsWithin(row) ? row % 5 == 0 ? 0.5 : 1 : line == 0 && size is not null ? size(row) : 1);
                (watts[row], vars[row], amperes[row]) = (apparent * Math.Cos(angle), apparent * Math.Sin(angle), apparent / 230);
            }

            log.Volts(line, PartLog.Steady(Count, 230)).Amperes(line, amperes).Watts(line, watts).Vars(line, vars);
        }

        return log.ToFrame();
    }

    private static AngleHistory Find(GuardFrame frame, int[] leads)
    {
        var states = VoltageStates.Of(frame);
        var rows = new byte[Count];
        Array.Fill(rows, (byte)Array.FindIndex(states, state => state.Kind == VoltageStateKind.Leads && state.Leads.SequenceEqual(leads)), 50, 10);
        return Find(frame, PartLog.Sound(frame) with { Rows = rows });
    }

    private static AngleHistory Find(GuardFrame frame, VoltageHistory? voltages = null) =>
        AngleChain.Find(frame, voltages ?? PartLog.Sound(frame), null, 0, TestContext.Current.CancellationToken)!;

    private static IEnumerable<int> Turned(AngleHistory history) => Enumerable.Range(0, Count).Where(row => history.Rows[row] > 0);

    private static IEnumerable<int> Silent(AngleHistory history) => Enumerable.Range(0, Count).Where(row => history.Rows[row] < 0);

    private static GuardFrame Frame(Func<int, double> turn, Func<int, double>? size = null, bool hasVars = true, bool mayExport = false)
    {
        var random = new SeededRandom(61);
        var (watts, vars, amperes) = (new double[Count], new double[Count], new double[Count]);
        for (var row = 0; row < Count; row++)
        {
            var angle = (25 + turn(row) + (2 * random.Gaussian())) * Math.PI / 180;
            var apparent = 2000 * (size?.Invoke(row) ?? 1);
            (watts[row], vars[row], amperes[row]) = (apparent * Math.Cos(angle), apparent * Math.Sin(angle), apparent / 230);
        }

        var log = new PartLog { Nominal = new NominalVoltage(230, 400), MayExport = mayExport }.Volts(0, PartLog.Steady(Count, 230)).Amperes(0, amperes).Watts(0, watts);
        return (hasVars ? log.Vars(0, vars) : log).ToFrame();
    }
}
