using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Weeks that a simulator made which shares no code with the product (tests/data/weeks): read from their files, guarded and mended.</summary>
public sealed class InventedWeekTests
{
    [Theory]
    [InlineData("w1_0063.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start)]
    [InlineData("w1_0042.csv", ServiceKind.Wye, "277/480", 60, StampPlace.End)]
    [InlineData("w1_0018.csv", ServiceKind.Wye, "230/400", 50, StampPlace.Start)]
    [InlineData("w1_0009.csv", ServiceKind.HighLeg, "120/240", 60, StampPlace.End)]
    [InlineData("w2_0000.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start)]
    [InlineData("w1_0117.csv", ServiceKind.Wye, "230/400", 50, StampPlace.Start)]
    [InlineData("w4_0078.csv", ServiceKind.HighLeg, "120/240", 60, StampPlace.Start)]
    [InlineData("x1_0006.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start)]
    // Motors at idle leave half of the volt-amperes for days, which a turned or exchanged clamp does too; by day they are all there.
    [InlineData("y1_0046.csv", ServiceKind.Wye, "277/480", 60, StampPlace.Start)]
    [InlineData("y2_0011.csv", ServiceKind.Wye, "230/400", 50, StampPlace.Start)]
    // One load on three lines, and one between two legs, draw alike on them: two clamps on one leg would have left no total.
    [InlineData("y4_0002.csv", ServiceKind.Delta, "240", 60, StampPlace.Start)]
    [InlineData("y4_0023.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start)]
    // What the legs differ by is what the neutral's clamp reads in every row, however little that is for some hours.
    [InlineData("z1_0023.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start)]
    public void A_week_in_which_nothing_went_wrong_is_left_alone(string name, ServiceKind service, string nominal, double hertz, StampPlace stamps)
    {
        var (_, report) = Guard(name, service, nominal, hertz, stamps);
        Assert.Equal([], report.Spans.Where(span => !span.IsDoubtful).Select(Words));
    }

    [Fact]
    public void Where_one_line_of_the_supply_was_out_for_a_day_it_is_named_and_nothing_else()
    {
        var (_, report) = Guard("w1_0104.csv", ServiceKind.Wye, "230/400", 50, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.Outage, Lead.V3), (span.Kind, Assert.Single(span.Leads)));
        // Out from 23:41:54 to 22:20:55: that is 486 of the 600 seconds from 23:40 on, and only 55 of those from 22:20 on, which may be called sound.
        Assert.Equal(new DateTime(2026, 2, 18, 23, 40, 0), span.From);
        Assert.InRange(span.To, new DateTime(2026, 2, 19, 22, 20, 0), new DateTime(2026, 2, 19, 22, 30, 0));
    }

    // Edges by the simulator's account, to the interval; those of a jaw that opens slowly show only when some of the current is missing, and are not asked.
    [Theory]
    // A house whose power flows back for three days of five; power factors, no vars.
    [InlineData("w3_0091.csv", ServiceKind.Single, "120", 60, SpanKind.ClampReversed, Clamp.I1, "2026-10-05 06:52:08", "2026-10-08 13:28:28", 600)]
    // Ten times too much for most of a week: the first days are the right ones, since the other line reads as much.
    [InlineData("w2_0028.csv", ServiceKind.DeltaTwoClamp, "480", 60, SpanKind.RatioWrong, Clamp.I1, "2026-03-22 22:20:22", "2026-03-28 11:30:00", 900)]
    // Two clamps on one line of three: the total stands sixty degrees on.
    [InlineData("w3_0043.csv", ServiceKind.DeltaTwoClamp, "480", 60, SpanKind.ClampsOnSameConductor, Clamp.I3, "2026-10-07 20:16:38", "2026-10-13 00:00:00", 600)]
    // By night the same few amperes stand at another power factor than on other nights: the clamp was turned on Thursday evening, and stays so over the week's end.
    [InlineData("w3_0119.csv", ServiceKind.DeltaTwoClamp, "480", 60, SpanKind.ClampReversed, Clamp.I1, "2026-11-26 17:19:09", "2026-11-29 00:00:00", 900)]
    // All three clamps a line on from the first row to the last: no site is ahead by eighty degrees all week.
    [InlineData("w1_0083.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampsRotated, Clamp.I1, "2026-08-01 09:10:00", "2026-08-09 09:10:00", 600)]
    // One leg's current stands at 7.9 A for three hours while its watts go on to seven times what that could carry.
    [InlineData("w1_0074.csv", ServiceKind.Split, "120/240", 60, SpanKind.Stuck, Clamp.I1, "2026-02-21 04:50:00", "2026-02-21 08:00:00", 600)]
    // Jaws that open within a day and a half, and within a day.
    [InlineData("w3_0065.csv", ServiceKind.Delta, "480", 60, SpanKind.ClampOpen, Clamp.I3, null, null, 600)]
    [InlineData("w4_0115.csv", ServiceKind.Delta, "400", 50, SpanKind.ClampOpen, Clamp.I1, null, null, 600)]
    // Currents that are one in all the week's rows, and a power that stands a hundred degrees off: turned and exchanged would do as well for a few of them.
    [InlineData("y1_0001.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampsOnSameConductor, Clamp.I3, "2026-03-17 13:30:00", "2026-03-23 08:10:00", 600)]
    // Twice too much on one line from Sunday evening on, told by the currents: the total goes with them and tells nothing, and the quiet weekend before is no lead moved.
    [InlineData("y1_0041.csv", ServiceKind.Wye, "230/400", 50, SpanKind.RatioWrong, Clamp.I1, "2025-09-14 16:20:00", "2025-09-21 11:50:00", 600)]
    // One line's clamp turned for a day and a half, by the total alone, among idle motors whose total looks like another hook-up every night.
    [InlineData("y6_0007.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampReversed, Clamp.I3, "2025-01-20 11:40:00", "2025-01-21 23:25:00", 300)]
    // A line's clamp that reads what the neutral's does from the first row to the last, and a power that stands anywhere to its voltage.
    [InlineData("y6_0019.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampOnNeutral, Clamp.I1, "2026-03-26 17:00:00", "2026-04-01 20:40:00", 600)]
    // Half of its current from the first row to the last: all voltages answer to it twice as strongly as to the other lines'.
    [InlineData("y7_0053.csv", ServiceKind.Wye, "230/400", 50, SpanKind.RatioWrong, Clamp.I1, "2025-05-03 01:30:00", "2025-05-10 23:00:00", 900)]
    // A jaw that was never closed: 0.64 of its current all week.
    [InlineData("y7_0030.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampOpen, Clamp.I3, "2025-10-24 22:35:00", "2025-11-03 22:30:00", 300)]
    // Loads of three lines: the line that reads nothing for 27 hours draws its share of them in all others.
    [InlineData("y7_0041.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampOpen, Clamp.I3, "2026-07-02 14:45:00", "2026-07-03 18:00:00", 900)]
    // Street lighting: by day one line alone draws anything, at another angle than the lamps by night.
    [InlineData("v1_0043.csv", ServiceKind.Wye, "120/208", 60, SpanKind.ClampsExchanged, Clamp.I3, "2027-07-23 12:18:00", "2027-07-24 13:21:35", 60)]
    // A line's clamp on the neutral all week, without a neutral's own: its power wanders, and the voltages answer to all currents as one law has it.
    [InlineData("y8_0008.csv", ServiceKind.Wye, "230/400", 50, SpanKind.ClampOnNeutral, Clamp.I3, "2026-11-08 23:30:00", "2026-11-15 15:40:00", 600)]
    public void What_was_done_to_a_clamp_is_named_and_dated(string name, ServiceKind service, string nominal, double hertz, SpanKind kind, Clamp clamp, string? from, string? to, double seconds)
    {
        var (_, report) = Guard(name, service, nominal, hertz, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal(kind, span.Kind);
        Assert.Contains(clamp, span.Clamps);
        if (from is null || to is null) return;
        Assert.InRange((span.From - DateTime.Parse(from, CultureInfo.InvariantCulture)).TotalSeconds, -seconds, seconds);
        Assert.InRange((span.To - DateTime.Parse(to, CultureInfo.InvariantCulture)).TotalSeconds, -seconds, seconds);
    }

    [Fact]
    public void Loads_between_two_lines_whose_vars_have_no_sign_leave_the_neutral_lead_where_it_is()
    {
        var (_, report) = Guard("y1_0008.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start);
        Assert.Equal([SpanKind.NoData], report.Spans.Where(span => !span.IsDoubtful).Select(span => span.Kind));
    }

    [Fact]
    public void A_voltage_that_stands_from_the_first_row_to_the_last_while_the_others_move_is_stuck()
    {
        var (_, report) = Guard("y1_0031.csv", ServiceKind.Wye, "277/480", 60, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.Stuck, Lead.V3, report.From, report.To), (span.Kind, Assert.Single(span.Leads), span.From, span.To));
    }

    [Fact]
    public void The_end_of_a_range_that_is_read_with_a_little_noise_is_an_end()
    {
        // Of 1,152 rows some thirty lie within a thousandth of 22.25 A, and two a little above; the other lines go on to 38 A.
        var (_, report) = Guard("w4_0014.csv", ServiceKind.Wye, "277/480", 60, StampPlace.Start);
        var spans = report.Spans.Where(span => !span.IsDoubtful).ToArray();
        Assert.NotEmpty(spans);
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, Clamp.I3), (span.Kind, Assert.Single(span.Clamps))));
    }

    // Five times too much on all lines: the mean of the voltages answers less as well, which no neutral lead in the air does to it.
    [Fact]
    public void A_ratio_of_all_clamps_is_no_neutral_lead_in_the_air()
    {
        var (_, report) = Guard("y6_0018.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start);
        var sure = report.Spans.Where(span => !span.IsDoubtful).ToArray();
        Assert.Equal([Clamp.I1, Clamp.I2, Clamp.I3], sure.Select(span => Assert.Single(span.Clamps)).Order());
        Assert.All(sure, span => Assert.Equal((SpanKind.RatioWrong, new DateTime(2025, 2, 5, 8, 50, 0), new DateTime(2025, 2, 10, 6, 20, 0)), (span.Kind, span.From, span.To)));
    }

    [Theory]
    // Off for most of the recording: the answers of all rows are mostly the weak ones.
    [InlineData("y5_0042.csv", "230/400", 50, "2025-09-01 17:00:00", "2025-09-08 03:10:00", 600)]
    // By volts and amperes alone clamps on other lines would do it too, but each phase still answers to its own.
    [InlineData("y5_0053.csv", "120/208", 60, "2026-03-21 04:40:00", "2026-03-24 10:45:00", 300)]
    // Off for six days of seven: what all rows together teach is neither the answer with the lead on nor that with it off.
    [InlineData("z3_0040.csv", "120/208", 60, "2026-08-13 02:26:30", "2026-08-15 16:45:00", 300)]
    // Lines in the order A, C, B; in the rows with the lead off another line's ampere turns the voltages as it would in the order A, B, C.
    [InlineData("y8_0029.csv", "230/400", 50, "2025-08-21 00:30:00", "2025-08-23 06:50:00", 600)]
    // From the first row to the last, beside a total alone.
    [InlineData("y8_0014.csv", "120/208", 60, "2025-10-11 12:00:00", "2025-10-20 07:20:00", 600)]
    public void A_neutral_lead_in_the_air_is_named_and_dated(string name, string nominal, double hertz, string from, string to, double seconds)
    {
        var (_, report) = Guard(name, ServiceKind.Wye, nominal, hertz, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.NeutralOpen, Lead.VN), (span.Kind, Assert.Single(span.Leads)));
        Assert.InRange((span.From - DateTime.Parse(from, CultureInfo.InvariantCulture)).TotalSeconds, -seconds, seconds);
        Assert.InRange((span.To - DateTime.Parse(to, CultureInfo.InvariantCulture)).TotalSeconds, -seconds, seconds);
    }

    // Two legs whose voltages keep one proportion to the last digit, whatever one carries more than the other.
    [Fact]
    public void The_neutral_lead_of_a_split_service_that_was_never_on_is_named()
    {
        var (_, report) = Guard("z3_0003.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.NeutralOpen, report.From, report.To), (span.Kind, span.From, span.To));
    }

    // All clamps leap to a tenth on the second day and stay there: the rest is said to be right, since it is more, but nothing shows it.
    [Fact]
    public void Which_side_of_a_leap_of_all_clamps_is_right_is_left_open_in_the_energy()
    {
        var (log, report) = Guard("y7_0024.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start);
        Assert.Equal(3, report.Spans.Count(span => span.Kind == SpanKind.RatioWrong && !span.IsDoubtful));
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = ServiceKind.Wye, Nominal = Nominal("120/208", ServiceKind.Wye) }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(1310615.3, energy.LowWattHours, energy.HighWattHours);
        Assert.InRange(energy.MendedWattHours, energy.LowWattHours, energy.HighWattHours);
    }

    // By day on a site with generation: both powers stand turned by a third, one each way, and all three voltages go together, which is the supply's doing and no two leads'.
    [Fact]
    public void Leads_exchanged_on_a_site_with_generation_are_not_two_on_one_conductor()
    {
        var (_, report) = Guard("z1_0032.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start, mayExport: true, Rotation.Abc);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.LeadsExchanged, span.Kind);
        Assert.Equal([Lead.V1, Lead.V3], span.Leads);
        Assert.Equal((new DateTime(2026, 10, 18, 21, 55, 0), new DateTime(2026, 10, 19, 22, 18, 0)), (span.From, span.To));
    }

    // Two clamps of gains a third of a percent apart, on one leg for more than half of the recording; vars without a sign. A turned clamp shows the same powers, and is mended to 1,145 kWh, give or take nothing.
    [Fact]
    public void Two_clamps_on_one_leg_are_not_one_turned_round()
    {
        var (log, report) = Guard("z2_0021.csv", ServiceKind.Split, "120/240", 60, StampPlace.Start);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.ClampsOnSameConductor, span.Kind);
        Assert.InRange((span.From - new DateTime(2026, 6, 3, 3, 32, 15)).TotalSeconds, -300, 300);
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = ServiceKind.Split, Nominal = Nominal("120/240", ServiceKind.Split) }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(1118881.7, energy.LowWattHours, energy.HighWattHours);
    }

    // Three days in which nothing was right, on a site with generation; -98 kWh by what was written.
    [Fact]
    public void A_log_of_power_factors_shows_leads_that_were_exchanged_throughout_and_has_an_energy()
    {
        var (log, report) = Guard("z2_0009.csv", ServiceKind.Wye, "230/400", 50, StampPlace.Start, mayExport: true, Rotation.Abc);
        var span = Assert.Single(report.Spans, span => span.Kind == SpanKind.LeadsExchanged);
        Assert.Equal((false, report.From, report.To), (span.IsDoubtful, span.From, span.To));
        Assert.Equal([Lead.V1, Lead.V3], span.Leads);
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = ServiceKind.Wye, Nominal = Nominal("230/400", ServiceKind.Wye) }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(272022, energy.LowWattHours, energy.HighWattHours);
    }

    // The inputs' star point stands near the neutral, and the lines' powers still add up.
    [Fact]
    public void A_total_stands_while_the_neutral_lead_is_in_the_air()
    {
        var (log, report) = Guard("y5_0053.csv", ServiceKind.Wye, "120/208", 60, StampPlace.Start);
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = ServiceKind.Wye, Nominal = Nominal("120/208", ServiceKind.Wye) }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(3481794.3, energy.LowWattHours, energy.HighWattHours);
        Assert.InRange(energy.HighWattHours - energy.LowWattHours, 0, 0.003 * energy.MendedWattHours);
    }

    // Balanced motors draw alike on two lines for a day, but part by some percent in one row of ten: two clamps on one conductor never do.
    [Fact]
    public void A_day_of_balanced_motors_is_not_two_clamps_on_one_conductor()
    {
        var (_, report) = Guard("y6_0037.csv", ServiceKind.Wye, "277/480", 60, StampPlace.Start);
        Assert.Equal(SpanKind.NoData, Assert.Single(report.Spans, span => !span.IsDoubtful).Kind);
    }

    [Fact]
    public void A_factory_that_is_shut_over_the_weekend_has_no_wrong_ratio()
    {
        // Its lines carry a tenth of what they do on a working day, nearly alike.
        var (_, report) = Guard("x1_0049.csv", ServiceKind.HighLeg, "120/240", 60, StampPlace.Start);
        Assert.DoesNotContain(report.Spans, span => span.Kind == SpanKind.RatioWrong);
    }

    // The true energies are true_kwh of the simulator's account of each week: what the same recorder would have counted had nothing gone wrong.
    [Theory]
    // Two leads on one line of three wires for four and a half days of seven: 257.6 kWh were written.
    [InlineData("w1_0062.csv", ServiceKind.Delta, "480", 60, 311.91896)]
    // A lead in the air for eight hours of six days, two clamps: 280.2 kWh were written.
    [InlineData("w1_0119.csv", ServiceKind.DeltaTwoClamp, "400", 50, 285.21111)]
    // Two clamps exchanged for seven days of ten, with vars that hold distortion: turned by a third of a cycle they give 985.9 kWh, give or take 1.7.
    [InlineData("y1_0003.csv", ServiceKind.Wye, "120/208", 60, 972.079)]
    // All three clamps at five times for five days of six: 4,412 kWh were written.
    [InlineData("y6_0018.csv", ServiceKind.Wye, "120/208", 60, 1020.5078)]
    // A lead in the air for four days, and hours in which one line's answers seem five times too weak though it carries what it always does: 2,242 kWh, give or take 15, with a ratio put right that was none.
    [InlineData("z1_0034.csv", ServiceKind.Wye, "120/208", 60, 2201.598)]
    // Half of one line's current all week: 1,056 kWh were written.
    [InlineData("y7_0053.csv", ServiceKind.Wye, "230/400", 50, 1252.1386)]
    // A jaw that was never closed: 1,445.8 kWh were written.
    [InlineData("y7_0030.csv", ServiceKind.Wye, "230/400", 50, 1592.8894)]
    // A line's clamp on the neutral all week: 905.8 kWh were written.
    [InlineData("y8_0008.csv", ServiceKind.Wye, "230/400", 50, 1223.2818)]
    // All three clamps at a tenth for four days of six: the neutral, read by a clamp of its own, carries ten times what they leave it, so that the days before are the right ones.
    [InlineData("y4_0005.csv", ServiceKind.Wye, "230/400", 50, 465.749)]
    public void What_was_written_while_a_lead_or_clamp_was_wrong_is_mended_towards_the_true_energy(string name, ServiceKind service, string nominal, double hertz, double trueKilowattHours)
    {
        var (log, report) = Guard(name, service, nominal, hertz, StampPlace.Start);
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = service, Nominal = Nominal(nominal, service) }, TestContext.Current.CancellationToken).Energy!;
        var truth = 1000 * trueKilowattHours;
        Assert.InRange(truth, energy.LowWattHours, energy.HighWattHours);
        double mended = Math.Abs(energy.MendedWattHours - truth), recorded = Math.Abs(energy.RecordedWattHours - truth);
        Assert.True(mended < recorded, $"{mended} Wh off, {recorded} Wh as it was recorded");
    }

    [Theory]
    // A jaw that opened to nothing within a day, three days before the end: nearly half of the energy was not written.
    [InlineData("w4_0013.csv", ServiceKind.Single, "120", 60, 115.59186)]
    // The end of a range for 156 of 1,152 rows in part or wholly.
    [InlineData("w4_0014.csv", ServiceKind.Wye, "277/480", 60, 1385.11435)]
    public void What_a_clamp_did_not_show_is_put_in_and_its_interval_holds_the_true_energy(string name, ServiceKind service, string nominal, double hertz, double trueKilowattHours)
    {
        var (log, report) = Guard(name, service, nominal, hertz, StampPlace.Start);
        var energy = IntervalMender.Mend(log, report, new MendOptions { Service = service, Nominal = Nominal(nominal, service) }, TestContext.Current.CancellationToken).Energy!;
        var truth = 1000 * trueKilowattHours;
        Assert.InRange(truth, energy.LowWattHours, energy.HighWattHours);
        Assert.True(Math.Abs(energy.MendedWattHours - truth) < 0.5 * Math.Abs(energy.RecordedWattHours - truth), $"{energy.MendedWattHours} Wh, truly {truth}");
    }

    private static (IntervalLog Log, GuardReport Report) Guard(string name, ServiceKind service, string nominal, double hertz, StampPlace stamps, bool mayExport = false, Rotation told = Rotation.Unknown)
    {
        var voltage = Nominal(nominal, service);
        var log = ReadLog.Of(TestData.File("weeks/" + name), new LogReadOptions { Stamps = stamps, NominalVolts = voltage.LineToNeutralVolts }).Log;
        var options = new GuardOptions { Service = service, Nominal = voltage, FrequencyHertz = hertz, Check = new CheckOptions { MayExport = mayExport, ToldRotation = told } };
        return (log, IntervalGuard.Judge(log, options, TestContext.Current.CancellationToken));
    }

    private static NominalVoltage Nominal(string text, ServiceKind service) =>
        NominalVoltage.TryParse(text, service, out var nominal) ? nominal! : throw new ArgumentException(text, nameof(text));

    private static string Words(GuardSpan span) =>
        FormattableString.Invariant($"{span.Kind} {string.Join(' ', span.Leads)} {string.Join(' ', span.Clamps)} {span.From:s} to {span.To:s}, {span.Confidence:0.00}");
}
