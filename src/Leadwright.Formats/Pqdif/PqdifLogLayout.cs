using System.Collections.Immutable;

namespace Leadwright.Formats.Pqdif;

/// <summary>How columns of a log are laid out as channels: minimum, mean and maximum of one quantity are series of one channel.</summary>
internal sealed class PqdifLogLayout
{
    private readonly ImmutableArray<(PqdifLogSeries Channel, ImmutableArray<(PqdifLogSeries Series, int Column)> Series)> _channels;

    /// <summary>Lays out columns.</summary>
    /// <param name="columns">What each column is; null for one that is left out.</param>
    public PqdifLogLayout(IReadOnlyList<PqdifLogSeries?> columns)
    {
        var channels = new List<(PqdifLogSeries Channel, List<(PqdifLogSeries Series, int Column)> Series)>();
        for (var index = 0; index < columns.Count; index++)
        {
            if (columns[index] is not { } series) continue;
            var known = channels.FindIndex(channel =>
                channel.Channel with { Name = "", ValueType = default } == series with { Name = "", ValueType = default }
                && channel.Series.TrueForAll(other => other.Series.ValueType != series.ValueType));
            if (known < 0 || series.Measured == PqdifUnit.MeasuredNone) channels.Add((series, [(series, index)]));
            else channels[known].Series.Add((series, index));
        }

        _channels = [.. channels.Select(channel => (channel.Channel, channel.Series.ToImmutableArray()))];
    }

    /// <summary>The columns in the order in which they are written.</summary>
    public IEnumerable<int> Order => _channels.SelectMany(channel => channel.Series.Select(series => series.Column));

    /// <summary>Adds the definitions of the channels to a data source.</summary>
    /// <param name="source">The data source's record.</param>
    /// <param name="hasInterval">True when the length of an interval is written with the first channel.</param>
    public void AddDefinitions(PqdifRecordBuilder source, bool hasInterval)
    {
        var definitions = source.Collection(PqdifTag.ChannelDefns);
        for (var index = 0; index < _channels.Length; index++)
        {
            var (channel, series) = _channels[index];
            var definition = definitions.Collection(PqdifTag.OneChannelDefn);
            if (PqdifRecordBuilder.Clean(channel.Channel).Length > 0) definition.Add(PqdifTag.ChannelName, channel.Channel);
            definition.Add(PqdifTag.PhaseID, channel.Phase);
            definition.Add(PqdifTag.QuantityTypeID, channel.QuantityType);
            definition.Add(PqdifTag.QuantityMeasuredID, channel.Measured);
            var all = definition.Collection(PqdifTag.SeriesDefns);
            AddSeries(all, PqdifValueType.Time, PqdifUnit.Seconds, PqdifCharacteristic.None, "");
            foreach (var (one, _) in series) AddSeries(all, one.ValueType, one.Units, one.Characteristic, one.Name);
            if (hasInterval && index == 0) AddSeries(all, PqdifValueType.Interval, PqdifUnit.Seconds, PqdifCharacteristic.None, "");
        }
    }

    /// <summary>Adds the channels of an observation.</summary>
    /// <param name="observation">The observation's record.</param>
    /// <param name="seconds">Time of each row after the observation's start.</param>
    /// <param name="intervalSeconds">Length of an interval; 0 when it is not written.</param>
    /// <param name="valuesOf">Values of a column, one a row.</param>
    public void AddChannels(PqdifRecordBuilder observation, ReadOnlySpan<double> seconds, double intervalSeconds, Func<int, ReadOnlyMemory<double>> valuesOf)
    {
        var instances = observation.Collection(PqdifTag.ChannelInstances);
        for (var index = 0; index < _channels.Length; index++)
        {
            var (channel, series) = _channels[index];
            var instance = instances.Collection(PqdifTag.OneChannelInst);
            instance.Add(PqdifTag.ChannelDefnIdx, (uint)index);
            if (channel.GroupId > 0) instance.AddShort(PqdifTag.ChannelGroupID, (short)channel.GroupId);
            var all = instance.Collection(PqdifTag.SeriesInstances);
            var time = all.Collection(PqdifTag.OneSeriesInstance);
            if (index == 0)
            {
                time.AddDoubles(PqdifTag.SeriesValues, seconds);
            }
            else
            {
                time.Add(PqdifTag.SeriesShareChannelIdx, 0u);
                time.Add(PqdifTag.SeriesShareSeriesIdx, 0u);
            }

            foreach (var (_, column) in series) all.Collection(PqdifTag.OneSeriesInstance).Add(PqdifTag.SeriesValues, valuesOf(column).Span);
            if (intervalSeconds <= 0 || index > 0) continue;
            var intervals = new double[seconds.Length];
            Array.Fill(intervals, intervalSeconds);
            all.Collection(PqdifTag.OneSeriesInstance).AddDoubles(PqdifTag.SeriesValues, intervals);
        }
    }

    private static void AddSeries(PqdifRecordBuilder definitions, Guid valueType, uint units, Guid characteristic, string name)
    {
        var definition = definitions.Collection(PqdifTag.OneSeriesDefn);
        definition.Add(PqdifTag.ValueTypeID, valueType);
        definition.Add(PqdifTag.QuantityUnitsID, units);
        definition.Add(PqdifTag.QuantityCharacteristicID, characteristic);
        definition.Add(PqdifTag.StorageMethodID, PqdifStorage.Values);
        if (PqdifRecordBuilder.Clean(name).Length > 0) definition.Add(PqdifTag.ValueTypeName, name);
    }
}
