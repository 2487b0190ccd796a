using System.IO.Compression;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats.Pqdif;
using static Leadwright.Formats.Tests.Pqdif.RawPqdif;
using static Leadwright.Formats.Tests.Pqdif.RawPqdifFiles;

namespace Leadwright.Formats.Tests.Pqdif;

/// <summary>Files laid out by hand from the record layout of IEEE 1159.3 (the working group's public header files, format version 1.5).</summary>
public sealed class PqdifReaderTests
{
    private static readonly DateTime s_ten = new(2026, 3, 2, 10, 0, 0, DateTimeKind.Unspecified);

    [Fact]
    public void Waveforms_are_scaled_and_share_their_times()
    {
        var recording = Assert.Single(Read(Waveforms()).Recordings).Recording;
        Assert.Equal(s_ten, recording.Start);
        Assert.Equal([new RateSegment(0, 4, 2000, 0)], recording.Segments);
        Assert.Equal(["VA", "Ia"], recording.Channels.Select(channel => channel.Name));
        Assert.Equal(["A", "A"], recording.Channels.Select(channel => channel.Phase));
        Assert.Equal(["V", "A"], recording.Channels.Select(channel => channel.Unit));
        // counts times 0.5 plus 3
        Assert.Equal([53, -47, 3, 6.5], recording.Channels[0].Samples.ToArray());
        Assert.Equal([1.5, -2.5, 0, double.NaN], recording.Channels[1].Samples.ToArray());
    }

