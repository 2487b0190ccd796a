using System.Buffers.Binary;
using Leadwright.Formats.Pqdif;
using static Leadwright.Formats.Tests.Pqdif.RawPqdif;
using static Leadwright.Formats.Tests.Pqdif.RawPqdifFiles;

namespace Leadwright.Formats.Tests.Pqdif;

public sealed class PqdifMalformedTests
{
    private static readonly int s_second = 64 + PlainContainer.Length;

    [Fact]
    public void Both_byte_orders_of_a_signature_are_told_apart()
    {
        var file = Waveforms();
        byte[] turned = [.. file[..4].Reverse(), .. file[4..6].Reverse(), .. file[6..8].Reverse(), .. file[8..]];
        Assert.True(PqdifReader.IsPqdif(turned));
        AssertRefused(turned, 0, "the other byte order");
    }

    [Fact]
    public void Numbers_in_the_other_byte_order_are_named()
    {
        var file = Waveforms();
        file.AsSpan(32, 4).Reverse();
        AssertRefused(file, 0, "other byte order");
    }

    [Fact]
    public void Something_else_is_no_such_file() => AssertRefused(new byte[200], 0, "This is no PQDIF file");

    [Fact]
    public void An_empty_file_is_refused() => AssertRefused([], 0, "the end of the file");

    [Theory]
    [InlineData(40)]
    [InlineData(70)]
    [InlineData(150)]
    public void A_file_that_is_cut_short_is_refused(int length) => AssertRefused(Waveforms()[..length], null, "cut short");

    [Fact]
    public void A_file_that_ends_before_its_last_record_is_refused()
    {
        var file = Waveforms();
        AssertRefused(file[..^20], null, "cut short");
    }

