using Leadwright.Core.Signals;

namespace Leadwright.Formats.Pqdif;

/// <summary>Lays out a recording as waveform observations.</summary>
internal static class PqdifWaveformRecords
{
    /// <summary>Time of the first sample; null when it is not known.</summary>
    public static DateTime? FirstTimeOf(SampledRecording recording)
    {
        if (recording.Start is not { } start || recording.Segments.IsEmpty || recording.Channels.IsEmpty) return recording.Start;
        var first = recording.Segments[0];
        return start.AddTicks(TicksOf(first, ShiftOf(recording, first)));
    }

    /// <summary>Adds the records.</summary>
    /// <param name="records">Receives them.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="options">How to write.</param>
    /// <param name="mostValues">Values of one observation.</param>
    public static void Add(PqdifRecordWriter records, SampledRecording recording, PqdifWriteOptions options, int mostValues)
    {
        if (recording.Channels.IsEmpty) return;
        var source = PqdifWriter.SourceRecord(options);
        var definitions = source.Collection(PqdifTag.ChannelDefns);
        foreach (var channel in recording.Channels) AddDefinition(definitions.Collection(PqdifTag.OneChannelDefn), channel);
        records.Add(PqdifTag.RecDataSource, source);
        if (recording.LineFrequencyHertz is > 0 and < 1000 and var hertz) records.Add(PqdifTag.RecMonitorSettings, Settings(recording, hertz, options));
        var frames = Math.Max(1, mostValues / recording.Channels.Length);
        var zero = recording.Start is null && !recording.Segments.IsEmpty ? recording.Segments[0].StartSeconds : 0;
        foreach (var segment in recording.Segments)
        {
            for (var from = 0; from < segment.Length; from += frames)
            {
                var part = new RateSegment(
                    segment.FirstIndex + from, Math.Min(frames, segment.Length - from), segment.RateHertz, segment.StartSeconds + (from / segment.RateHertz) - zero);
                records.Add(PqdifTag.RecObservation, Observation(recording, part, options));
            }
        }
    }

    private static void AddDefinition(PqdifRecordBuilder definition, SampledChannel channel)
    {
        var (unit, hint) = PqdifUnit.Parse(channel.Unit);
        var phase = PqdifPhase.Of(channel.Phase);
        var measured = PqdifUnit.MeasuredOf(unit ?? PqdifUnit.None);
        var name = PqdifRecordBuilder.Clean(channel.Name);
        var other = phase is null ? PqdifRecordBuilder.Clean(channel.Phase) : "";
        if (name.Length == 0)
            name = new PqdifChannelDefinition(null, other.Length > 0 ? other : null, phase ?? PqdifPhase.None, PqdifQuantityType.Waveform, measured, []).Title;
        if (unit is null) name += $" [{PqdifRecordBuilder.Clean(channel.Unit)}]";
        definition.Add(PqdifTag.ChannelName, name);
        definition.Add(PqdifTag.PhaseID, phase ?? PqdifPhase.None);
        if (other.Length > 0) definition.Add(PqdifTag.OtherChannelIdentifier, other);
        definition.Add(PqdifTag.QuantityTypeID, PqdifQuantityType.Waveform);
        definition.Add(PqdifTag.QuantityMeasuredID, measured);
        var series = definition.Collection(PqdifTag.SeriesDefns);
        var time = series.Collection(PqdifTag.OneSeriesDefn);
        time.Add(PqdifTag.ValueTypeID, PqdifValueType.Time);
        time.Add(PqdifTag.QuantityUnitsID, PqdifUnit.Seconds);
        time.Add(PqdifTag.QuantityCharacteristicID, PqdifCharacteristic.None);
        time.Add(PqdifTag.StorageMethodID, PqdifStorage.Increment | PqdifStorage.Scaled);
        var values = series.Collection(PqdifTag.OneSeriesDefn);
        values.Add(PqdifTag.ValueTypeID, PqdifValueType.Val);
        values.Add(PqdifTag.QuantityUnitsID, unit ?? PqdifUnit.None);
        values.Add(PqdifTag.QuantityCharacteristicID, PqdifCharacteristic.Instantaneous);
        values.Add(PqdifTag.StorageMethodID, PqdifStorage.Values);
        if (hint != 0) values.Add(PqdifTag.HintGreekPrefixID, hint);
    }

    // Skews are kept within one sample, as a converter has them; what is beyond belongs to the start.
    private static double ShiftOf(SampledRecording recording, RateSegment part)
    {
        var least = recording.Channels.Min(channel => channel.SkewSeconds);
        return least >= 0 && least < 1 / part.RateHertz ? 0 : least;
    }

    private static long TicksOf(RateSegment part, double shift) => (long)Math.Round((part.StartSeconds + shift) * TimeSpan.TicksPerSecond);

    private static PqdifRecordBuilder Settings(SampledRecording recording, double hertz, PqdifWriteOptions options)
    {
        var settings = new PqdifRecordBuilder();
        DateTime? start = FirstTimeOf(recording) is { } known ? known - options.UtcOffset : null;
        settings.Add(PqdifTag.Effective, start);
        settings.Add(PqdifTag.TimeInstalled, start);
        settings.Add(PqdifTag.UseCalibration, false);
        settings.Add(PqdifTag.UseTransducer, false);
        var channels = settings.Collection(PqdifTag.ChannelSettingsArray);
        for (var index = 0; index < recording.Channels.Length; index++)
            channels.Collection(PqdifTag.OneChannelSetting).Add(PqdifTag.ChannelDefnIdx, (uint)index);
        settings.Add(PqdifTag.NominalFrequency, hertz);
        return settings;
    }

    private static PqdifRecordBuilder Observation(SampledRecording recording, RateSegment part, PqdifWriteOptions options)
    {
        var step = 1 / part.RateHertz;
        var shift = ShiftOf(recording, part);
        var ticks = TicksOf(part, shift);
        var start = recording.Start?.AddTicks(ticks) ?? PqdifTime.Undated(ticks);
        var observation = PqdifWriter.ObservationRecord("Waveform", start, 0, options);
        var instances = observation.Collection(PqdifTag.ChannelInstances);
        var timesOf = new Dictionary<double, uint>();
        for (var index = 0; index < recording.Channels.Length; index++)
        {
            var channel = recording.Channels[index];
            var instance = instances.Collection(PqdifTag.OneChannelInst);
            instance.Add(PqdifTag.ChannelDefnIdx, (uint)index);
            var series = instance.Collection(PqdifTag.SeriesInstances);
            var time = series.Collection(PqdifTag.OneSeriesInstance);
            var skew = channel.SkewSeconds - shift;
            if (timesOf.TryGetValue(skew, out var known))
            {
                time.Add(PqdifTag.SeriesShareChannelIdx, known);
                time.Add(PqdifTag.SeriesShareSeriesIdx, 0u);
            }
            else
            {
                timesOf[skew] = (uint)index;
                time.Add(PqdifTag.SeriesScale, 1.0);
                time.Add(PqdifTag.SeriesOffset, skew);
                time.AddDoubles(PqdifTag.SeriesValues, 1, part.Length, step);
            }

            series.Collection(PqdifTag.OneSeriesInstance).Add(PqdifTag.SeriesValues, channel.Samples.Span.Slice(part.FirstIndex, part.Length));
        }

        return observation;
    }
}
