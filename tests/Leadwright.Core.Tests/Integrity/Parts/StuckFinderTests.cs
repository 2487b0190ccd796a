using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Logs;
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
    [InlineData(0, 500)]
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
    public void A_two_wire_recorder_that_stands_still_is_one_span_of_lead_and_clamp()
    {
        var made = new Made();
        Repeat(made.Volts[0], 100, 220);
        Repeat(made.Amperes[0], 100, 220);
        var log = new IntervalLog([new("V1", LogQuantity.Voltage, LogPlace.Phase1), new("I1", LogQuantity.Current, LogPlace.Phase1)], [.. Enumerable.Range(0, Count).Select(row => Made.At(row).Ticks)], [made.Volts[0], made.Amperes[0]], 600);
        var report = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Single, Nominal = new NominalVoltage(230, 230) }, TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans, span => span.Kind == SpanKind.Stuck);
        Assert.Equal((Lead.V1, Clamp.I1, Made.At(100), Made.At(220)), (Assert.Single(span.Leads), Assert.Single(span.Clamps), span.From, span.To));
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

    // Four nights at 0.4 A with a blip after every fourth row, so that no run of another night comes near to a third of the longest, which lasts nineteen rows.
    // Beside 0.4 A three rows of four repeat: a run of nineteen is then had by chance, 500 · 0.75¹⁸ = 2.8 times. Of all rows three in ten do: 500 · 0.3¹⁸ is less than a millionth.
    [Fact]
    public void A_current_that_idles_at_one_value_on_several_nights_is_not_stuck_in_the_longest_of_them()
    {
        var made = new Made();
        Idle(made.Amperes[0]);
        Assert.Empty(made.Find());
        // By day it never keeps a value.
        Repeat(made.Amperes[0], 205, 230);
        var span = Assert.Single(made.Find());
        Assert.Equal((Clamp.I1, Made.At(205), Made.At(230)), (Assert.Single(span.Clamps), span.From, span.To));
    }

    // Sixteen rows at 5 A, and four times five: none of these is a third of sixteen, together they are more than all of it.
    [Fact]
    public void A_value_that_comes_back_often_is_the_loads_own_too()
    {
        var made = new Made();
        Array.Fill(made.Amperes[0], 5, 200, 16);
        foreach (var from in (int[])[40, 100, 300, Count - 5]) Array.Fill(made.Amperes[0], 5, from, 5);
        Assert.Empty(made.Find());
        // Three times five do not come to as much.
        made.Amperes[0][42] = 20;
        Assert.Equal(Made.At(200), Assert.Single(made.Find()).From);
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

    private static void Idle(double[] column)
    {
        foreach (var night in (int[])[20, 120, 320, 420])
        {
            for (var row = night; row < night + 60; row++) column[row] = (row - night) % 5 == 4 && (night != 120 || row is < 140 or > 154) ? 0.6 : 0.4;
        }
    }

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
