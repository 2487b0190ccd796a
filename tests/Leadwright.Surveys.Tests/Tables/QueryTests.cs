using System.Globalization;
using System.Text.RegularExpressions;
using DuckDB.NET.Data;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>Another program's reader, DuckDB, reads the tables: one by one, and a folder of surveys as one data set.</summary>
public sealed partial class QueryTests : IDisposable
{
    private readonly TableFolder _folder = new();
    private readonly DuckDBConnection _connection = new("DataSource=:memory:");

    public QueryTests() => _connection.Open();

    public void Dispose()
    {
        _connection.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public async Task Columns_have_their_types_and_times_are_the_recorders_wall_clock()
    {
        var log = TableFolder.RandomLog(1, 100);
        await _folder.WriteAsync(log, new() { Standings = TableFolder.RandomStandings(1, 100) });
        Assert.Equal(
            ["start|TIMESTAMP", "end|TIMESTAMP", "V1_rms_V|DOUBLE", "P_W|DOUBLE", "P_standing|VARCHAR", "I2_angle_inst_deg|DOUBLE", "survey|VARCHAR"],
            Rows($"SELECT column_name, column_type FROM (DESCRIBE SELECT * FROM '{_folder.TableFile}')"));
        Assert.Equal(
            [$"{log.From:yyyy-MM-dd HH:mm:ss.fff}|{log.To:yyyy-MM-dd HH:mm:ss.fff}"],
            Rows($"SELECT strftime(min(start), '%Y-%m-%d %H:%M:%S.%g'), strftime(max(\"end\"), '%Y-%m-%d %H:%M:%S.%g') FROM '{_folder.TableFile}'"));
    }

    [Theory]
    [InlineData("SNAPPY")]
    [InlineData("ZSTD")]
    public void What_the_other_program_writes_is_read_as_a_log(string packing)
    {
        using var stream = File.OpenRead(Written(packing, "V1"));
        var log = LogReader.Read("other.parquet", stream, cancellation: TestContext.Current.CancellationToken).Log;
        Assert.Equal((3000, new DateTime(2026, 3, 2), 600), (log.Count, log.From, log.IntervalSeconds));
        var volts = log.Values(log.Columns.ToList().FindIndex(column => column.Name.StartsWith("V1", StringComparison.Ordinal)));
        Assert.Equal(Enumerable.Range(0, 3000).Select(row => 230.0 + (row % 7)), volts.ToArray());
    }

    [Fact]
    public void A_packing_that_can_not_be_read_is_told_with_its_column_and_what_to_do()
    {
        using var stream = File.OpenRead(Written("ZSTD", "V2"));
        var failure = Assert.Throws<FormatReadException>(() => LogReader.Read("other.parquet", stream, cancellation: TestContext.Current.CancellationToken));
        Assert.Contains("\"Time\"", failure.Message, StringComparison.Ordinal);
        Assert.Contains("version 1", failure.Message, StringComparison.Ordinal);
    }

    // Its footers hold sizes, exact bounds, logical types and notes; texts, whole numbers, flags and decimals stand beside the values.
    private string Written(string packing, string version)
    {
        var path = Path.Combine(_folder.Path, "other.parquet");
        using (var command = _connection.CreateCommand())
        {
            command.CommandText = $"""
                COPY (SELECT TIMESTAMP '2026-03-02 00:00:00' + i * INTERVAL 10 MINUTE AS "Time", (230 + i % 7)::DOUBLE AS "V1 (V)", (i % 40)::FLOAT AS "I1 (A)", (230 * (i % 40))::INTEGER AS "P1 (W)",
                  (i * 3.25)::DECIMAL(9, 2) AS "Temperature", i % 2 = 0 AS "Flag", 'row ' || i AS "Note", NULL::DOUBLE AS "Empty", DATE '2026-03-02' AS "Day", TIME '10:00:00' AS "Clock"
                  FROM range(3000) AS t(i) ORDER BY i) TO '{path}' (FORMAT PARQUET, COMPRESSION {packing}, ROW_GROUP_SIZE 2048, PARQUET_VERSION {version})
                """;
            command.ExecuteNonQuery();
        }

        return path;
    }

    [Fact]
    public async Task A_log_without_dates_has_no_column_that_could_be_taken_for_one()
    {
        var log = TableFolder.RandomLog(4, 6000);
        log = new IntervalLog(log.Columns, [.. Enumerable.Range(0, 6000).Select(row => row * 60L * TimeSpan.TicksPerSecond)], [.. Enumerable.Range(0, 3).Select(column => log.Values(column).ToArray())], 60);
        await _folder.WriteAsync(log);
        Assert.Equal(
            ["start_s|DOUBLE", "end_s|DOUBLE"], Rows($"SELECT column_name, column_type FROM (DESCRIBE SELECT * FROM '{_folder.TableFile}') LIMIT 2"));
        Assert.Equal(["0|360000|60"], Rows($"SELECT min(start_s), max(end_s), min(end_s - start_s) FROM '{_folder.TableFile}'"));
        var files = Directory.EnumerateFiles(_folder.Path, "*.parquet", SearchOption.AllDirectories).ToList();
        Assert.True(files.Count > 1);
        foreach (var file in files) Assert.DoesNotContain(Rows($"SELECT column_type FROM (DESCRIBE SELECT * FROM '{file}')"), type => type.Contains("TIMESTAMP", StringComparison.Ordinal));
        var spans = new GuardSpan(SpanKind.LeadOpen, [Lead.V2], [], default, default(DateTime).AddHours(1), 0.9, new SpanFinding(SpanRelation.PowerAngleTurned, 3));
        await SurveyTables.WriteSpansAsync(_folder.Path, TableFolder.Survey, [spans], cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(["0|3600|lead-open"], Rows($"SELECT start_s, end_s, kind FROM '{_folder.Path}/tables/spans/survey=*/*.parquet'"));
    }

    [Fact]
    public async Task Values_are_those_of_the_log_and_missing_ones_are_null()
    {
        var log = TableFolder.RandomLog(2, 40_000);
        await _folder.WriteAsync(log);
        using var command = _connection.CreateCommand();
        command.CommandText = $"SELECT start, V1_rms_V, P_W FROM '{_folder.TableFile}' ORDER BY start";
        using var reader = command.ExecuteReader();
        var row = 0;
        for (; reader.Read(); row++)
        {
            Assert.Equal(log.Starts.Span[row], reader.GetDateTime(0).Ticks);
            for (var column = 0; column < 2; column++)
                Assert.Equal(log.Values(column)[row], reader.IsDBNull(column + 1) ? double.NaN : reader.GetDouble(column + 1));
        }

        Assert.Equal(log.Count, row);
    }

    [Fact]
    public async Task A_filter_on_the_time_finds_its_rows()
    {
        // The engine goes by the least and greatest time of each row group: were they wrong, rows would be missing.
        var log = TableFolder.RandomLog(3, 100_000);
        await _folder.WriteAsync(log);
        foreach (var at in new[] { 10, 32_767, 32_768, 70_000, 99_999 })
        {
            var time = new DateTime(log.Starts.Span[at]).ToString("yyyy-MM-dd HH:mm:ss.ffffff", CultureInfo.InvariantCulture);
            Assert.Equal([$"{at}|{log.Count - at}"], Rows(
                $"SELECT count(*) FILTER (start < TIMESTAMP '{time}'), (SELECT count(*) FROM '{_folder.TableFile}' WHERE start >= TIMESTAMP '{time}') FROM '{_folder.TableFile}'"));
        }

        var pyramid = _folder.Of($"tables/log-pyramid/survey={TableFolder.Survey}/part-0-level-0.parquet");
        var middle = new DateTime(log.Starts.Span[50_000]).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
        Assert.NotEqual(["0"], Rows($"SELECT count(*) FROM '{pyramid}' WHERE start > TIMESTAMP '{middle}'"));
        Assert.Equal(["100000"], Rows($"SELECT sum(rows) FROM '{pyramid}'"));
    }

    [Fact]
    public async Task Spans_are_a_table_in_the_words_of_the_guard()
    {
        var from = new DateTime(2026, 3, 3, 14, 2, 0);
        GuardSpan[] spans =
        [
            new(SpanKind.ClampsExchanged, [], [Clamp.I2, Clamp.I3], from, from.AddHours(5), 0.97, new SpanFinding(SpanRelation.PowerAngleTurned, 3)),
            new(SpanKind.NoData, [], [], from.AddHours(6), from.AddHours(7), 1, new SpanFinding(SpanRelation.PowerAngleTurned, 3)),
        ];
        await SurveyTables.WriteSpansAsync(_folder.Path, TableFolder.Survey, spans, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(
            ["clamps-exchanged|I2,I3|5|0.97", "no-data||1|1"],
            Rows($"SELECT kind, channels, date_diff('hour', start, \"end\"), confidence FROM '{_folder.Path}/tables/spans/survey=*/*.parquet' WHERE start >= TIMESTAMP '2026-03-03 14:02:00' ORDER BY start"));
    }

    [Fact]
    public async Task Peak_demand_and_worst_unbalance_of_all_surveys_are_one_query()
    {
        const int Surveys = 40;
        var made = new Dictionary<string, InventedWeek>(StringComparer.Ordinal);
        for (var survey = 0; survey < Surveys; survey++)
        {
            var week = InventedWeek.Make(survey);
            made[week.Survey] = week;
            var folder = _folder.Of($"Board {survey}");
            Directory.CreateDirectory(folder);
            await SurveyTables.WriteLogAsync(folder, week.Survey, week.Log, cancellation: TestContext.Current.CancellationToken);
        }

        using var command = _connection.CreateCommand();
        command.CommandText = DocumentedQuery().Replace("SURVEYS", _folder.Path.Replace('\\', '/'), StringComparison.Ordinal);
        using var reader = command.ExecuteReader();
        var found = 0;
        var last = double.PositiveInfinity;
        for (; reader.Read(); found++)
        {
            var week = made[reader.GetString(0)];
            Assert.Equal(week.PeakKilowatts, reader.GetDouble(1), 1e-9 * week.PeakKilowatts);
            Assert.Equal(week.PeakAt, reader.GetDateTime(2));
            Assert.Equal(week.WorstUnbalancePercent, reader.GetDouble(3), 1e-6);
            Assert.True(reader.GetDouble(1) <= last);
            last = reader.GetDouble(1);
        }

        Assert.Equal(Surveys, found);
    }

    // The query of the page, so that the page stays true.
    private static string DocumentedQuery()
    {
        var page = File.ReadAllText(Path.Combine(Root(), "docs/formats/survey-tables.md"));
        return QueryPattern().Match(page).Groups["query"].Value;
    }

    private static string Root([System.Runtime.CompilerServices.CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../.."));

    [GeneratedRegex("```sql\n(?<query>.*?)```", RegexOptions.Singleline)]
    private static partial Regex QueryPattern();

    private List<string> Rows(string query)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = query;
        using var reader = command.ExecuteReader();
        var rows = new List<string>();
        while (reader.Read()) rows.Add(string.Join('|', Enumerable.Range(0, reader.FieldCount).Select(field => reader.GetValue(field))));
        return rows;
    }
}
