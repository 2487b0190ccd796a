using System.Globalization;

namespace Leadwright.Formats.Pqdif;

/// <summary>A channel of an observation.</summary>
/// <param name="Index">Its place in the observation.</param>
/// <param name="DefinitionIndex">Its place among the definitions.</param>
/// <param name="Definition">What it holds.</param>
/// <param name="GroupId">Index of a harmonic or interharmonic group; null when there is none.</param>
/// <param name="FrequencyHertz">Frequency that the channel is for; null when there is none.</param>
/// <param name="Series">Its series as stored.</param>
internal sealed record PqdifChannel(
    int Index, uint DefinitionIndex, PqdifChannelDefinition Definition, int? GroupId, double? FrequencyHertz, PqdifCollection[] Series)
{
    /// <summary>Index of the first series with one of the given value types; −1 when there is none.</summary>
    public int IndexOf(Guid valueType)
    {
        for (var index = 0; index < Series.Length; index++)
        {
            if (Definition.Series[index].ValueType == valueType) return index;
        }

        return -1;
    }
}

/// <summary>One observation: decodes the series of its channels when they are asked for.</summary>
internal sealed class PqdifObservation
{
    private readonly PqdifCollection _record;
    private readonly PqdifSettings _settings;
    private readonly PqdifBudget _budget;
    private readonly Action<string> _warn;
    private readonly Dictionary<(int, int), PqdifTimeAxis?> _axes = [];

    /// <summary>Reads what the record states; values wait.</summary>
    /// <param name="record">The record.</param>
    /// <param name="source">The data source it belongs to.</param>
    /// <param name="settings">The monitor settings it belongs to.</param>
    /// <param name="budget">How many values may still be kept.</param>
    /// <param name="warn">Receives what is met and put up with.</param>
    public PqdifObservation(PqdifCollection record, PqdifDataSource source, PqdifSettings settings, PqdifBudget budget, Action<string> warn)
    {
        (_record, _settings, _budget, _warn) = (record, settings, budget, warn);
        Name = record.Text(PqdifTag.ObservationName);
        Start = PqdifTime.DateOf(record.Find(PqdifTag.TimeStart)?.AsTime(), out var undated);
        UndatedTicks = undated;
        Source = source;
        var channels = new List<PqdifChannel>();
        foreach (var channel in record.Need(PqdifTag.ChannelInstances).AsCollection().All(PqdifTag.OneChannelInst))
            channels.Add(ReadChannel(channel, channels.Count));
        Channels = channels;
    }

    /// <summary>Its name; null when there is none.</summary>
    public string? Name { get; }

    /// <summary>Zero of its times; null when it is not stated.</summary>
    public DateTime? Start { get; }

    /// <summary>Zero of its times where no date is known, ticks; 0 where one is.</summary>
    public long UndatedTicks { get; }

    /// <summary>The data source it belongs to.</summary>
    public PqdifDataSource Source { get; }

    /// <summary>Nominal frequency by the settings; null when they don't say.</summary>
    public double? NominalHertz => _settings.NominalHertz;

    /// <summary>Its channels.</summary>
    public IReadOnlyList<PqdifChannel> Channels { get; }

    /// <summary>The times of a channel; null when it has no series of times.</summary>
    public PqdifTimeAxis? TimesOf(PqdifChannel channel)
    {
        var series = channel.IndexOf(PqdifValueType.Time);
        if (series < 0) return null;
        var place = Resolve(channel.Index, series);
        if (!_axes.TryGetValue(place, out var axis)) _axes[place] = axis = ReadAxis(Channels[place.Channel], place.Series);
        return axis;
    }

    /// <summary>Values of a series in base units, on the system side.</summary>
    /// <param name="channel">The channel.</param>
    /// <param name="series">The series.</param>
    /// <param name="times">The times of the channel.</param>
    public double[] ValuesOf(PqdifChannel channel, int series, PqdifTimeAxis times)
    {
        var (stored, definition) = Stored(channel.Index, series);
        double[] values;
        if ((definition.Storage & PqdifStorage.Increment) != 0)
        {
            var axis = new PqdifTimeAxis(Runs(stored, definition, 1), Scaling(stored, definition).Offset);
            // A few bytes can claim billions of steps: only times that stand in the file one by one bear them out.
            var most = times.IsEach ? times.Count : 0;
            if (axis.Count > most) throw Bad(definition, $"at most {Of(most)} values, as many as times one by one", $"steps for {Of(axis.Count)}");
            _budget.Take(axis.Count, _record.Body);
            values = axis.Seconds(axis.Count);
        }
        else
        {
            values = Plain(stored, definition);
        }

        if (IsOfChannel(definition) && _settings.Corrections.TryGetValue(channel.DefinitionIndex, out var correction))
        {
            for (var index = 0; index < values.Length; index++) values[index] = (values[index] * correction.Factor) + correction.Offset;
        }

        return values;
    }