    [Fact]
    public void The_day_number_counts_as_the_constant_of_the_standard_does()
    {
        // 25569 is 1970-01-01 (physical header file).
        var body = Body(Stamp(TimeStart, 25569, 0.25), Collection(ChannelInstances, Instance(0,
            Values(Real8s(SeriesValues, 1, 2, 0.001)), Values(Int2s(SeriesValues, 1, 2)))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, body)));
        Assert.Equal(new DateTime(1970, 1, 1, 0, 0, 0, 250, DateTimeKind.Unspecified), content.Recordings[0].Recording.Start);
    }

    [Fact]
    public void Observations_that_follow_each_other_become_one_recording()
    {
        var content = Read(Waveforms((Observation, WaveformObservation(36000.002)), (Observation, WaveformObservation(36060, 8))));
        var recording = Assert.Single(content.Recordings).Recording;
        Assert.Equal(3, recording.Segments.Length);
        Assert.Equal([0, 4, 8], recording.Segments.Select(segment => segment.FirstIndex));
        Assert.Equal(0.002, recording.Segments[1].StartSeconds, 9);
        Assert.Equal(60, recording.Segments[2].StartSeconds, 9);
        Assert.Equal(12, recording.Channels[1].Samples.Length);
        Assert.Equal(7, recording.Channels[0].Samples.Span[8]);
        Assert.Single(Stretch.Join(recording.Segments[..2], 100));
        Assert.Equal(2, Stretch.Join(recording.Segments, 100).Length);
    }

    [Fact]
    public void Observations_at_the_same_time_are_kept_apart() =>
        Assert.Equal(2, Read(Waveforms((Observation, WaveformObservation(36000)))).Recordings.Length);

    [Fact]
    public void Times_in_cycles_go_by_the_nominal_frequency()
    {
        var source = Source(Channel("Va", 1, Waveform, 1, Series(Time, 3, QcNone, 4), Series(Val, 6, QcInstantaneous, 1)));
        var settings = Body(Bool4(UseCalibration, false), Bool4(UseTransducer, false), Real8(NominalFrequency, 60), Collection(ChannelSettingsArray));
        var wave = Observed(0, Instance(0, Values(Real8s(SeriesValues, 1, 3, 0.0078125)), Values(Real4s(SeriesValues, 1, 2, 3))));
        var recording = Read(RawPqdif.File((Container, PlainContainer), (DataSource, source), (MonitorSettings, settings), (Observation, wave))).Recordings[0].Recording;
        Assert.Equal(128 * 60, recording.Segments[0].RateHertz, 6);
        Assert.Equal(60, recording.LineFrequencyHertz);
    }

    [Fact]
    public void Times_one_by_one_and_dates_make_a_rate()
    {
        var source = Source(
            Channel("Va", 1, Waveform, 1, Series(Time, 2, QcNone, 1), Series(Val, 6, QcInstantaneous, 1)),
            Channel("Vb", 2, Waveform, 1, Series(Time, 1, QcNone, 1), Series(Val, 6, QcInstantaneous, 1)));
        var wave = Observed(60,
            Instance(0, Values(Real8s(SeriesValues, 0.5, 0.501, 0.502, 0.503)), Values(Real4s(SeriesValues, 1, 2, 3, 4))),
            Instance(1, Values(Stamps(SeriesValues, (Day, 60), (Day, 60.002), (Day, 60.004))), Values(Real4s(SeriesValues, 5, 6, 7))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, wave)));
        Assert.Equal(1000, content.Recordings[0].Recording.Segments[0].RateHertz, 3);
        Assert.Equal(s_ten.Date.AddSeconds(60.5), content.Recordings[0].Recording.Start);
        Assert.Equal(500, content.Recordings[1].Recording.Segments[0].RateHertz, 3);
        Assert.Equal(s_ten.Date.AddSeconds(60), content.Recordings[1].Recording.Start);
    }

    [Fact]
    public void Several_rates_are_read_as_stated_and_said()
    {
        var wave = Observed(0, Instance(0, Values(Real8s(SeriesValues, 2, 2, 0.25, 3, 0.5)), Values(Int2s(SeriesValues, 1, 2, 3, 4, 5))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)));
        Assert.Equal([new RateSegment(0, 2, 4, 0), new RateSegment(2, 3, 2, 0.5)], content.Recordings[0].Recording.Segments);
        Assert.Contains(content.Warnings, warning => warning.Says.Contains("several rates", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(true, 30)]
    [InlineData(false, 1)]
    public void A_transducer_ratio_counts_only_when_the_file_says_so(bool isUsed, double factor)
    {
        var settings = Body(Bool4(UseCalibration, false), Bool4(UseTransducer, isUsed), Collection(ChannelSettingsArray,
            Collection(OneChannelSetting, UInt4(ChannelDefnIdx, 1), Real8(XdSystemSideRatio, 150), Real8(XdMonitorSideRatio, 5))));
        var content = Read(RawPqdif.File(
            (Container, PlainContainer), (DataSource, WaveformSource), (MonitorSettings, settings), (Observation, WaveformObservation(0))));
        Assert.Equal(1.5 * factor, content.Recordings[0].Recording.Channels[1].Samples.Span[0]);
        Assert.Equal(53, content.Recordings[0].Recording.Channels[0].Samples.Span[0]);
    }

    [Fact]
    public void Logged_values_find_their_quantities()
    {
        var content = Read(LogFile());
        Assert.Empty(content.Recordings);
        var log = Assert.Single(content.Logs).Log;
        Assert.Equal(600, log.IntervalSeconds);
        Assert.Equal(3, log.Count);
        Assert.Equal(s_ten, log.From);
        AssertColumn(log, LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Mean, 230, 231, double.NaN);
        AssertColumn(log, LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Minimum, 228, 229, 227);
        AssertColumn(log, LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Maximum, 232, 233, 235);
        AssertColumn(log, LogQuantity.ActivePower, LogPlace.Whole, LogStatistic.Mean, 1000, -2000, 3000);
        AssertColumn(log, LogQuantity.PowerFactor, LogPlace.Whole, LogStatistic.Instant, 0.5, -0.25, 1);
        AssertColumn(log, LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter, 1000, 1250, 1500);
        AssertColumn(log, LogQuantity.Current, LogPlace.Phase2, LogStatistic.Instant, 5, 6, 7);
        AssertColumn(log, LogQuantity.CurrentAngle, LogPlace.Phase2, LogStatistic.Instant, -30, -150, 90);
        var harmonic = log.Columns.Single(column => column.Quantity == LogQuantity.VoltageHarmonic);
        Assert.Equal((5, LogPlace.Phase1), (harmonic.Order, harmonic.Place));
        // per unit in the file, percent in the log
        Assert.Equal([3.125, 6.25, 12.5], log.Values(log.Columns.IndexOf(harmonic)).ToArray());
    }

    [Fact]
    public void Logs_go_on_from_observation_to_observation()
    {
        var log = Assert.Single(Read(LogFile((Observation, LogObservation(36000 + 1800)), (Observation, LogObservation(36000 + 7200)))).Logs).Log;
        Assert.Equal(9, log.Count);
        Assert.Equal(s_ten.AddSeconds(7200 + 1200), new DateTime(log.Starts.Span[^1]));
    }

    [Fact]
    public void Times_may_be_taken_as_ends()
    {
        var log = PqdifReader.Read(new InputFile("x.pqd", LogFile()), new PqdifReadOptions { AreTimesEnds = true }, cancellationToken: TestContext.Current.CancellationToken).Logs[0].Log;
        Assert.Equal(s_ten.AddSeconds(-600), log.From);
    }

    [Fact]
    public void One_value_an_observation_is_a_log_all_the_same()
    {
        var source = Source(Channel("U", 1, ValueLog, 1, Series(Time, 2, QcNone, 1), Series(Avg, 6, QcRms, 1)));
        byte[] One(double seconds, float volts) => Observed(seconds, Instance(0, Values(Real8s(SeriesValues, 0)), Values(Real4s(SeriesValues, volts))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, One(0, 1)), (Observation, One(900, 2)), (Observation, One(1800, 3))));
        var log = Assert.Single(content.Logs).Log;
        Assert.Equal(900, log.IntervalSeconds);
        Assert.Equal([1, 2, 3], log.Values(0).ToArray());
    }

    [Fact]
    public void Records_packed_one_by_one_are_unpacked()
    {
        var content = Read(Packed((DataSource, WaveformSource), (Observation, WaveformObservation(36000))));
        Assert.Equal([53, -47, 3, 6.5], content.Recordings[0].Recording.Channels[0].Samples.ToArray());
    }

    [Fact]
    public void A_file_packed_as_a_whole_is_unpacked()
    {
        var container = Body(Ascii(FileName, "test.pqd"), UInt4(CompressionStyle, 1), UInt4(CompressionAlgorithm, 1));
        var plain = RawPqdif.File((Container, container), (DataSource, WaveformSource), (Observation, WaveformObservation(36000)));
        var head = 64 + container.Length;
        var content = Read([.. plain[..head], .. Zlib(plain[head..])]);
        Assert.Equal([53, -47, 3, 6.5], content.Recordings[0].Recording.Channels[0].Samples.ToArray());
    }

    [Fact]
    public void A_stream_that_cannot_seek_is_read()
    {
        // A pipe, say: here one that unpacks.
        using var packed = new MemoryStream(Zlib(Waveforms()));
        using var stream = new ZLibStream(packed, CompressionMode.Decompress);
        Assert.Single(PqdifReader.Read(stream, "pipe", cancellationToken: TestContext.Current.CancellationToken).Recordings);
    }

    [Fact]
    public void Names_in_two_bytes_a_letter_are_read()
    {
        var source = Source(Collection(OneChannelDefn, WideText(ChannelName, "Ü1 Zähler"), UInt4(PhaseId, 1), Id(QuantityTypeId, Waveform),
            Collection(SeriesDefns, Series(Time, 2, QcNone, 4), Series(Val, 6, QcInstantaneous, 3))));
        var wave = Observed(0, Instance(0, Values(Real8s(SeriesValues, 1, 2, 0.001)), Values(Int2s(SeriesValues, 1, 2))));
        Assert.Equal("Ü1 Zähler", Read(RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, wave))).Recordings[0].Recording.Channels[0].Name);
    }

    [Fact]
    public void What_is_not_understood_is_listed()
    {
        var source = Body(Ascii(NameDs, "recorder"), UInt4("01234567-89ab-cdef-0123-456789abcdef", 5), Collection(ChannelDefns,
            Channel("spread", 1, Histogram, 1, Series(Val, 6, QcRms, 1)),
            Channel("no times", 1, Waveform, 1, Series(Val, 6, QcInstantaneous, 1))));
        var observation = Observed(0, Instance(0, Values(Real4s(SeriesValues, 1))), Instance(1, Values(Real4s(SeriesValues, 1))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, observation), ("aaaaaaaa-0000-0000-0000-000000000001", Body())));
        Assert.Equal(4, content.NotUnderstood.Length);
        Assert.Contains(content.NotUnderstood, says => says.Contains("01234567-89ab-cdef-0123-456789abcdef", StringComparison.Ordinal));
        Assert.Contains(content.NotUnderstood, says => says.Contains("ID_QT_HISTOGRAM", StringComparison.Ordinal));
        Assert.Contains(content.NotUnderstood, says => says.Contains("no times", StringComparison.Ordinal));
        Assert.Contains(content.NotUnderstood, says => says.Contains("aaaaaaaa-0000-0000-0000-000000000001", StringComparison.Ordinal));
        var refusal = Assert.Throws<FormatReadException>(() => InputReader.Read([new InputFile("x.pqd", RawPqdif.File((Container, PlainContainer), (DataSource, source), (Observation, observation)))]));
        Assert.Contains("none that could be read", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_scale_that_the_definition_does_not_announce_is_said_and_left()
    {
        var wave = Observed(0, Instance(1, Values(Real8s(SeriesValues, 1, 2, 0.001)), Values(Real8(SeriesScale, 10), Real4s(SeriesValues, 1, 2))));
        var content = Read(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource), (Observation, wave)));
        Assert.Equal([1, 2], content.Recordings[0].Recording.Channels[0].Samples.ToArray());
        Assert.Contains(content.Warnings, warning => warning.Says.Contains("not applied", StringComparison.Ordinal));
    }

    [Fact]
    public void A_checksum_that_does_not_fit_is_said()
    {
        var source = WaveformSource;
        var start = 64 + PlainContainer.Length;
        byte[] With(uint checksum) =>
        [
            .. Record(Container, PlainContainer, (uint)start), .. Record(DataSource, source, (uint)(start + 64 + source.Length), checksum),
            .. Record(Observation, WaveformObservation(0), 0),
        ];
        Assert.Contains(Read(With(12345)).Warnings, warning => warning.ByteOffset == start);
        Assert.DoesNotContain(Read(With(0)).Warnings, warning => warning.ByteOffset == start);
    }

    [Fact]
    public void Inputs_are_known_by_their_content_and_read_as_recordings_and_logs()
    {
        Assert.Equal(InputKind.Pqdif, InputSniffer.KindOf(new InputFile("download.dat", Waveforms())));
        Assert.Equal(InputKind.Pqdif, InputSniffer.KindOf(new InputFile("x.PQD", default)));
        var waveform = Assert.IsType<SampledInput>(Assert.Single(InputReader.Read([new InputFile("a.bin", Waveforms())])));
        Assert.Equal(2, waveform.Recording.Channels.Length);
        var log = Assert.IsType<LogInput>(Assert.Single(InputReader.Read([new InputFile("b.pqd", LogFile())])));
        Assert.Equal(3, log.File.Log.Count);
        Assert.Contains(log.Warnings, warning => warning.Says.Contains("UTC", StringComparison.Ordinal));
    }

    private static PqdifContent Read(byte[] file) => PqdifReader.Read(new InputFile("test.pqd", file), cancellationToken: TestContext.Current.CancellationToken);

    private static void AssertColumn(IntervalLog log, LogQuantity quantity, LogPlace place, LogStatistic statistic, params double[] expected)
    {
        var index = log.Columns.IndexOf(log.Columns.Single(column => column.Quantity == quantity && column.Place == place && column.Statistic == statistic));
        Assert.Equal(expected, log.Values(index).ToArray());
    }
}
