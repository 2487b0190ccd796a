using System.Collections.Immutable;
using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Formats.Tables;
using Parquet;

namespace Leadwright.Formats.Tests.Tables;

public sealed class TableWriterTests
{
    private static readonly ImmutableArray<TableColumn> s_columns =
    [
        new("start", TableColumnKind.Time), new("start_s", TableColumnKind.Number), new("V1_rms_V", TableColumnKind.Single), new("flags", TableColumnKind.Text),
    ];

    [Fact]
    public async Task Csv_quotes_what_needs_it_and_leaves_nothing_as_nothing()
    {
        using var stream = new MemoryStream();
        await using var writer = new CsvTableWriter(stream, s_columns);
        writer.Set(0, new DateTime(2026, 3, 2, 10, 0, 0, 250, DateTimeKind.Unspecified));
        writer.Set(1, 0.1 + 0.2);
        writer.Set(2, 230.04);
        writer.Set(3, "dip, \"deep\"");
        await writer.EndRowAsync();
        await writer.EndRowAsync();
        await writer.CompleteAsync();
        Assert.Equal(
            "start,start_s,V1_rms_V,flags\n2026-03-02T10:00:00.250000,0.30000000000000004,230.04,\"dip, \"\"deep\"\"\"\n,,,\n",
            Encoding.UTF8.GetString(stream.ToArray()));
    }

    [Fact]
    public async Task Parquet_states_the_least_and_greatest_time_of_a_group_in_the_unit_of_its_column()
    {
        // Engines leave out the groups whose times, as stated, can't match. Apache Parquet format, Statistics: in the physical type of the column.
        using var stream = new MemoryStream();
        var writer = new ParquetTableWriter(stream, s_columns, new Dictionary<string, string>());
        var start = new DateTime(2026, 3, 2, 10, 0, 0, DateTimeKind.Unspecified).AddTicks(1234560);
        for (var row = 0; row < 45000; row++)
        {
            if (row % 7 != 3) writer.Set(0, start.AddMilliseconds(row * 200));
            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
        stream.Position = 0;
        await using var reader = await ParquetReader.CreateAsync(stream, cancellationToken: TestContext.Current.CancellationToken);
        Assert.True(reader.RowGroupCount > 1);
        for (var group = 0; group < reader.RowGroupCount; group++)
        {
            using var part = reader.OpenRowGroupReader(group);
            var field = reader.Schema.GetDataFields()[0];
            var times = new DateTime?[part.RowCount];
            await part.ReadAsync<DateTime>(field, times.AsMemory(), cancellationToken: TestContext.Current.CancellationToken);
            var statistics = part.GetStatistics(field);
            Assert.Equal((times.Min()!.Value.Ticks - DateTime.UnixEpoch.Ticks) / 10, statistics?.MinValue);
            Assert.Equal((times.Max()!.Value.Ticks - DateTime.UnixEpoch.Ticks) / 10, statistics?.MaxValue);
        }
    }

    [Fact]
    public async Task Parquet_gives_back_what_was_written_over_several_groups()
    {
        const int Rows = 45000;
        using var stream = new MemoryStream();
        var writer = new ParquetTableWriter(stream, s_columns, new Dictionary<string, string> { ["schema"] = "test" });
        for (var row = 0; row < Rows; row++)
        {
            writer.Set(0, new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddSeconds(row));
            writer.Set(1, row * 0.2);
            if (row % 3 != 0) writer.Set(2, row);
            writer.Set(3, row % 2 == 0 ? "dip" : null);
            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
        stream.Position = 0;
        await using var reader = await ParquetReader.CreateAsync(stream, cancellationToken: TestContext.Current.CancellationToken);
        Assert.True(reader.RowGroupCount > 1);
        Assert.Equal(["start", "start_s", "V1_rms_V", "flags"], reader.Schema.GetDataFields().Select(field => field.Name));
        Assert.Equal("test", reader.CustomMetadata["schema"]);
        long rows = 0;
        for (var group = 0; group < reader.RowGroupCount; group++)
        {
            using var part = reader.OpenRowGroupReader(group);
            rows += part.RowCount;
        }

        Assert.Equal(Rows, rows);
    }

    [Theory]
    [InlineData(true, 45000)]
    [InlineData(true, 60000)]
    [InlineData(false, 45000)]
    public async Task A_table_that_another_writer_goes_on_with_is_the_same_to_the_last_byte(bool isParquet, int rows)
    {
        using var whole = new MemoryStream();
        await using var once = Writer(whole, isParquet);
        await FillAsync(once, 0, rows);
        await once.CompleteAsync();

        using var cut = new MemoryStream();
        var writer = Writer(cut, isParquet);
        var done = 0;
        foreach (var stop in (int[])[0, 7, 20000, 20001, 39999, 41000])
        {
            await FillAsync(writer, done, stop);
            var carrier = new StateCarrier();
            writer.Carry(carrier);
            // What was written after the state went out is lost.
            await FillAsync(writer, stop, Math.Min(stop + 25000, rows));
            writer = Writer(cut, isParquet);
            writer.Carry(new StateCarrier(carrier.Bytes.ToArray()));
            done = stop;
        }

        await FillAsync(writer, done, rows);
        await writer.CompleteAsync();
        Assert.Equal(whole.ToArray(), cut.ToArray());
    }

    private static TableWriter Writer(Stream stream, bool isParquet) =>
        isParquet ? new ParquetTableWriter(stream, s_columns, new Dictionary<string, string> { ["schema"] = "test" }) : new CsvTableWriter(stream, s_columns);

    private static async Task FillAsync(TableWriter writer, int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            writer.Set(0, new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddSeconds(row));
            writer.Set(1, row * 0.2);
            if (row % 3 != 0) writer.Set(2, row);
            writer.Set(3, row % 2 == 0 ? "dip" : null);
            await writer.EndRowAsync();
        }
    }
}
