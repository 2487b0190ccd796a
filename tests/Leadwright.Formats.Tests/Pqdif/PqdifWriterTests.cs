using System.Buffers.Binary;
using System.Collections.Immutable;
using FsCheck.Xunit;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Tables;

namespace Leadwright.Formats.Tests.Pqdif;

public sealed class PqdifWriterTests
{
    [Property(Arbitrary = [typeof(AnyPqdif)], MaxTest = 400)]
    public void A_recording_reads_back_and_writes_again_as_the_same_bytes(SampledRecording recording)
    {
        var bytes = Written(recording);
        var read = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", bytes), cancellationToken: TestContext.Current.CancellationToken).Recordings).Recording;
        Assert.Equal(bytes, Written(read));
        Assert.Equal(recording.Channels.Length, read.Channels.Length);
        for (var channel = 0; channel < read.Channels.Length; channel++)
        {
            Assert.Equal(recording.Channels[channel].Samples.ToArray(), read.Channels[channel].Samples.ToArray());
            Assert.Equal(recording.Channels[channel].SkewSeconds - recording.Channels.Min(one => one.SkewSeconds < 0 ? one.SkewSeconds : 0), read.Channels[channel].SkewSeconds, 12);
        }

        Assert.Equal(recording.Segments.Select(segment => (segment.FirstIndex, segment.Length)), read.Segments.Select(segment => (segment.FirstIndex, segment.Length)));
        for (var index = 0; index < read.Segments.Length; index++)
        {
            Assert.Equal(1, recording.Segments[index].RateHertz / read.Segments[index].RateHertz, 1e-15);
            // Times are kept to 100 ns.
            Assert.Equal(recording.Segments[index].StartSeconds - recording.Segments[0].StartSeconds, read.Segments[index].StartSeconds, 1.01e-7);
        }

        Assert.Equal(recording.LineFrequencyHertz, read.LineFrequencyHertz);
        Assert.Equal(recording.Start?.AddTicks((long)Math.Round(recording.Segments[0].StartSeconds * TimeSpan.TicksPerSecond)), read.Start);
    }

    [Property(Arbitrary = [typeof(AnyPqdif)], MaxTest = 400)]
    public void A_log_reads_back_and_writes_again_as_the_same_bytes(IntervalLog log)
    {
        var bytes = Written(log);
        var read = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", bytes), cancellationToken: TestContext.Current.CancellationToken).Logs).Log;
        Assert.Equal(bytes, Written(read));
        Assert.Equal(log.IntervalSeconds, read.IntervalSeconds);
        Assert.Equal(log.Starts.ToArray(), read.Starts.ToArray());
        Assert.Equal(log.Columns.Length, read.Columns.Length);
        // Columns of one quantity stand together in the file: by their numbered names they are found again.
        foreach (var column in log.Columns)
        {
            var name = column.Name.Replace("\0", "", StringComparison.Ordinal).Trim();
            var at = read.Columns.Select((other, index) => (other, index)).Where(pair => pair.other.Name == name || pair.other.Name.StartsWith(name + " [", StringComparison.Ordinal)).ToList();
            var found = Assert.Single(at);
            Assert.Equal(log.Values(log.Columns.IndexOf(column)).ToArray(), read.Values(found.index).ToArray());
            Assert.Equal(column.Place, found.other.Place);
            if (IsPlain(column)) Assert.Equal(column with { Name = name }, found.other);
            else if (found.other.Quantity != column.Quantity) Assert.Equal(LogQuantity.Other, found.other.Quantity);
        }
    }