    [Fact]
    public void Records_that_run_in_a_circle_are_refused()
    {
        var file = Waveforms();
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(s_second + 40), 0);
        file.AsSpan(s_second + 40, 4).Clear();
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(s_second + 40), (uint)s_second);
        AssertRefused(file, s_second, "circle");
    }

    [Theory]
    [InlineData(0x7FFFFFF0u)]
    [InlineData(0xFFFFFFFFu)]
    [InlineData(3u)]
    public void A_link_to_nowhere_is_refused(uint link)
    {
        var file = Waveforms();
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(40), link);
        AssertRefused(file, link, "expected");
    }

    [Theory]
    [InlineData(36, 0x7FFFFFFFu)]
    [InlineData(36, 0xFFFFFFFFu)]
    [InlineData(36, 2u)]
    [InlineData(32, 0u)]
    [InlineData(32, 0x40000000u)]
    [InlineData(64, 0x7FFFFFFFu)]
    [InlineData(64, 0xFFFFFFFFu)]
    public void Sizes_and_counts_beyond_the_file_are_refused(int at, uint value)
    {
        var file = Waveforms();
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(s_second + at), value);
        AssertRefused(file, s_second, "expected");
    }

    [Fact]
    public void A_vector_that_claims_billions_is_refused()
    {
        var wave = Observed(0, Instance(1, Values(Real8s(SeriesValues, 1, 2, 0.001)), Values(Vector(SeriesValues, 40, 2_000_000_000, new byte[8]))));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)), null, "2000000000 values of 4 bytes");
    }

    [Fact]
    public void Steps_that_claim_billions_need_values_that_bear_them_out()
    {
        // Times of two thousand million steps, and two values: the values count.
        var two = Observed(0, Instance(1, Values(Real8s(SeriesValues, 1, 2e9, 0.001)), Values(Real4s(SeriesValues, 1, 2))));
        var content = PqdifReader.Read(new InputFile("x.pqd", RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, two))), cancellationToken: TestContext.Current.CancellationToken);
        Assert.Equal(2, content.Recordings[0].Recording.Channels[0].Samples.Length);
        Assert.Contains(content.Warnings, warning => warning.Says.Contains("the longer is cut", StringComparison.Ordinal));

        // Times and values by steps: nothing bears them out.
        var source = Source(Channel("Va", 1, Waveform, 1, Series(Time, 2, QcNone, 4), Series(Val, 6, QcInstantaneous, 4)));
        var both = Observed(0, Instance(0, Values(Real8s(SeriesValues, 1, 2e9, 0.001)), Values(Real8s(SeriesValues, 1, 2e9, 1))));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, both)), null, "steps for 2000000000");
    }

    [Theory]
    [InlineData(new double[0])]
    [InlineData(new double[] { 5, 1, 0.1 })]
    [InlineData(new double[] { 1, -4, 0.1 })]
    [InlineData(new double[] { 1, 2.5, 0.1 })]
    [InlineData(new double[] { double.NaN, 2, 0.1 })]
    [InlineData(new double[] { 1, 1e300, 0.1 })]
    public void Steps_that_make_no_sense_are_refused(double[] steps)
    {
        var wave = Observed(0, Instance(1, Values(Real8s(SeriesValues, steps)), Values(Real4s(SeriesValues, 1, 2))));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)), null, "tagSeriesValues");
    }

    [Fact]
    public void A_vector_in_its_entry_is_refused()
    {
        var wave = Observed(0, Instance(1, Values(Real8s(SeriesValues, 1, 2, 0.001)), Values(new Element(SeriesValues, 3, 40, new byte[8], [], true))));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)), null, "a vector behind a link");
    }

    [Fact]
    public void Series_that_share_each_others_values_are_refused()
    {
        var shared = Values(UInt4(ShareChannelIdx, 0), UInt4(ShareSeriesIdx, 0));
        var wave = Observed(0, Instance(1, shared, Values(Real4s(SeriesValues, 1, 2))));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)), null, "share each other");
    }

    [Fact]
    public void Indices_beyond_the_definitions_are_refused()
    {
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, Observed(0, Instance(2)))), null, "definition from 0 to 1");
        var series = Values(Real4s(SeriesValues, 1));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, Observed(0, Instance(0, series, series, series)))), null, "2 series");
        var shared = Values(UInt4(ShareChannelIdx, 7), UInt4(ShareSeriesIdx, 0));
        AssertRefused(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, Observed(0, Instance(0, shared, series)))), null, "series 0 of channel 7");
    }

    [Fact]
    public void A_collection_that_holds_itself_ends()
    {
        // The link to the definitions is turned back to the collection that they stand in.
        var body = Body(Collection(ChannelDefns, Collection(OneChannelDefn, Id(QuantityTypeId, Waveform), Collection(SeriesDefns))));
        // The first entry begins after the count; its link stands after identifier, types and flag.
        BinaryPrimitives.WriteInt32LittleEndian(body.AsSpan(4 + 20), 0);
        var file = RawPqdif.File((Container, PlainContainer), (DataSource, body), (Observation, Observed(0, Instance(0))));
        AssertRefused(file, null, "a channel definition");
    }

    [Fact]
    public void An_observation_before_any_data_source_is_refused() =>
        AssertRefused(RawPqdif.File((Container, PlainContainer), (Observation, WaveformObservation(0))), s_second, "a data source record");

    [Fact]
    public void A_file_that_does_not_begin_with_its_container_is_refused() =>
        AssertRefused(RawPqdif.File((DataSource, WaveformSource)), 0, "the container record first");

    [Fact]
    public void A_record_that_swells_when_unpacked_is_refused()
    {
        var file = Packed((DataSource, new byte[20_000_000]));
        Assert.True(file.Length < 40_000);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var failure = Assert.Throws<FormatReadException>(() => PqdifReader.Read(new InputFile("x.pqd", file), new PqdifReadOptions { MostRecordBytes = 1 << 20 }, cancellationToken: TestContext.Current.CancellationToken));
        Assert.Contains("at most 1048576 bytes", failure.Message, StringComparison.Ordinal);
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 8 << 20);
    }

    [Fact]
    public void Packed_records_that_are_damaged_or_cut_are_refused()
    {
        var packed = Zlib(WaveformSource);
        byte[] damaged = [.. packed];
        damaged[packed.Length / 2] ^= 0x55;
        damaged[(packed.Length / 2) + 1] ^= 0x55;
        var container = Body(UInt4(CompressionStyle, 2), UInt4(CompressionAlgorithm, 1));
        foreach (var body in (byte[][])[damaged, packed[..^4], packed[..(packed.Length / 2)], [1, 2, 3], []])
            AssertRefused(RawPqdif.File((Container, container), (DataSource, body)), 64 + container.Length, "expected");
    }

    [Fact]
    public void A_closed_compression_is_refused_with_what_to_do()
    {
        var container = Body(UInt4(CompressionStyle, 2), UInt4(CompressionAlgorithm, 64));
        AssertRefused(RawPqdif.File((Container, container), (DataSource, WaveformSource)), 0, "zlib");
    }

    [Fact]
    public void More_values_than_memory_is_meant_for_are_refused()
    {
        var failure = Assert.Throws<FormatReadException>(() => PqdifReader.Read(new InputFile("x.pqd", Waveforms()), new PqdifReadOptions { MostValues = 6 }, cancellationToken: TestContext.Current.CancellationToken));
        Assert.Contains("at most 6 values", failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    [InlineData(true, true)]
    public void Damaged_files_are_read_or_refused_and_never_anything_else(bool isLog, bool isPacked)
    {
        byte[] whole = (isLog, isPacked) switch
        {
            (false, false) => Waveforms((Observation, WaveformObservation(36000.002))),
            (true, false) => LogFile((Observation, LogObservation(37800))),
            (false, true) => Packed((DataSource, WaveformSource), (Observation, WaveformObservation(0))),
            _ => Packed((DataSource, LogSource), (Observation, LogObservation(0))),
        };
        var options = new PqdifReadOptions { MostRecordBytes = 1 << 20, MostValues = 100_000 };
        var random = new Random(20260302);
        Assert.NotEmpty(InputReader.Read([new InputFile("whole.pqd", whole)]));
        var (read, refused, most) = (0, 0, 0L);
        for (var round = 0; round < 6000; round++)
        {
            var file = Damaged(whole, random);
            var before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                PqdifReader.Read(new InputFile("damaged.pqd", file), options, cancellationToken: TestContext.Current.CancellationToken);
                read++;
            }
            catch (FormatReadException)
            {
                refused++;
            }

            most = Math.Max(most, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        Assert.True(read > 100 && refused > 100, $"{read} read, {refused} refused");
        Assert.True(most < 64 << 20, $"{most} bytes for one file of {whole.Length}");
    }

    private static byte[] Damaged(byte[] whole, Random random)
    {
        uint[] telling = [0, 1, 2, 3, 4, 28, 0x7F, 0x80, 0xFF, 0x7FFF, 0xFFFF, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFF, (uint)whole.Length];
        byte[] file = [.. whole];
        var changes = 1 + random.Next(3);
        for (var change = 0; change < changes; change++)
        {
            var at = random.Next(file.Length);
            switch (random.Next(6))
            {
                case 0: file[at] = (byte)random.Next(256); break;
                case 1: file[at] ^= (byte)(1 << random.Next(8)); break;
                case 2 or 3 when at + 4 <= file.Length: BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(at & ~3), telling[random.Next(telling.Length)]); break;
                case 4:
                    var (from, length) = (random.Next(file.Length), random.Next(64));
                    length = Math.Min(length, file.Length - Math.Max(from, at));
                    file.AsSpan(from, length).ToArray().CopyTo(file, at);
                    break;
                default: if (random.Next(8) == 0) file = file[..at]; break;
            }

            if (file.Length == 0) break;
        }

        return file;
    }

    private static void AssertRefused(byte[] file, long? offset, string says)
    {
        var failure = Assert.Throws<FormatReadException>(() => PqdifReader.Read(new InputFile("test.pqd", file), cancellationToken: TestContext.Current.CancellationToken));
        Assert.NotNull(failure.ByteOffset);
        if (offset is { } wanted) Assert.Equal(wanted, failure.ByteOffset);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }
}
