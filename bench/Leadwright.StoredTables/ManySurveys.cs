using System.Diagnostics;
using System.Globalization;
using DuckDB.NET.Data;
using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;
using static System.FormattableString;

namespace Leadwright.StoredTables;

/// <summary>Writes many surveys of a week and asks all of them one question.</summary>
internal sealed class ManySurveys(string folder, int count, TextWriter page)
{
    private const int Rows = 1008;

    public async Task RunAsync()
    {
        var clock = Stopwatch.StartNew();
        var (peak, worst) = (new double[count], new double[count]);
        for (var survey = 0; survey < count; survey++)
        {
            var log = InventedLog.Make(Rows, 12, 600, survey);
            (peak[survey], worst[survey]) = (HighestHour(log), log.Values(1).ToArray().Where(value => !double.IsNaN(value)).Max());
            Directory.CreateDirectory(Path.Combine(folder, $"s{survey}"));
            await SurveyTables.WriteLogAsync(Path.Combine(folder, $"s{survey}"), $"s{survey}", log);
        }

        page.WriteLine(Invariant($"{count:N0} surveys of a week of ten minutes, {Rows:N0} rows × 12 columns each, written in {clock.Elapsed.TotalSeconds:0.0} s.\n"));
        page.WriteLine("| what | time |\n| --- | --- |");
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        for (var round = 0; round < 2; round++)
        {
            clock.Restart();
            var right = 0;
            using var command = connection.CreateCommand();
            command.CommandText = Query;
            using var reader = command.ExecuteReader();
            while (reader.Read())
            {
                var survey = int.Parse(reader.GetString(0).AsSpan(1), CultureInfo.InvariantCulture);
                if (Math.Abs(reader.GetDouble(1) - (peak[survey] / 1000)) < 1e-9 && reader.GetDouble(2) == worst[survey]) right++;
            }

            page.WriteLine(Invariant($"| peak demand and worst unbalance of all in one query{(round == 0 ? "" : ", again")}: {right:N0} of {count:N0} as they were made | {clock.Elapsed.TotalMilliseconds:0} ms |"));
        }
    }

    private string Query => $"""
        WITH demand AS (
            SELECT survey, time_bucket(INTERVAL 60 MINUTES, start) AS hour, avg(P_W) AS watts, max(u2_percent) AS unbalance
            FROM read_parquet('{folder.Replace('\\', '/')}/*/tables/log/survey=*/*.parquet', hive_partitioning = true, union_by_name = true)
            GROUP BY survey, hour)
        SELECT survey, max(watts) / 1000 AS peak_kw, max(unbalance) AS worst_unbalance_percent FROM demand GROUP BY survey
        """;

    private static double HighestHour(IntervalLog log)
    {
        var power = log.Values(0).ToArray();
        var starts = log.Starts.ToArray();
        return power.Index().Where(row => !double.IsNaN(row.Item)).GroupBy(row => starts[row.Index] / TimeSpan.TicksPerHour).Max(hour => hour.Average(row => row.Item));
    }
}