    [Fact]
    public void Long_recordings_and_logs_are_cut_into_observations()
    {
        var samples = Enumerable.Range(0, 2_000_003).Select(index => (double)(index % 1000)).ToArray();
        var recording = new SampledRecording(
            [new SampledChannel("Va", "A", "V", samples), new SampledChannel("Ia", "A", "A", samples)], [new RateSegment(0, samples.Length, 10240, 0)], 50, new DateTime(2026, 3, 2));
        var bytes = Written(recording);
        var read = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", bytes), cancellationToken: TestContext.Current.CancellationToken).Recordings).Recording;
        Assert.Equal(3, read.Segments.Length);
        Assert.Single(Stretch.Join(read.Segments, 100));
        Assert.True(samples.AsSpan().SequenceEqual(read.Channels[1].Samples.Span));
        Assert.True(bytes.AsSpan().SequenceEqual(Written(read)));

        var starts = Enumerable.Range(0, 45_001).Select(row => new DateTime(2026, 3, 2).AddSeconds(row).Ticks).ToArray();
        var log = new IntervalLog([new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)], starts, [[.. starts.Select((_, row) => row / 7.0)]], 1);
        var packed = Written(log);
        var back = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", packed), cancellationToken: TestContext.Current.CancellationToken).Logs).Log;
        Assert.Equal(log.Values(0), back.Values(0));
        Assert.True(packed.AsSpan().SequenceEqual(Written(back)));
    }

    [Fact]
    public void A_published_relay_record_goes_through_unchanged()
    {
        // comtrade/relay-a: real record of 83 rates that follow the network (see tests/data/README.md).
        var record = ComtradeReader.Read(TestData.File("comtrade/relay-a/1.cfg"), TestData.File("comtrade/relay-a/1.dat")).Recording;
        var bytes = Written(record);
        var read = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", bytes), cancellationToken: TestContext.Current.CancellationToken).Recordings).Recording;
        Assert.Equal(record.Segments.Length, read.Segments.Length);
        Assert.Equal(Stretch.Join(record.Segments, 1000).Select(stretch => stretch.Length), Stretch.Join(read.Segments, 1000).Select(stretch => stretch.Length));
        for (var channel = 0; channel < record.Channels.Length; channel++)
        {
            Assert.Equal(record.Channels[channel].Samples.ToArray(), read.Channels[channel].Samples.ToArray());
            Assert.Equal(record.Channels[channel].Unit, read.Channels[channel].Unit);
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Records_are_laid_out_as_the_standard_has_them(bool isPacked)
    {
        var log = new IntervalLog(
            [new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)], [new DateTime(2026, 3, 2, 10, 0, 0).Ticks], [[230.5]], 600);
        using var stream = new MemoryStream();
        PqdifWriter.Write(stream, log, new PqdifWriteOptions { IsPacked = isPacked });
        var file = stream.ToArray();
        string[] expected = [RawPqdif.Container, RawPqdif.DataSource, RawPqdif.Observation];
        var at = 0;
        for (var record = 0; record < expected.Length; record++)
        {
            var header = file.AsSpan(at, 64);
            Assert.Equal(RawPqdif.IdBytes(RawPqdif.Signature), header[..16].ToArray());
            Assert.Equal(RawPqdif.IdBytes(expected[record]), header[16..32].ToArray());
            Assert.Equal(64, BinaryPrimitives.ReadInt32LittleEndian(header[32..]));
            Assert.True(header[48..].IndexOfAnyExcept((byte)0) < 0);
            var size = BinaryPrimitives.ReadInt32LittleEndian(header[36..]);
            var next = BinaryPrimitives.ReadInt32LittleEndian(header[40..]);
            var body = file.AsSpan(at + 64, size);
            if (isPacked && record > 0)
            {
                // The sum of the unpacked body stands at the end of zlib data, the other way round (RFC 1950).
                Assert.Equal(0x78, body[0]);
                Assert.Equal(BinaryPrimitives.ReadUInt32BigEndian(body[^4..]), BinaryPrimitives.ReadUInt32LittleEndian(header[44..]));
            }
            else
            {
                var count = BinaryPrimitives.ReadInt32LittleEndian(body);
                Assert.InRange(count, 3, 8);
                for (var entry = 4; entry < 4 + (28 * count); entry += 28)
                {
                    Assert.InRange(body[entry + 16], 1, 3);
                    if (body[entry + 18] != 0) continue;
                    Assert.Equal(0, BinaryPrimitives.ReadInt32LittleEndian(body[(entry + 20)..]) % 4);
                    Assert.InRange(BinaryPrimitives.ReadInt32LittleEndian(body[(entry + 20)..]) + BinaryPrimitives.ReadInt32LittleEndian(body[(entry + 24)..]), 1, size);
                }
            }

            var end = at + 64 + ((size + 3) / 4 * 4);
            Assert.Equal(record + 1 < expected.Length ? end : 0, next);
            at = end;
        }

        Assert.Equal(file.Length, at);
    }

    [Fact]
    public void A_clock_ahead_of_UTC_is_taken_back()
    {
        var log = new IntervalLog([new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)], [new DateTime(2026, 3, 2, 10, 0, 0).Ticks], [[230]], 600);
        using var stream = new MemoryStream();
        PqdifWriter.Write(stream, log, new PqdifWriteOptions { UtcOffset = TimeSpan.FromHours(1) });
        Assert.Equal(new DateTime(2026, 3, 2, 9, 0, 0), PqdifReader.Read(new InputFile("x.pqd", stream.ToArray()), cancellationToken: TestContext.Current.CancellationToken).Logs[0].Log.From);
        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0), PqdifReader.Read(
            new InputFile("x.pqd", stream.ToArray()), new PqdifReadOptions { UtcOffset = TimeSpan.FromHours(1) }, TestContext.Current.CancellationToken).Logs[0].Log.From);
    }

    [Fact]
    public void Import_and_export_stay_apart()
    {
        var log = new IntervalLog(
            [
                new LogColumn("in", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount),
                new LogColumn("out", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount) { IsExport = true },
            ],
            [new DateTime(2026, 3, 2).Ticks], [[5], [3]], 900);
        Assert.Equal(log.Columns, PqdifReader.Read(new InputFile("x.pqd", Written(log)), cancellationToken: TestContext.Current.CancellationToken).Logs[0].Log.Columns);
    }

    [Fact]
    public async Task A_measured_table_becomes_a_log()
    {
        ImmutableArray<TableColumn> columns =
        [
            new("start", TableColumnKind.Time), new("start_s", TableColumnKind.Number), new("end_s", TableColumnKind.Number), new("flags", TableColumnKind.Text),
            new("frequency_Hz", TableColumnKind.Single), new("u2_percent", TableColumnKind.Single), new("P1_W", TableColumnKind.Single), new("P_W", TableColumnKind.Single),
            new("PF", TableColumnKind.Single), new("import_Wh", TableColumnKind.Number), new("export_Wh", TableColumnKind.Number),
            new("V1_standing", TableColumnKind.Text), new("V1_rms_V", TableColumnKind.Single), new("V1_min_V", TableColumnKind.Single), new("V1_max_V", TableColumnKind.Single),
            new("V1_h5_V", TableColumnKind.Single), new("V1_pst", TableColumnKind.Single), new("IN_rms_A", TableColumnKind.Single),
        ];
        using var stream = new MemoryStream();
        await using var writer = new PqdifTableWriter(stream, columns, 600, new PqdifWriteOptions { RowsPerObservation = 2 });
        for (var row = 0; row < 5; row++)
        {
            writer.Set(0, new DateTime(2026, 3, 2, 10, 0, 0).AddSeconds(600 * row));
            for (var column = 1; column < columns.Length; column++)
            {
                if (columns[column].Kind != TableColumnKind.Text && !(row == 3 && column == 12)) writer.Set(column, column == 1 ? 600 * row : (100 * column) + row);
            }

            writer.Set(3, "dip");
            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
        var log = Assert.Single(PqdifReader.Read(new InputFile("x.pqd", stream.ToArray()), cancellationToken: TestContext.Current.CancellationToken).Logs).Log;
        Assert.Equal(5, log.Count);
        Assert.Equal(new DateTime(2026, 3, 2, 10, 40, 0), new DateTime(log.Starts.Span[4]));
        Assert.Equal(600, log.IntervalSeconds);
        Assert.Equal([1200, 1201, 1202, double.NaN, 1204], log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1)).ToArray());
        Assert.Equal(1304, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Minimum))[4]);
        Assert.Equal(1404, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Maximum))[4]);
        Assert.Equal(604, log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1))[4]);
        Assert.Equal(704, log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole))[4]);
        Assert.Equal(1704, log.Values(log.IndexOf(LogQuantity.Current, LogPlace.Neutral))[4]);
        Assert.Equal(404, log.Values(log.IndexOf(LogQuantity.Frequency, LogPlace.Whole))[4]);
        Assert.Equal(904, log.Values(log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount))[4]);
        Assert.Contains(log.Columns, column => column is { Quantity: LogQuantity.ActiveEnergy, IsExport: true });
        // A harmonic in volts has no place among the log's harmonics in percent: it keeps its name and unit.
        Assert.Contains(log.Columns, column => column is { Name: "V1_h5_V", Quantity: LogQuantity.Other, OtherUnit: "V" });
        Assert.DoesNotContain(log.Columns, column => column.Name is "flags" or "V1_standing" or "start_s");
    }

    private static bool IsPlain(LogColumn column) => column is { IsExport: false, Order: 0, Statistic: <= LogStatistic.Maximum }
        and not { Quantity: LogQuantity.Other or LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic };

    private static byte[] Written(SampledRecording recording)
    {
        using var stream = new MemoryStream();
        PqdifWriter.Write(stream, recording);
        return stream.ToArray();
    }

    private static byte[] Written(IntervalLog log)
    {
        using var stream = new MemoryStream();
        PqdifWriter.Write(stream, log);
        return stream.ToArray();
    }
}
