using System.Globalization;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>What columns are taken for. The headings are words of the trade, put together here.</summary>
public sealed class LogColumnMatchTests
{
    [Theory]
    [InlineData("V1 (V)", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("UL2 max [V]", LogQuantity.Voltage, LogPlace.Phase2, LogStatistic.Maximum)]
    [InlineData("U12 [V]", LogQuantity.Voltage, LogPlace.Pair12, LogStatistic.Mean)]
    [InlineData("Voltage L3-L1 (V)", LogQuantity.Voltage, LogPlace.Pair31, LogStatistic.Mean)]
    [InlineData("Vca avg (V)", LogQuantity.Voltage, LogPlace.Pair31, LogStatistic.Mean)]
    [InlineData("V_AN (V)", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Min. Phase B Voltage, V", LogQuantity.Voltage, LogPlace.Phase2, LogStatistic.Minimum)]
    [InlineData("Spannung L2 Minimum [V]", LogQuantity.Voltage, LogPlace.Phase2, LogStatistic.Minimum)]
    [InlineData("I_A", LogQuantity.Current, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("I1_A", LogQuantity.Current, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Neutral current (A)", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("Strom N [A]", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("IN_A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("In_A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("in (A)", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("I_N [A]", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("I-N_A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("IN max A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Maximum)]
    [InlineData("N_A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("Ineutral_A", LogQuantity.Current, LogPlace.Neutral, LogStatistic.Mean)]
    [InlineData("Current in A", LogQuantity.Current, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Intensité L3 moy. (A)", LogQuantity.Current, LogPlace.Phase3, LogStatistic.Mean)]
    [InlineData("Corrente L1 máx (A)", LogQuantity.Current, LogPlace.Phase1, LogStatistic.Maximum)]
    [InlineData("P total (kW)", LogQuantity.ActivePower, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("Wirkleistung gesamt [kW]", LogQuantity.ActivePower, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("Puissance active totale (kW)", LogQuantity.ActivePower, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("kW L2", LogQuantity.ActivePower, LogPlace.Phase2, LogStatistic.Mean)]
    [InlineData("kvar total", LogQuantity.ReactivePower, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("Q3 [kvar]", LogQuantity.ReactivePower, LogPlace.Phase3, LogStatistic.Mean)]
    [InlineData("Potencia reactiva L1 (kvar)", LogQuantity.ReactivePower, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("S L1 [kVA]", LogQuantity.ApparentPower, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Schijnbaar vermogen (VA)", LogQuantity.ApparentPower, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("PF1", LogQuantity.PowerFactor, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Leistungsfaktor L2", LogQuantity.PowerFactor, LogPlace.Phase2, LogStatistic.Mean)]
    [InlineData("Fattore di potenza totale", LogQuantity.PowerFactor, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("cos φ L1", LogQuantity.DisplacementFactor, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Frequenz [Hz]", LogQuantity.Frequency, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("THD V1 (%)", LogQuantity.VoltageDistortion, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("THDI3 [%]", LogQuantity.CurrentDistortion, LogPlace.Phase3, LogStatistic.Mean)]
    [InlineData("U1 h5 [%]", LogQuantity.VoltageHarmonic, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Current unbalance (%)", LogQuantity.CurrentUnbalance, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("Pst L1", LogQuantity.ShortTermFlicker, LogPlace.Phase1, LogStatistic.Mean)]
    [InlineData("Plt L2", LogQuantity.LongTermFlicker, LogPlace.Phase2, LogStatistic.Mean)]
    [InlineData("Energie Bezug [kWh]", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount)]
    [InlineData("Zählerstand [kWh]", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter)]
    [InlineData("Oil temperature [°C]", LogQuantity.Other, LogPlace.Whole, LogStatistic.Mean)]
    [InlineData("Voltage deviation L1 (%)", LogQuantity.Other, LogPlace.Whole, LogStatistic.Mean)]
    public void A_heading_tells_quantity_place_and_statistic(string heading, LogQuantity quantity, LogPlace place, LogStatistic statistic)
    {
        var column = Read([heading], 40, (_, row) => 1 + (0.1 * (row % 7))).Columns[1];

        Assert.Equal((quantity, place, statistic), (column.Quantity, column.Place, column.Statistic));
        Assert.NotEmpty(column.Why);
    }

    [Fact]
    public void A_table_that_measure_writes_is_known()
    {
        // Headings of docs/formats/measured-tables.md.
        const string Heading = "start,start_s,end_s,windows,flagged_windows,flags,frequency_Hz,u2_percent,u0_percent,P1_W,P1_fundamental_W,Q1_fundamental_var,S1_VA,N1_var,PF1,DPF1,P_W,PF,import_Wh,export_Wh,"
            + "V1_standing,V1_rms_V,V1_min_V,V1_max_V,V1_peak_V,V1_dc_V,V1_crest,V1_fundamental_V,V1_thd_percent,V1_thd_group_percent,V1_pst,V1_h5_V,I1_standing,I1_rms_A,I1_k_factor";
        var text = new StringBuilder(Heading).Append('\n');
        for (var row = 0; row < 20; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddMinutes(10 * row):yyyy-MM-ddTHH:mm:ss.ffffff},{600 * row},{600 * (row + 1)},3000,0,dip,50.01,0.3,0.2,");
            text.Append(CultureInfo.InvariantCulture, $"2000,1990,500,{2070 + row},100,0.96,0.97,6000,0.96,{1000 + (row % 3)},0,measured,230.1,229,231,325,0.1,1.41,230,2.2,2.3,0.4,5,measured,9,1.2\n");
        }

        var log = ReadLog.Of(TestData.Text("m.csv", text.ToString())).Log;

        Assert.Equal((20, 600.0), (log.Count, log.IntervalSeconds));
        (string, LogQuantity, LogPlace, LogStatistic)[] wanted =
        [
            ("frequency_Hz", LogQuantity.Frequency, LogPlace.Whole, LogStatistic.Mean), ("u2_percent", LogQuantity.VoltageUnbalance, LogPlace.Whole, LogStatistic.Mean),
            ("u0_percent", LogQuantity.ZeroSequenceUnbalance, LogPlace.Whole, LogStatistic.Mean), ("P1_W", LogQuantity.ActivePower, LogPlace.Phase1, LogStatistic.Mean),
            ("Q1_fundamental_var", LogQuantity.ReactivePower, LogPlace.Phase1, LogStatistic.Mean), ("S1_VA", LogQuantity.ApparentPower, LogPlace.Phase1, LogStatistic.Mean),
            ("PF1", LogQuantity.PowerFactor, LogPlace.Phase1, LogStatistic.Mean), ("DPF1", LogQuantity.DisplacementFactor, LogPlace.Phase1, LogStatistic.Mean),
            ("P_W", LogQuantity.ActivePower, LogPlace.Whole, LogStatistic.Mean), ("PF", LogQuantity.PowerFactor, LogPlace.Whole, LogStatistic.Mean), ("import_Wh", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount),
            ("V1_rms_V", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Mean), ("V1_min_V", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Minimum),
            ("V1_max_V", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Maximum), ("V1_crest", LogQuantity.VoltageCrest, LogPlace.Phase1, LogStatistic.Mean),
            ("V1_thd_percent", LogQuantity.VoltageDistortion, LogPlace.Phase1, LogStatistic.Mean), ("V1_pst", LogQuantity.ShortTermFlicker, LogPlace.Phase1, LogStatistic.Mean),
            ("I1_rms_A", LogQuantity.Current, LogPlace.Phase1, LogStatistic.Mean), ("I1_k_factor", LogQuantity.KFactor, LogPlace.Phase1, LogStatistic.Mean),
        ];
        Assert.Equal(wanted, log.Columns.Where(column => column.Quantity != LogQuantity.Other && !column.IsExport).Select(column => (column.Name, column.Quantity, column.Place, column.Statistic)));
        Assert.Equal("export_Wh", log.Columns.Single(column => column.IsExport).Name);
        Assert.All(log.Columns.Where(column => column.Name is "P1_fundamental_W" or "N1_var" or "V1_peak_V" or "V1_dc_V" or "V1_h5_V"), column => Assert.Equal(LogQuantity.Other, column.Quantity));
    }

    [Fact]
    public void Phases_R_S_T_are_told_from_totals_by_the_other_headings()
    {
        var rst = Read(["PR (kW)", "PS (kW)", "PT (kW)"], 20, (column, row) => column + row % 3);
        Assert.Equal([LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3], rst.Columns[1..].Select(column => column.Place));
        var total = Read(["P1 (kW)", "P2 (kW)", "PT (kW)"], 20, (column, row) => column + row % 3);
        Assert.Equal([LogPlace.Phase1, LogPlace.Phase2, LogPlace.Whole], total.Columns[1..].Select(column => column.Place));
    }

    [Fact]
    public void VA_is_a_voltage_beside_VB_and_volt_amperes_alone()
    {
        var phases = Read(["VA", "VB", "VC"], 20, (_, row) => 230 + row % 3);
        Assert.Equal([(LogQuantity.Voltage, LogPlace.Phase1), (LogQuantity.Voltage, LogPlace.Phase2), (LogQuantity.Voltage, LogPlace.Phase3)], phases.Columns[1..].Select(column => (column.Quantity, column.Place)));
        Assert.Equal(LogQuantity.ApparentPower, Read(["VA", "W"], 20, (_, row) => 230 + row % 3).Columns[1].Quantity);
    }

    [Fact]
    public void A_rising_column_of_energy_is_a_counter_and_one_that_falls_is_not()
    {
        var file = Read(["Import (kWh)", "Usage (kWh)"], 60, (column, row) => column == 0 ? 5000 + (3 * row) : 3 + (row % 4));

        Assert.Equal([LogStatistic.Counter, LogStatistic.Amount], file.Columns[1..].Select(column => column.Statistic));
        Assert.Contains("a counter", file.Columns[1].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Power_without_unit_gets_it_from_volts_and_amperes()
    {
        // 230 V by 10 A at a power factor of 0.9: 2.07 kW.
        var file = Read(["V1 (V)", "I1 (A)", "P1", "S1", "PF1"], 60, (column, row) => column switch { 0 => 230, 1 => 10 + (row % 5), 2 => 0.207 * (10 + (row % 5)), 3 => 0.23 * (10 + (row % 5)), _ => 0.9 });

        Assert.Equal(("kW", 1000.0), (file.Columns[3].Unit, file.Columns[3].Factor));
        Assert.Equal(("kVA", 1000.0), (file.Columns[4].Unit, file.Columns[4].Factor));
        Assert.Contains("P = S·PF holds", file.Columns[3].Why, StringComparison.Ordinal);
        Assert.DoesNotContain(file.Questions, question => question.Contains("unit", StringComparison.Ordinal));
    }

    [Fact]
    public void A_power_beyond_volts_by_amperes_is_doubted()
    {
        var file = Read(["V1 (V)", "I1 (A)", "P1 (kW)"], 60, (column, row) => column switch { 0 => 230, 1 => 10 + (row % 5), _ => 20 + (row % 5) });

        Assert.True(file.Columns[3].Confidence < 0.6);
        Assert.Contains(file.Questions, question => question == "Is the unit of column 'P1 (kW)' right, and the ratio of its clamp?");
    }

    [Fact]
    public void A_least_value_above_the_mean_is_told()
    {
        var file = Read(["V1 (V)", "V1 min (V)", "V1 max (V)"], 60, (column, _) => column switch { 0 => 230, 1 => 240, _ => 235 });

        Assert.Contains(file.Warnings, warning => warning.Says == "Column 'V1 min (V)' should stay below column 'V1 (V)', and does not in 60 of 60 rows looked at.");
        Assert.Contains("it stays above the mean", file.Columns[3].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_near_a_usual_voltage_are_proposed_with_doubt_where_names_say_nothing()
    {
        var file = Read(["ch1", "ch2", "ch3", "ch4"], 60, (column, row) => column < 3 ? 229 + column + (0.1 * (row % 9)) : 49.98 + (0.01 * (row % 4)));

        Assert.Equal([LogQuantity.Voltage, LogQuantity.Voltage, LogQuantity.Voltage, LogQuantity.Frequency], file.Columns[1..].Select(column => column.Quantity));
        Assert.Equal([LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3], file.Columns[1..4].Select(column => column.Place));
        Assert.All(file.Columns[1..], column => Assert.True(column.Confidence <= 0.5));
        Assert.Contains("Is column 'ch1' a voltage, and of which lead?", file.Questions);
    }

    [Fact]
    public void Two_columns_of_one_meaning_are_both_kept_and_told()
    {
        var file = Read(["V1 (V)", "Voltage L1 [V]"], 20, (column, row) => 230 + column + (row % 3));

        Assert.Equal(2, file.Log.Columns.Length);
        Assert.Equal([LogQuantity.Voltage, LogQuantity.Other], file.Log.Columns.Select(column => column.Quantity));
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("Columns 'V1 (V)' and 'Voltage L1 [V]' both seem to hold the same", StringComparison.Ordinal));
    }

    [Fact]
    public void IN_beside_the_phases_is_the_neutral_clamp()
    {
        var file = Read(["I1_A", "I2_A", "I3_A", "IN_A"], 20, (column, row) => 10 - (2 * column) + (row % 3));

        Assert.Equal([LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3, LogPlace.Neutral], file.Log.Columns.Select(column => column.Place));
        Assert.DoesNotContain(file.Warnings, warning => warning.Says.Contains("seem to hold the same", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(3, LogPlace.Neutral)]
    [InlineData(0, LogPlace.Whole)]
    [InlineData(80, LogPlace.Whole)]
    public void A_fourth_current_is_the_neutrals_where_its_numbers_can_be(double amperes, LogPlace place)
    {
        var file = Read(["I1_A", "I2_A", "I3_A", "I4_A", "I4_max_A"], 20, (column, row) => column < 3 ? 10 - column + (row % 3) : amperes);

        Assert.Equal([place, place], file.Log.Columns[3..].Select(column => column.Place));
        Assert.Equal(place == LogPlace.Neutral, file.Questions.Contains("Is column 'I4_A' the current of the neutral?"));
    }

    [Theory]
    [InlineData(400, null, LogPlace.Pair12, "400 V are taken for what is from line to line, V12, V23 and V31.")]
    [InlineData(230, null, LogPlace.Phase1, "230 V are taken for what is from each line to the middle of the lines.")]
    // 240 V are usual between lines; of 240/415 they are not, when that is stated.
    [InlineData(240, null, LogPlace.Pair12, "from line to line, V12, V23 and V31.")]
    [InlineData(240, 240.0, LogPlace.Phase1, "from each line to the middle of the lines.")]
    public void Voltages_under_the_name_of_one_line_are_taken_as_three_wires_have_them(double volts, double? nominal, LogPlace place, string says)
    {
        var options = new LogReadOptions { Service = ServiceKind.Delta, NominalVolts = nominal };
        var file = Read(["U L1 [V]", "U L2 [V]", "U L3 [V]", "THD U L1 [%]"], 20, (column, row) => column < 3 ? volts + (row % 3) - 1 : 2, options);

        Assert.Equal([place, place + 1, place + 2, place], file.Log.Columns.Select(column => column.Place));
        Assert.Contains(file.Warnings, warning => warning.Says.Contains(says, StringComparison.Ordinal));
        // What a person said stands.
        var stated = Read(["U L1 [V]", "U L2 [V]", "U L3 [V]"], 20, (_, row) => volts + (row % 3) - 1, options with { Columns = [new("U L1 [V]", LogQuantity.Voltage, LogPlace.Phase1)] });
        Assert.Equal(LogPlace.Phase1, stated.Log.Columns[0].Place);
    }

    [Fact]
    public void A_total_beyond_what_pairs_can_carry_shows_voltages_to_the_middle()
    {
        var options = new LogReadOptions { Service = ServiceKind.Delta };
        var file = Read(["U1 [V]", "U2 [V]", "U3 [V]", "I1 [A]", "I2 [A]", "I3 [A]", "P [W]"], 20, (column, row) => column < 3 ? 400 : column < 6 ? 10 + (row % 3) : 0.9 * 3 * 400 * (10 + (row % 3)), options);
        Assert.Equal(LogPlace.Phase1, file.Log.Columns[0].Place);
    }

    [Fact]
    public void Voltages_between_lines_on_a_service_with_a_neutral_are_said_to_be_such()
    {
        var file = Read(["V12", "V23", "V31"], 20, (_, row) => 400 + (row % 3), new LogReadOptions { Service = ServiceKind.Wye });
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("The voltages were recorded from line to line (V12, V23 and V31), and the service as stated has a neutral.", StringComparison.Ordinal));
        Assert.DoesNotContain(Read(["V1", "V2", "V3", "V12"], 20, (_, row) => 400 + (row % 3), new LogReadOptions { Service = ServiceKind.Wye }).Warnings, warning => warning.Says.Contains("neutral", StringComparison.Ordinal));
    }

    [Fact]
    public void A_name_and_a_unit_that_disagree_are_asked_about()
    {
        var file = Read(["Voltage L1 [A]"], 20, (_, row) => 230 + (row % 3));

        Assert.Equal(LogQuantity.Other, file.Columns[1].Quantity);
        Assert.Contains("What does column 'Voltage L1 [A]' hold? Its name says voltage, its unit A.", file.Questions);
    }

    [Fact]
    public void A_profile_reads_back_as_written_and_wins_over_names()
    {
        var profile = new ColumnProfile(["time", "x", "P1 [kW]"], [new("x", LogQuantity.Current, LogPlace.Neutral) { Unit = "mA" }, new("P1 [kW]", LogQuantity.ActiveEnergy, LogPlace.Phase1, LogStatistic.Amount) { Unit = "kWh", IsExport = true }])
        {
            DateOrder = DateOrder.MonthDayYear, Stamps = StampPlace.End, DecimalMark = '.',
        };
        var bytes = ColumnProfileWriter.Write(profile);
        var again = ColumnProfileReader.Read(new InputFile("mine.json", bytes));

        Assert.Equal(profile.Headings, again.Headings);
        Assert.Equal(profile.Columns, again.Columns);
        Assert.Equal((profile.DateOrder, profile.Stamps, profile.DecimalMark), (again.DateOrder, again.Stamps, again.DecimalMark));
        Assert.Equal(bytes, ColumnProfileWriter.Write(again));

        var file = ReadLog.Of(TestData.Text("a.csv", "time;x;P1 [kW]\n03/02/2026 10:15;500;1.5\n03/02/2026 10:30;600;2.5\n"), new LogReadOptions { Profiles = [again] });
        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0), file.Log.From);
        Assert.Equal([0.5, 0.6], file.Log.Values(file.Log.IndexOf(LogQuantity.Current, LogPlace.Neutral)).ToArray());
        Assert.True(file.Log.Columns[1].IsExport);
        Assert.Equal([1500, 2500], file.Log.Values(1).ToArray());
        Assert.Contains(file.Warnings, warning => warning.Says == "The columns are read as a person confirmed for tables with these headings.");
    }

    [Theory]
    [InlineData("{}", "$.schema")]
    [InlineData("{\"schema\":\"leadwright.columns/2\"}", "$.schema")]
    [InlineData("{\"schema\":\"leadwright.columns/1\"}", "$.headings")]
    [InlineData("{\"schema\":\"leadwright.columns/1\",\"headings\":[\"a\"],\"columns\":[{\"column\":\"a\",\"quantity\":\"volts\"}]}", "$.columns[0].quantity")]
    [InlineData("{\"schema\":\"leadwright.columns/1\",\"headings\":[\"a\"],\"columns\":[{\"quantity\":\"voltage\"}]}", "$.columns[0].column")]
    [InlineData("{\"schema\":\"leadwright.columns/1\",\"headings\":[\"a\"],\"colums\":[]}", "$.colums")]
    public void A_profile_that_is_none_is_refused_with_its_field(string json, string field) =>
        Assert.Equal(field, Assert.Throws<FormatReadException>(() => ColumnProfileReader.Read(TestData.Text("p.json", json))).Field);

    private static LogFile Read(string[] headings, int rows, Func<int, int, double> value, LogReadOptions? options = null)
    {
        var text = new StringBuilder("time;").AppendJoin(';', headings).Append('\n');
        for (var row = 0; row < rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddMinutes(15 * row):yyyy-MM-dd HH:mm}");
            for (var column = 0; column < headings.Length; column++) text.Append(CultureInfo.InvariantCulture, $";{value(column, row):0.####}");
            text.Append('\n');
        }

        return ReadLog.Of(TestData.Text("log.csv", text.ToString()), options);
    }
}
