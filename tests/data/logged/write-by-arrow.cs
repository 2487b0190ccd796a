// Writes quarters.parquet with Apache Arrow's own Parquet writer (ParquetSharp 25.0.1.2, C++ inside).
// Run in a folder of its own, outside the checkout: dotnet run write-by-arrow.cs quarters.parquet
#:package ParquetSharp@25.0.1.2
using ParquetSharp;

var rows = 96;
var start = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Utc);
var times = new DateTime[rows];
var volts = new double[rows];
var kilowatts = new float?[rows];
var counter = new long[rows];
var notes = new string?[rows];
for (var row = 0; row < rows; row++)
{
    times[row] = start.AddMinutes(15 * row);
    volts[row] = 230 + (0.25 * (row % 9));
    kilowatts[row] = row % 10 == 3 ? null : 1.5f + (0.125f * (row % 16));
    counter[row] = 12000 + (40L * row) + (row % 3);
    notes[row] = row == 5 ? "door opened" : null;
}

Column[] columns =
[
    new Column<DateTime>("timestamp", LogicalType.Timestamp(isAdjustedToUtc: false, TimeUnit.Millis)),
    new Column<double>("Voltage L1 [V]"),
    new Column<float?>("Active power L1 [kW]"),
    new Column<long>("Energy import [Wh]"),
    new Column<string>("remark"),
];
using var writer = new ParquetFileWriter(args[0], columns, Compression.Snappy);
foreach (var (from, to) in new[] { (0, 60), (60, rows) })
{
    using var group = writer.AppendRowGroup();
    using (var column = group.NextColumn().LogicalWriter<DateTime>()) column.WriteBatch(times[from..to]);
    using (var column = group.NextColumn().LogicalWriter<double>()) column.WriteBatch(volts[from..to]);
    using (var column = group.NextColumn().LogicalWriter<float?>()) column.WriteBatch(kilowatts[from..to]);
    using (var column = group.NextColumn().LogicalWriter<long>()) column.WriteBatch(counter[from..to]);
    using (var column = group.NextColumn().LogicalWriter<string>()) column.WriteBatch(notes[from..to]!);
}

writer.Close();
