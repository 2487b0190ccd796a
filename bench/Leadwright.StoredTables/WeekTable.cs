using System.Collections.Immutable;
using Leadwright.Formats.Tables;

namespace Leadwright.StoredTables;

/// <summary>An invented table of 10-cycle windows as <c>measure --interval cycles</c> writes it: sixty columns, and the events beside it.</summary>
internal static class WeekTable
{
    private const double Seconds = 0.2;
    private static readonly string[] s_texts = ["flags", "V1_standing", "V2_standing", "V3_standing", "I1_standing", "I2_standing", "I3_standing", "IN_standing"];
    private static readonly string[] s_names =
    [
        "frequency_Hz", "u2_percent", "u_deviation_percent", "P1_W", "Q1_fundamental_var", "P2_W", "Q2_fundamental_var", "P3_W", "Q3_fundamental_var", "P_W",
        "Q_fundamental_var",
        .. Lane("V1", "V"), .. Lane("V2", "V"), .. Lane("V3", "V"), .. Lane("I1", "A"), .. Lane("I2", "A"), .. Lane("I3", "A"),
        "IN_standing", "IN_rms_A", "IN_max_A", "IN_thd_percent",
    ];

    /// <summary>Writes it.</summary>
    public static async Task WriteAsync(string path, int rows, int seed)
    {
        ImmutableArray<TableColumn> columns =
        [
            new("start", TableColumnKind.Time), new("start_s", TableColumnKind.Number), new("end_s", TableColumnKind.Number), new("windows", TableColumnKind.Number),
            new("flagged_windows", TableColumnKind.Number), new("flags", TableColumnKind.Text),
            .. s_names.Select(name => new TableColumn(name, s_texts.Contains(name) ? TableColumnKind.Text : TableColumnKind.Single)),
        ];
        await using var stream = new FileStream(path, FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 20);
        var writer = new ParquetTableWriter(stream, columns, new Dictionary<string, string> { ["schema"] = "leadwright.measure-table/1", ["source"] = "invented" });
        var random = new Random(seed);
        var start = new DateTime(2026, 3, 2);
        var walk = new double[columns.Length];
        for (var row = 0; row < rows; row++)
        {
            var time = row * Seconds;
            var isDip = row % 86_011 is > 500 and < 503;
            writer.Set(0, start.AddTicks((long)(time * TimeSpan.TicksPerSecond)));
            writer.Set(1, time);
            writer.Set(2, time + Seconds);
            writer.Set(3, 1);
            writer.Set(4, isDip ? 1 : 0);
            writer.Set(5, isDip ? "dip" : "");
            var day = 0.5 - (0.5 * Math.Cos(2 * Math.PI * time / 86400));
            for (var column = 6; column < columns.Length; column++)
            {
                if (columns[column].Kind == TableColumnKind.Text)
                {
                    writer.Set(column, "measured");
                    continue;
                }

                walk[column] = (0.995 * walk[column]) + (0.1 * (random.NextDouble() - 0.5));
                writer.Set(column, Value(columns[column].Name, day, walk[column], isDip));
            }

            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
        await WriteEventsAsync(Path.Combine(Path.GetDirectoryName(path) ?? "", Path.GetFileNameWithoutExtension(path) + "-events.parquet"), rows, start);
    }

    private static async Task WriteEventsAsync(string path, int rows, DateTime start)
    {
        ImmutableArray<TableColumn> columns =
        [
            new("kind", TableColumnKind.Text), new("channels", TableColumnKind.Text), new("start", TableColumnKind.Time), new("start_s", TableColumnKind.Number), new("duration_s", TableColumnKind.Number),
            new("extreme_percent", TableColumnKind.Number), new("steady_change_percent", TableColumnKind.Number), new("standing", TableColumnKind.Text), new("flags", TableColumnKind.Text),
        ];
        await using var stream = new FileStream(path, FileMode.Create, FileAccess.ReadWrite);
        var writer = new ParquetTableWriter(stream, columns, new Dictionary<string, string> { ["schema"] = "leadwright.measure-table/1" });
        for (var row = 501; row < rows; row += 86_011)
        {
            writer.Set(0, "dip");
            writer.Set(1, "V2");
            writer.Set(2, start.AddSeconds(row * Seconds));
            writer.Set(3, row * Seconds);
            writer.Set(4, 0.12);
            writer.Set(5, 71.5);
            writer.Set(6, double.NaN);
            writer.Set(7, "measured");
            writer.Set(8, "");
            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
    }

    private static IEnumerable<string> Lane(string name, string unit) => unit == "V"
        ? [$"{name}_standing", $"{name}_rms_V", $"{name}_min_V", $"{name}_max_V", $"{name}_fundamental_V", $"{name}_thd_percent", $"{name}_h5_V"]
        : [$"{name}_standing", $"{name}_rms_A", $"{name}_max_A", $"{name}_fundamental_A", $"{name}_thd_percent", $"{name}_k_factor"];

    private static double Value(string name, double day, double walk, bool isDip)
    {
        var volts = 231.5 - (4 * day) + walk;
        var amperes = 20 + (90 * day) + (10 * walk);
        return name switch
        {
            "frequency_Hz" => 50 + (0.02 * walk),
            _ when name.EndsWith("_min_V", StringComparison.Ordinal) => isDip && name[1] == '2' ? 165 : volts - 0.6,
            _ when name.EndsWith("_h5_V", StringComparison.Ordinal) => 4 + (2 * day) + walk,
            _ when name.EndsWith("_V", StringComparison.Ordinal) => isDip && name[1] == '2' ? 200 : volts,
            _ when name.EndsWith("_A", StringComparison.Ordinal) => amperes,
            _ when name.EndsWith("_factor", StringComparison.Ordinal) => 2 + day + (0.2 * walk),
            _ when name[0] is 'V' or 'u' or 'i' => 1 + Math.Abs(walk),
            _ when name.EndsWith("_percent", StringComparison.Ordinal) => 12 + (4 * walk),
            _ when name.EndsWith("_W", StringComparison.Ordinal) => (name[1] == '_' ? 3 : 1) * 230 * amperes * 0.93,
            _ => (name[1] == '_' ? 3 : 1) * 230 * amperes * 0.37,
        };
    }
}
