using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using DuckDB.NET.Data;
using static System.FormattableString;

namespace Leadwright.StoredTables;

/// <summary>Holds the answers of <c>study --format json</c> on a measured table against the same asked of a query engine.</summary>
internal static class WeekAnswers
{
    private const string TenMinutes = "SELECT floor((epoch_us(start) + 100000) / 600e6) AS b, sqrt(avg({0}::DOUBLE * {0})) AS v, count({0}) AS n, bool_or(flags <> '') AS f FROM t GROUP BY b";

    public static int Compare(string table, string study, TextWriter page)
    {
        using var answers = JsonDocument.Parse(File.ReadAllText(study));
        var root = answers.RootElement;
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        Run(connection, $"CREATE VIEW t AS SELECT * FROM '{table.Replace("'", "''", StringComparison.Ordinal)}'");
        Run(connection, "SET threads = 2");
        var clock = Stopwatch.StartNew();
        var rows = new List<(string What, double Ours, double Theirs)>
        {
            ("energy, kWh", root.GetProperty("energy").GetProperty("import_kwh").GetDouble(), Ask(connection, "SELECT sum(P_W::DOUBLE) * 0.2 / 3600000 FROM t")),
            ("highest block of 15 min, kW", Demand(root, "block", 15), Ask(connection, "SELECT max(w) / 1000 FROM (SELECT avg(P_W::DOUBLE) w, count(P_W) n FROM t GROUP BY floor((epoch_us(start) + 100000) / 900e6)) WHERE n = 4500")),
            ("highest sliding 15 min, kW", Demand(root, "sliding", 15), Ask(connection, "SELECT max(w) / 1000 FROM (SELECT avg(P_W::DOUBLE) OVER (ORDER BY start ROWS BETWEEN 4499 PRECEDING AND CURRENT ROW) w, row_number() OVER (ORDER BY start) r FROM t) WHERE r >= 4500")),
            ("unbalance u2, 95 %", root.GetProperty("unbalance_percent").GetDouble(), Ask(connection, "SELECT quantile_cont(u2_percent::DOUBLE, 0.95) FROM t")),
        };
        foreach (var lead in (string[])["V1", "V2", "V3"])
        {
            var voltage = root.GetProperty("voltages").GetProperty(lead);
            rows.Add(($"{lead} mean, V", voltage.GetProperty("mean").GetDouble(), Ask(connection, $"SELECT avg({lead}_rms_V::DOUBLE) FROM t")));
            rows.Add(($"{lead} least, V", voltage.GetProperty("min").GetDouble(), Ask(connection, $"SELECT min({lead}_rms_V) FROM t")));
            rows.Add(($"{lead} 5 %, V", voltage.GetProperty("p5").GetDouble(), Ask(connection, $"SELECT quantile_cont({lead}_rms_V::DOUBLE, 0.05) FROM t")));
            rows.Add(($"{lead} 95 %, V", voltage.GetProperty("p95").GetDouble(), Ask(connection, $"SELECT quantile_cont({lead}_rms_V::DOUBLE, 0.95) FROM t")));
        }

        foreach (var clamp in (string[])["I1", "I2", "I3", "IN"])
            rows.Add(($"{clamp} 95 %, A", root.GetProperty("currents").GetProperty(clamp).GetProperty("p95").GetDouble(), Ask(connection, $"SELECT quantile_cont({clamp}_rms_A::DOUBLE, 0.95) FROM t")));
        var distortion = string.Join(" UNION ALL ", ((string[])["V1", "V2", "V3"]).Select(lead =>
            $"SELECT quantile_cont(v, 0.95) q FROM ({TenMinutes.Replace("{0}", lead + "_thd_percent", StringComparison.Ordinal)}) WHERE NOT f AND n >= 2700"));
        rows.Add(("EN 50160 voltage THD, 95 % of ten minutes, worst lead, flagged left out, %", Limit(root, "en-50160", "voltage THD"), Ask(connection, $"SELECT max(q) FROM ({distortion})")));
        page.WriteLine("| answer | study | query engine | relative difference |\n| --- | --- | --- | --- |");
        var worst = 0.0;
        foreach (var (what, ours, theirs) in rows)
        {
            var difference = Math.Abs(ours - theirs) / Math.Abs(theirs);
            worst = Math.Max(worst, difference);
            page.WriteLine(Invariant($"| {what} | {ours} | {theirs:G10} | {difference:0.0e+0} |"));
        }

        page.WriteLine(Invariant($"\nThe query engine took {clock.Elapsed.TotalSeconds:0.0} s for these {rows.Count} answers alone. Figures of the study are rounded to six to nine digits as its JSON gives them; largest relative difference {worst:0.0e+0}."));
        return worst < 1e-4 ? 0 : 1;
    }

    private static double Demand(JsonElement root, string kind, double minutes) => root.GetProperty("demands").EnumerateArray()
        .First(peak => peak.GetProperty("kind").GetString() == kind && peak.GetProperty("minutes").GetDouble() == minutes).GetProperty("peak_kw").GetDouble();

    private static double Limit(JsonElement root, string table, string quantity) => root.GetProperty("limits").EnumerateArray()
        .First(line => line.GetProperty("table").GetString() == table && line.GetProperty("quantity").GetString() == quantity).GetProperty("measured").GetDouble();

    private static void Run(DuckDBConnection connection, string text)
    {
        using var command = connection.CreateCommand();
        command.CommandText = text;
        command.ExecuteNonQuery();
    }

    private static double Ask(DuckDBConnection connection, string text)
    {
        using var command = connection.CreateCommand();
        command.CommandText = text;
        return Convert.ToDouble(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }
}