    // A ratio of transformers applies to what was measured, not to angles, factors or times.
    private static bool IsOfChannel(PqdifSeriesDefinition definition) => definition.Units is PqdifUnit.Volts or PqdifUnit.Amperes;

    private PqdifChannel ReadChannel(PqdifCollection channel, int index)
    {
        var number = channel.Need(PqdifTag.ChannelDefnIdx).AsUnsigned();
        if (number >= Source.Channels.Length)
            throw _record.Body.Bad($"a channel definition from 0 to {Of(Source.Channels.Length - 1)}", Of(number), PqdifTag.NameOf(PqdifTag.ChannelDefnIdx));
        var definition = Source.Channels[(int)number];
        PqdifCollection[] series = [.. channel.Need(PqdifTag.SeriesInstances).AsCollection().All(PqdifTag.OneSeriesInstance)];
        if (series.Length > definition.Series.Length)
            throw _record.Body.Bad($"{Of(definition.Series.Length)} series in channel '{definition.Title}', as its definition has", Of(series.Length));
        int? group = channel.Find(PqdifTag.ChannelGroupID) is { } element ? (int)element.AsNumber() : null;
        return new PqdifChannel(index, number, definition, group, channel.Number(PqdifTag.ChannelFrequency), series);
    }

    // A series may use the values of another one, and that of a third.
    private (int Channel, int Series) Resolve(int channel, int series)
    {
        for (var hops = 0; hops <= Channels.Count; hops++)
        {
            var instance = Channels[channel].Series[series];
            if (instance.Find(PqdifTag.SeriesValues) is not null || instance.Unsigned(PqdifTag.SeriesShareChannelIdx) is not { } other) return (channel, series);
            var shared = instance.Need(PqdifTag.SeriesShareSeriesIdx).AsUnsigned();
            if (other >= Channels.Count || shared >= Channels[(int)other].Series.Length)
            {
                throw _record.Body.Bad("a series of this observation to share", $"series {Of(shared)} of channel {Of(other)}",
                    PqdifTag.NameOf(PqdifTag.SeriesShareChannelIdx));
            }

            (channel, series) = ((int)other, (int)shared);
        }

        throw _record.Body.Bad("a shared series with values", "series that share each other's", PqdifTag.NameOf(PqdifTag.SeriesShareChannelIdx));
    }

    private (PqdifCollection Instance, PqdifSeriesDefinition Definition) Stored(int channel, int series)
    {
        var place = Resolve(channel, series);
        return (Channels[place.Channel].Series[place.Series], Channels[place.Channel].Definition.Series[place.Series]);
    }

    private PqdifTimeAxis? ReadAxis(PqdifChannel channel, int series)
    {
        var instance = channel.Series[series];
        var definition = channel.Definition.Series[series];
        var vector = instance.Need(PqdifTag.SeriesValues);
        if (vector.Physical == PqdifPhysicalType.Timestamp) return ReadStamps(vector, definition);
        double factor;
        switch (definition.Units)
        {
            case PqdifUnit.Seconds: factor = 1; break;
            case PqdifUnit.Cycles when _settings.NominalHertz is { } hertz: factor = 1 / hertz; break;
            default: return null;
        }

        if ((definition.Storage & PqdifStorage.Increment) != 0)
            return new PqdifTimeAxis(Runs(instance, definition, factor), factor * Scaling(instance, definition).Offset);
        var seconds = Plain(instance, definition);
        for (var index = 0; index < seconds.Length && factor != 1; index++) seconds[index] *= factor;
        var resolution = vector.Physical switch
        {
            PqdifPhysicalType.Real4 when seconds.Length > 0 => Math.Abs(seconds[^1]) * 1.2e-7,
            PqdifPhysicalType.Real8 => 0,
            _ => factor * Math.Abs(Scaling(instance, definition).Scale),
        };
        return seconds.Length == 0 ? null : new PqdifTimeAxis(seconds, resolution);
    }

