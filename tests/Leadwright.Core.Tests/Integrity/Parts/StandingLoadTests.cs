using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A current that is written alike for some minutes of a log of seconds: a load that stands still, or a clamp's channel that does.</summary>
public sealed class StandingLoadTests
{
    private const int Count = 600, From = 200, End = 500;

    // 0.54 A written to a hundredth, with a voltage that wanders by one percent: half a step.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_small_load_that_stands_still_for_minutes_is_not_stuck(bool hasPowers)
    {
        var made = new Seconds(0.54);
        Assert.Empty(made.Find(hasPowers));
    }

    [Fact]
    public void A_current_that_stands_still_while_its_watts_step_is_stuck()
    {
        var made = new Seconds(0.54);
        for (var row = 300; row < 310; row++) made.Factor[row] = 1.5;
        var span = Assert.Single(made.Find());
        Assert.Equal((Clamp.I1, made.At(From), made.At(End)), (Assert.Single(span.Clamps), span.From, span.To));
        // Two rows may be another moment's.
        for (var row = 302; row < 310; row++) made.Factor[row] = 1;
        Assert.Empty(made.Find());
    }

    // 20 A written to a hundredth move by twenty steps with one percent of voltage.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_large_current_that_does_not_move_with_its_voltage_is_stuck_with_watts_that_stand_still_or_none(bool hasPowers)
    {
        var span = Assert.Single(new Seconds(20).Find(hasPowers));
        Assert.Equal(Clamp.I1, Assert.Single(span.Clamps));
    }

    [Fact]
    public void Watts_that_fall_with_their_lead_say_nothing_of_the_clamp()
    {
        var made = new Seconds(0.54);
        for (var row = 300; row < 340; row++)
        {
            made.Volts[0][row] = 4.6;
            made.Factor[row] = 0.1;
        }

        Assert.Empty(made.Find());
    }

    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void A_neutral_current_is_stuck_while_what_the_lines_add_up_to_moves(bool isBalanced, bool isStuck)
    {
        var made = new Seconds(0.54);
        for (var row = From; row < End; row++)
        {
            // One line by four amperes, or all alike.
            var more = row % 40 < 20 ? 4 : 0;
            for (var line = 0; line < 3; line++) made.Amperes[line][row] = 5 + (line == 0 || isBalanced ? more : 0);
            made.Amperes[3][row] = 1.2;
        }

        Assert.Equal(isStuck, made.Find(hasPowers: false).Exists(span => span.Clamps.Contains(Clamp.IN)));
    }

    [Theory]
    [InlineData(0.1, false)]
    [InlineData(1.0, true)]
    public void A_voltage_is_stuck_while_all_others_move_by_more_than_the_step_it_is_written_in(double others, bool isStuck)
    {
        var made = new Seconds(0.54);
        for (var row = From; row < End; row++)
        {
            made.Volts[1][row] = 231;
            foreach (var line in (int[])[0, 2]) made.Volts[line][row] = 230 + (row % 2 * others);
        }

        var spans = made.Find();
        Assert.Equal(isStuck ? [Lead.V2] : [], spans.SelectMany(span => span.Leads));
    }

    [Fact]
    public void Beside_a_voltage_that_is_stuck_its_own_current_is_not_told_as_well()
    {
        var made = new Seconds(5);
        Array.Fill(made.Volts[0], 231, From, End - From - 40);
        for (var row = End - 40; row < End; row++) made.Volts[0][row] = 222;
        Assert.Equal(Lead.V1, Assert.Single(Assert.Single(made.Find()).Leads));
    }

    // In the first night of a watch nothing else was seen: 0.5 A written to a tenth, in rows of ten minutes.
    [Fact]
    public void In_rows_of_minutes_a_current_of_which_little_else_was_seen_is_not_stuck_for_being_steady()
    {
        var random = new SeededRandom(5);
        var log = new PartLog();
        var steady = PartLog.Rows(100, row => row < 30 ? Math.Round(random.Uniform(0.6, 3), 1) : 0.5);
        for (var line = 0; line < 3; line++)
            log.Volts(line, PartLog.Rows(100, _ => Math.Round(random.Uniform(229, 231), 1))).Amperes(line, line == 0 ? steady : PartLog.Rows(100, _ => Math.Round(random.Uniform(1, 4), 1)));
        var spans = new List<GuardSpan>();
        StuckFinder.Find(log.ToFrame(), spans);
        Assert.Empty(spans);
    }

    private sealed class Seconds
    {
        private readonly PartLog _times = new(seconds: 1);

        public Seconds(double standing)
        {
            var random = new SeededRandom(17);
            for (var line = 0; line < 4; line++)
            {
                if (line < 3) Volts[line] = PartLog.Rows(Count, row => Math.Round(230 + (1.4 * Math.Sin(row / 20.0)) + random.Uniform(-0.1, 0.1), 1));
                Amperes[line] = PartLog.Rows(Count, _ => Math.Round(random.Uniform(0.3, 30), 2));
            }

            Array.Fill(Amperes[0], standing, From, End - From);
            Array.Fill(Factor, 1);
            Standing = standing;
        }

        public double[][] Volts { get; } = new double[3][];

        public double[][] Amperes { get; } = new double[4][];

        /// <summary>By how much the first line's watts are more than they were.</summary>
        public double[] Factor { get; } = new double[Count];

        private double Standing { get; }

        public DateTime At(int row) => _times.At(row);

        public List<GuardSpan> Find(bool hasPowers = true)
        {
            var log = new PartLog(seconds: 1);
            for (var line = 0; line < 3; line++)
            {
                var (volts, amperes, own) = (Volts[line], Amperes[line], line);
                log.Volts(line, volts).Amperes(line, amperes);
                if (!hasPowers) continue;
                // The first line's watts stand still with its current.
                log.Watts(line, PartLog.Rows(Count, row => Math.Round(0.9 * (own == 0 && row is >= From and < End ? 230 * Standing * Factor[row] : volts[row] * amperes[row]))));
                log.Vars(line, PartLog.Rows(Count, row => Math.Round(0.436 * (own == 0 && row is >= From and < End ? 230 * Standing * Factor[row] : volts[row] * amperes[row]))));
            }

            log.Amperes(3, Amperes[3]);
            var spans = new List<GuardSpan>();
            StuckFinder.Find(log.ToFrame(), spans);
            return spans;
        }
    }
}
