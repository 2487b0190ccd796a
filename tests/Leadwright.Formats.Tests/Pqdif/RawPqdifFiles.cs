using static Leadwright.Formats.Tests.Pqdif.RawPqdif;

namespace Leadwright.Formats.Tests.Pqdif;

/// <summary>Small files that several tests use.</summary>
internal static class RawPqdifFiles
{
    /// <summary>2026-03-02, a day number by the standard's constant: 25569 is 1970-01-01, and 20514 days lie between.</summary>
    public const uint Day = 25569 + 20514;

    public static byte[] PlainContainer { get; } = Body(Ascii(FileName, "test.pqd"));

    public static Element Series(string valueType, uint units, string characteristic, uint storage) => Collection(OneSeriesDefn,
        Id(ValueTypeId, valueType), UInt4(QuantityUnitsId, units), Id(QuantityCharacteristicId, characteristic), UInt4(StorageMethodId, storage));

    public static Element Channel(string? name, uint phase, string quantityType, uint measured, params Element[] series) => Collection(OneChannelDefn,
    [
        .. name is null ? Array.Empty<Element>() : [Ascii(ChannelName, name)],
        UInt4(PhaseId, phase), Id(QuantityTypeId, quantityType), UInt4(QuantityMeasuredId, measured), Collection(SeriesDefns, series),
    ]);

    public static byte[] Source(params Element[] channels) => Body(Ascii(NameDs, "recorder"), Collection(ChannelDefns, channels));

    public static Element Instance(uint definition, params Element[] series) =>
        Collection(OneChannelInst, UInt4(ChannelDefnIdx, definition), Collection(SeriesInstances, series));

    public static Element Values(params Element[] elements) => Collection(OneSeriesInstance, elements);

    public static byte[] Observed(double seconds, params Element[] instances) =>
        Body(Ascii(ObservationName, "one"), Stamp(TimeStart, Day, seconds), Collection(ChannelInstances, instances));

    /// <summary>Two channels: volts scaled from counts, amperes as they are with the times of the first.</summary>
    public static byte[] WaveformSource { get; } = Source(
        Channel(null, 1, Waveform, 1, Series(Time, 2, QcNone, 4), Series(Val, 6, QcInstantaneous, 3)),
        Channel("Ia", 1, Waveform, 2, Series(Time, 2, QcNone, 4), Series(Val, 7, QcInstantaneous, 1)));

    public static byte[] WaveformObservation(double seconds, short first = 100) => Observed(seconds,
        Instance(0, Values(Real8s(SeriesValues, 1, 4, 0.0005)), Values(Real8(SeriesScale, 0.5), Real8(SeriesOffset, 3), Int2s(SeriesValues, first, -100, 0, 7))),
        Instance(1, Values(UInt4(ShareChannelIdx, 0), UInt4(ShareSeriesIdx, 0)), Values(Real4s(SeriesValues, 1.5f, -2.5f, 0, float.NaN))));

    public static byte[] Waveforms(params (string Type, byte[] Body)[] more) =>
        RawPqdif.File([(Container, PlainContainer), (DataSource, WaveformSource), (Observation, WaveformObservation(36000)), .. more]);

    /// <summary>Ten-minute values: volts with least and largest, watts, a power factor, energy of the interval, an angle, a harmonic.</summary>
    public static byte[] LogSource { get; } = Source(
        Channel("U1", 1, ValueLog, 1, Series(Time, 2, QcNone, 1), Series(Avg, 6, QcRms, 1), Series(Min, 6, QcRms, 1), Series(Max, 6, QcRms, 1)),
        Channel("P", 13, ValueLog, 3, Series(Time, 2, QcNone, 1), Series(Avg, 9, QcP, 3)),
        Channel("PF", 13, ValueLog, 3, Series(Time, 2, QcNone, 1), Series(Val, 0, QcPowerFactor, 1)),
        Channel("E", 13, ValueLog, 4, Series(Time, 2, QcNone, 1), Series(Val, 23, QcEnergyPositive, 1)),
        Channel("I2", 2, Phasor, 2, Series(Time, 2, QcNone, 1), Series(Val, 7, QcRms, 1), Series(PhaseAngle, 17, QcNone, 1)),
        Channel("U1 harmonics", 1, ValueLog, 1, Series(Time, 2, QcNone, 1), Series(Avg, 20, QcHarmonicGroup, 1)));

    public static byte[] LogObservation(double seconds)
    {
        var shared = Values(UInt4(ShareChannelIdx, 0), UInt4(ShareSeriesIdx, 0));
        return Observed(seconds,
            Instance(0, Values(Real8s(SeriesValues, 0, 600, 1200)), Values(Real4s(SeriesValues, 230, 231, float.NaN)),
                Values(Real4s(SeriesValues, 228, 229, 227)), Values(Real4s(SeriesValues, 232, 233, 235))),
            Instance(1, shared, Values(Real8(SeriesScale, 10, isEmbedded: false), Int2s(SeriesValues, 100, -200, 300))),
            Instance(2, shared, Values(Real4s(SeriesValues, 0.5f, -0.25f, 1))),
            Instance(3, shared, Values(Real8s(SeriesValues, 1000, 1250, 1500))),
            Instance(4, shared, Values(Real4s(SeriesValues, 5, 6, 7)), Values(Real4s(SeriesValues, -30, -150, 90))),
            Collection(OneChannelInst, UInt4(ChannelDefnIdx, 5), Int2(ChannelGroupId, 5), Collection(SeriesInstances, shared, Values(Real4s(SeriesValues, 0.03125f, 0.0625f, 0.125f)))));
    }

    public static byte[] LogFile(params (string Type, byte[] Body)[] more) =>
        RawPqdif.File([(Container, PlainContainer), (DataSource, LogSource), (Observation, LogObservation(36000)), .. more]);

    public static byte[] Packed(params (string Type, byte[] Body)[] records) => RawPqdif.File(
    [
        (Container, Body(Ascii(FileName, "test.pqd"), UInt4(CompressionStyle, 2), UInt4(CompressionAlgorithm, 1))),
        .. records.Select(record => (record.Type, Zlib(record.Body))),
    ]);
}