    private PqdifTimeAxis? ReadStamps(PqdifElement vector, PqdifSeriesDefinition definition)
    {
        var bytes = vector.VectorBytes(out var count);
        if (count == 0 || Start is not { } start) return null;
        _budget.Take(count, _record.Body);
        var seconds = new double[count];
        for (var index = 0; index < count; index++)
        {
            if (PqdifTime.Read(bytes[(index * PqdifTime.Size)..]) is not { } time) throw Bad(definition, "a date and time", $"none at place {Of(index)}");
            seconds[index] = (time - start).Ticks / (double)TimeSpan.TicksPerSecond;
        }

        return new PqdifTimeAxis(seconds, 2e-7);
    }

    private double[] Plain(PqdifCollection instance, PqdifSeriesDefinition definition)
    {
        var vector = instance.Need(PqdifTag.SeriesValues);
        var bytes = vector.VectorBytes(out var count);
        _budget.Take(count, _record.Body);
        var values = new double[count];
        if (!PqdifNumbers.TryConvert(bytes, vector.Physical, values)) throw Bad(definition, "numbers", $"{vector.Physical}");
        var (scale, offset) = Scaling(instance, definition);
        if (scale != 1 || offset != 0)
        {
            for (var index = 0; index < count; index++) values[index] = (values[index] * scale) + offset;
        }

        return values;
    }

    // The number of rates, then for each its points and their step.
    private (int Count, double Step)[] Runs(PqdifCollection instance, PqdifSeriesDefinition definition, double factor)
    {
        var vector = instance.Need(PqdifTag.SeriesValues);
        var bytes = vector.VectorBytes(out var stored);
        _budget.Check(stored, _record.Body);
        var numbers = new double[stored];
        if (!PqdifNumbers.TryConvert(bytes, vector.Physical, numbers)) throw Bad(definition, "numbers", $"{vector.Physical}");
        if (stored == 0 || numbers[0] != Math.Floor(numbers[0]) || numbers[0] < 1 || (2 * numbers[0]) + 1 > stored)
            throw Bad(definition, "a number of rates, and two numbers for each", $"{Of(stored)} numbers{(stored > 0 ? $" beginning with {numbers[0].ToString(CultureInfo.InvariantCulture)}" : "")}");
        var runs = new (int Count, double Step)[(int)numbers[0]];
        var (scale, _) = Scaling(instance, definition);
        var total = 0.0;
        for (var run = 0; run < runs.Length; run++)
        {
            var points = numbers[1 + (2 * run)];
            total += points;
            if (!(points >= 0) || points != Math.Floor(points) || total > int.MaxValue)
                throw Bad(definition, "a number of points", points.ToString(CultureInfo.InvariantCulture));
            runs[run] = ((int)points, numbers[2 + (2 * run)] * scale * factor);
        }

        if (runs.Length > 1)
            _warn("A series of several rates is read as if each point was followed by the step of its own rate: the standard doesn't say which step lies between two rates.");
        return runs;
    }

    private (double Scale, double Offset) Scaling(PqdifCollection instance, PqdifSeriesDefinition definition)
    {
        var (scale, offset) = (instance.Number(PqdifTag.SeriesScale) ?? 1, instance.Number(PqdifTag.SeriesOffset) ?? 0);
        if ((definition.Storage & PqdifStorage.Scaled) != 0 || (scale == 1 && offset == 0)) return (scale, offset);
        _warn(string.Create(CultureInfo.InvariantCulture,
            $"A series has a scale of {scale} and an offset of {offset}, though its definition doesn't say that it is scaled: they are not applied."));
        return (1, 0);
    }

    private FormatReadException Bad(PqdifSeriesDefinition definition, string expected, string found) =>
        _record.Body.Bad(expected, found, $"{PqdifTag.NameOf(PqdifTag.SeriesValues)} of {PqdifValueType.NameOf(definition.ValueType)}");

    private static string Of(long value) => value.ToString(CultureInfo.InvariantCulture);
}

/// <summary>How many values may still be kept.</summary>
/// <param name="most">Most values in all.</param>
internal sealed class PqdifBudget(long most)
{
    private long _taken;

    /// <summary>Takes note of values before there is room made for them.</summary>
    public void Take(long count, PqdifBody body)
    {
        Check(count, body);
        _taken += count;
    }

    /// <summary>Makes sure that there is room.</summary>
    public void Check(long count, PqdifBody body)
    {
        if (count > most - _taken)
        {
            throw body.Bad(
                FormattableString.Invariant($"at most {most} values in the file"), "more", hint: "Export a shorter part of the recording, or several parts.");
        }
    }
}
