using System.Globalization;
using System.Text;
using Leadwright.Core.Studies.Limits;
using Leadwright.Formats.Limits;

namespace Leadwright.Formats.Tests.Limits;

/// <summary>The shipped tables of limits against the tables in tests/data/limits, value by value.</summary>
public sealed class ShippedLimitTests
{
    private static readonly (string Column, int From, int To)[] s_bands =
        [("h_2_to_10_percent", 2, 10), ("h_11_to_16_percent", 11, 16), ("h_17_to_22_percent", 17, 22), ("h_23_to_34_percent", 23, 34), ("h_35_to_50_percent", 35, 50)];

    [Fact]
    public void All_shipped_tables_read() =>
        Assert.Equal(LimitTableReader.Shipped, LimitTableReader.Shipped.Select(name => Table(name).Name));

    [Fact]
    public void Harmonics_of_en_50160_are_those_of_the_table()
    {
        var rules = Table("en-50160").Rules.Where(rule => rule.Quantity == LimitQuantity.VoltageHarmonic).ToList();
        var rows = Csv("en50160_lv_harmonics.csv");
        Assert.Equal(24, rows.Count);
        Assert.Equal(rows.Select(row => (int.Parse(row["order"], CultureInfo.InvariantCulture), Number(row["limit_percent_of_nominal"]))), rules.Select(rule => (rule.OrderFrom, rule.Most)));
        Assert.All(rules, rule => Assert.Equal((95, 7, 600, 1), (rule.SharePercent, rule.PeriodDays, rule.PerSeconds, rule.Factor)));
    }

    // EN 50160, low voltage (2010 with A1), from memory: ±1 % of 50 Hz for 99.5 % of a year, −6/+4 % always; ±10 % for 95 % of a week, −15/+10 % always; Plt 1, u2 2 %, THD 8 %.
    [Theory]
    [InlineData("frequency-99.5", 49.5, 50.5, 99.5)]
    [InlineData("frequency-100", 47, 52, 100)]
    [InlineData("voltage-95", 90, 110, 95)]
    [InlineData("voltage-100", 85, 110, 100)]
    [InlineData("flicker-plt-95", double.NaN, 1, 95)]
    [InlineData("unbalance-95", double.NaN, 2, 95)]
    [InlineData("thd-95", double.NaN, 8, 95)]
    public void Other_limits_of_en_50160_are_as_known(string id, double least, double most, double share)
    {
        var rule = Assert.Single(Table("en-50160").Rules, rule => rule.Id == id);
        Assert.Equal((least, most, share), (rule.Least, rule.Most, rule.SharePercent));
    }

    [Fact]
    public void Currents_of_ieee_519_are_those_of_the_table_with_their_multipliers()
    {
        var table = Table("ieee-519");
        foreach (var row in Csv("ieee519_current.csv"))
        {
            var kilovolts = row["bus_voltage_kV"] switch { "0.12-69" => 0.4, "69-161" => 110, _ => 230 };
            var site = new LimitSite { LineVolts = 1000 * kilovolts, CurrentRatio = Number(row["Isc_over_IL_from"]) + 0.5 };
            var rules = table.Rules.Where(rule => rule.Scope?.Applies(site) == true && rule.PerSeconds == 600 && rule.SharePercent == 95).ToList();
            foreach (var (column, from, to) in s_bands)
            {
                for (var order = from; order <= to; order++)
                {
                    var rule = Assert.Single(rules, rule => rule.Quantity == LimitQuantity.CurrentHarmonic && rule.Covers(order));
                    // Even orders up to the sixth have half of the table (2022 edition, from memory).
                    Assert.Equal(Number(row[column]) * (order % 2 == 0 && order <= 6 ? 0.5 : 1), rule.Most * rule.Factor, 1e-12);
                }
            }

            Assert.Equal(Number(row["TDD_percent"]), Assert.Single(rules, rule => rule.Quantity == LimitQuantity.CurrentDistortion).Most);
            var tdd = table.Rules.Where(rule => rule.Scope?.Applies(site) == true && rule.Quantity == LimitQuantity.CurrentDistortion).Select(rule => (rule.PerSeconds, rule.SharePercent, rule.PeriodDays, rule.Factor));
            Assert.Equal([(3, 99, 1, 2), (600, 99, 7, 1.5), (600, 95, 7, 1)], tdd);
        }
    }

