using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Values that repeat, in three voltages and three currents written to a tenth.</summary>
public sealed class StuckFinderTests
{
    private const int Count = 500;

    [Theory]
    [InlineData(100, 120)]
    [InlineData(0, 15)]
    [InlineData(480, 500)]
    public void A_voltage_that_repeats_while_the_others_move_is_stuck_from_its_first_row_to_its_last(int from, int end)
    {
        var made = new Made();
        Repeat(made.Volts[1], from, end);
        var span = Assert.Single(made.Find());
        Assert.Equal((SpanKind.Stuck, Lead.V2, Made.At(from), Made.At(end)), (span.Kind, Assert.Single(span.Leads), span.From, span.To));
        Assert.Equal(made.Volts[1][from], span.Finding.Within, 1e-9);
        Assert.Equal(end - from, span.Finding.Intervals);
    }

    [Fact]
    public void A_current_that_repeats_while_its_voltage_and_the_other_currents_move_is_stuck()
    {
        var made = new Made();
        Repeat(made.Amperes[2], 200, 230);
        var span = Assert.Single(made.Find());
        Assert.Equal((Clamp.I3, Made.At(200), Made.At(230)), (Assert.Single(span.Clamps), span.From, span.To));
    }

    [Fact]
    public void Four_rows_alike_are_chance()
    {
        var made = new Made();
        Repeat(made.Volts[1], 100, 104);
        Assert.Empty(made.Find());
    }

    [Fact]
    public void A_value_that_comes_back_and_stays_again_is_the_loads_own()
    {
        var made = new Made();
        Repeat(made.Amperes[0], 200, 230);
        Array.Fill(made.Amperes[0], made.Amperes[0][200], 300, 12);
        Assert.Empty(made.Find());
        // A third as long is what counts as staying.
        made.Amperes[0][309] += 0.3;
        Assert.Single(made.Find());
    }

    [Fact]
    public void Where_the_other_channels_stand_still_too_the_site_was_left_alone()
    {
        var made = new Made();
        for (var line = 0; line < 3; line++) Repeat(made.Amperes[line], 200, 230);
        Assert.Empty(made.Find());
    }

    [Fact]
    public void A_dead_channel_repeats_nothing_and_is_not_stuck()
    {
        var made = new Made();
        Array.Fill(made.Volts[0], 0, 100, 200);
        Array.Fill(made.Amperes[1], 0, 100, 200);
        Assert.Empty(made.Find());
    }

    [Fact]
    public void A_recorder_that_repeats_whole_rows_is_stuck_on_all_channels_at_once()
    {
        var made = new Made();
        for (var line = 0; line < 3; line++)
        {
            Repeat(made.Amperes[line], 200, 230);
            Repeat(made.Volts[line], 200, 230);
        }

        var span = Assert.Single(made.Find());
        Assert.Equal([Lead.V1, Lead.V2, Lead.V3], span.Leads);
        Assert.Equal([Clamp.I1, Clamp.I2, Clamp.I3], span.Clamps);
        Assert.Equal((Made.At(200), Made.At(230)), (span.From, span.To));
    }

    private static void Repeat(double[] column, int from, int end) => Array.Fill(column, column[from], from, end - from);

    private sealed class Made
    {
        public Made()
        {
            var random = new SeededRandom(41);
            for (var line = 0; line < 3; line++)
            {
                Volts[line] = PartLog.Rows(Count, _ => Math.Round(random.Uniform(226, 234), 1));
                Amperes[line] = PartLog.Rows(Count, _ => Math.Round(random.Uniform(10, 40), 1));
            }
        }

        public double[][] Volts { get; } = new double[3][];

        public double[][] Amperes { get; } = new double[3][];

        public static DateTime At(int row) => PartLog.Start.AddMinutes(10 * row);

        public List<GuardSpan> Find()
        {
            var log = new PartLog();
            for (var line = 0; line < 3; line++) log.Volts(line, Volts[line]).Amperes(line, Amperes[line]);
            var spans = new List<GuardSpan>();
            StuckFinder.Find(log.ToFrame(), spans);
            return spans;
        }
    }
}