    [Fact]
    public void Voltages_of_ieee_519_are_those_of_the_table()
    {
        foreach (var row in Csv("ieee519_voltage.csv"))
        {
            var above = Number(row["bus_voltage_above_kV"]);
            var site = new LimitSite { LineVolts = 1000 * (row["bus_voltage_up_to_kV"].Length > 0 ? Number(row["bus_voltage_up_to_kV"]) : above + 1) };
            var rules = Table("ieee-519").Rules.Where(rule => rule.Scope?.Applies(site) == true).ToList();
            var single = rules.Where(rule => rule.Quantity == LimitQuantity.VoltageHarmonic).ToList();
            var total = rules.Where(rule => rule.Quantity == LimitQuantity.VoltageDistortion).ToList();
            Assert.All(single, rule => Assert.Equal(Number(row["single_harmonic_percent"]), rule.Most));
            Assert.All(total, rule => Assert.Equal(Number(row["THD_percent"]), rule.Most));
            Assert.Equal([(3, 1.5), (600, 1)], total.Select(rule => (rule.PerSeconds, rule.Factor)));
            Assert.Equal(2, single.Count);
        }
    }

    [Fact]
    public void Every_value_of_ansi_c84_1_is_that_of_the_table()
    {
        var rules = Table("ansi-c84.1").Rules;
        var count = 0;
        foreach (var row in Csv("ansi_c84_1.csv"))
        {
            foreach (var (quantity, least, most) in ((LimitQuantity, string, string)[])
                [(LimitQuantity.VoltageBetweenLines, "min_LL_V", "max_LL_V"), (LimitQuantity.VoltageToNeutral, "min_LN_V", "max_LN_V")])
            {
                if (row[least].Length == 0) continue;
                var rule = Assert.Single(rules, rule => rule.Quantity == quantity && rule.Scope!.System == row["system"] && rule.Scope.Point == row["point"]
                    && rule.Clause.Contains($"range {row["range"]},", StringComparison.Ordinal));
                Assert.Equal((Number(row[least]), Number(row[most])), (rule.Least, rule.Most));
                count++;
            }
        }

        Assert.Equal(rules.Length, count);
    }

    [Fact]
    public void The_curve_of_nema_mg_1_is_that_of_the_table_and_straight_between()
    {
        var table = Table("nema-mg1");
        foreach (var row in Csv("nema_mg1_derating.csv")) Assert.Equal(Number(row["derating_factor"]), table.DeratingAt(Number(row["voltage_unbalance_percent"])), 1e-12);
        Assert.Equal(0.915, table.DeratingAt(2.5), 1e-12);
        Assert.True(double.IsNaN(table.DeratingAt(5.1)));
    }

    [Theory]
    [InlineData("""{"schema":"leadwright.limits/1","name":"x","rules":[{"id":"a","quantity":"volts","most":1}]}""", "$.rules[0].quantity")]
    [InlineData("""{"schema":"leadwright.limits/1","name":"x","rules":[{"id":"a","quantity":"voltage","moast":1}]}""", "$.rules[0].moast")]
    [InlineData("""{"schema":"leadwright.limits/1","name":"x","rules":[{"id":"a","quantity":"voltage"}]}""", "$.rules[0]")]
    [InlineData("""{"schema":"leadwright.limits/1","name":"x","rules":[{"id":"a","quantity":"voltage","most":1,"share_percent":0}]}""", "$.rules[0].share_percent")]
    [InlineData("""{"schema":"leadwright.limits/1","name":"x","rules":[]}""", "$.rules")]
    [InlineData("""{"name":"x"}""", "$.schema")]
    public void A_table_that_can_not_be_used_is_refused_with_its_place(string json, string field) =>
        Assert.Equal(field, Assert.Throws<FormatReadException>(() => LimitTableReader.Read(new InputFile("own.json", Encoding.UTF8.GetBytes(json)))).Field);

    private static LimitTable Table(string name) => LimitTableReader.Read(LimitTableReader.ShippedFile(name)!);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static List<Dictionary<string, string>> Csv(string name)
    {
        var lines = File.ReadAllLines(Path.Combine(TestData.Folder, "limits", name));
        var heads = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => line.Length > 0).Select(line => heads.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second))];
    }
}
