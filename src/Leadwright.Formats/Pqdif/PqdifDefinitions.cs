using System.Collections.Immutable;

namespace Leadwright.Formats.Pqdif;

/// <summary>What a series holds, by its definition.</summary>
internal sealed record PqdifSeriesDefinition(Guid ValueType, uint Units, Guid Characteristic, uint Storage, string? Name, uint? Prefix);

/// <summary>What a channel holds, by its definition.</summary>
internal sealed record PqdifChannelDefinition(
    string? Name, string? OtherName, uint Phase, Guid QuantityType, uint Measured, ImmutableArray<PqdifSeriesDefinition> Series)
{
    /// <summary>What to call it: its name, or kind and phase.</summary>
    public string Title => Name ?? OtherName ?? Kind + (Phase is PqdifPhase.None ? "" : PqdifPhase.MarkOf(Phase));

    private string Kind => Measured switch
    {
        PqdifUnit.MeasuredVoltage => "V",
        PqdifUnit.MeasuredCurrent => "I",
        PqdifUnit.MeasuredPower => "power ",
        PqdifUnit.MeasuredEnergy => "energy ",
        _ => "channel ",
    };
}

/// <summary>A data source: one recorder, or one way it records.</summary>
internal sealed record PqdifDataSource(int Index, string? Name, string? TimeZone, ImmutableArray<PqdifChannelDefinition> Channels)
{
    /// <summary>Reads the record.</summary>
    public static PqdifDataSource Read(PqdifCollection record, int index)
    {
        var channels = ImmutableArray.CreateBuilder<PqdifChannelDefinition>();
        foreach (var channel in record.Need(PqdifTag.ChannelDefns).AsCollection().All(PqdifTag.OneChannelDefn)) channels.Add(ReadChannel(channel));
        return new PqdifDataSource(index, record.Text(PqdifTag.NameDS), record.Text(PqdifTag.TimeZoneDS), channels.ToImmutable());
    }

    private static PqdifChannelDefinition ReadChannel(PqdifCollection channel)
    {
        var series = ImmutableArray.CreateBuilder<PqdifSeriesDefinition>();
        foreach (var one in channel.Need(PqdifTag.SeriesDefns).AsCollection().All(PqdifTag.OneSeriesDefn))
        {
            series.Add(new PqdifSeriesDefinition(
                one.Need(PqdifTag.ValueTypeID).AsGuid(),
                one.Unsigned(PqdifTag.QuantityUnitsID) ?? PqdifUnit.None,
                // Version 1.0 has neither the characteristic nor the quantity measured.
                one.Identifier(PqdifTag.QuantityCharacteristicID) ?? PqdifCharacteristic.None,
                one.Unsigned(PqdifTag.StorageMethodID) ?? PqdifStorage.Values,
                one.Text(PqdifTag.ValueTypeName), one.Unsigned(PqdifTag.HintGreekPrefixID)));
        }

        return new PqdifChannelDefinition(
            channel.Text(PqdifTag.ChannelName), channel.Text(PqdifTag.OtherChannelIdentifier), channel.Unsigned(PqdifTag.PhaseID) ?? PqdifPhase.None,
            channel.Need(PqdifTag.QuantityTypeID).AsGuid(), channel.Unsigned(PqdifTag.QuantityMeasuredID) ?? MeasuredBy(series), series.ToImmutable());
    }

    private static uint MeasuredBy(IEnumerable<PqdifSeriesDefinition> series)
    {
        foreach (var one in series)
        {
            if (PqdifUnit.MeasuredOf(one.Units) is not PqdifUnit.MeasuredNone and var measured) return measured;
        }

        return PqdifUnit.MeasuredNone;
    }
}

/// <summary>Storage methods: bits of the standard.</summary>
internal static class PqdifStorage
{
    public const uint Values = 1, Scaled = 2, Increment = 4;
}

/// <summary>Monitor settings: what the reader has to apply to values.</summary>
internal sealed record PqdifSettings(double? NominalHertz, ImmutableDictionary<uint, (double Factor, double Offset)> Corrections)
{
    /// <summary>Nothing is set.</summary>
    public static PqdifSettings Default { get; } = new(null, ImmutableDictionary<uint, (double, double)>.Empty);

    /// <summary>Reads the record.</summary>
    /// <remarks>A value is first calibrated (ratio, then offset), then brought to the system side. The order is not said in the header files.</remarks>
    public static PqdifSettings Read(PqdifCollection record, Action<string> warn)
    {
        var isTransduced = record.Unsigned(PqdifTag.UseTransducer) is > 0;
        var isCalibrated = record.Unsigned(PqdifTag.UseCalibration) is > 0;
        var corrections = ImmutableDictionary.CreateBuilder<uint, (double, double)>();
        if ((isTransduced || isCalibrated) && record.Find(PqdifTag.ChannelSettingsArray) is { } array)
        {
            foreach (var setting in array.AsCollection().All(PqdifTag.OneChannelSetting))
            {
                var index = setting.Need(PqdifTag.ChannelDefnIdx).AsUnsigned();
                var (system, monitor) = (setting.Number(PqdifTag.XDSystemSideRatio) ?? 1, setting.Number(PqdifTag.XDMonitorSideRatio) ?? 1);
                var transducer = isTransduced ? system / monitor : 1;
                if (!double.IsFinite(transducer) || transducer == 0)
                    throw record.Body.Bad("a transducer ratio", FormattableString.Invariant($"{system} to {monitor}"), PqdifTag.NameOf(PqdifTag.XDSystemSideRatio));
                var ratio = isCalibrated ? setting.Number(PqdifTag.CalRatio) ?? 1 : 1;
                var offset = isCalibrated ? setting.Number(PqdifTag.CalOffset) ?? 0 : 0;
                if (ratio != 1 || offset != 0)
                    warn(FormattableString.Invariant($"Channel definition {index} is calibrated as the file asks: times {ratio}, plus {offset}, before its transducer ratio."));
                if (transducer != 1 || ratio != 1 || offset != 0) corrections[index] = (ratio * transducer, offset * transducer);
            }
        }

        return new PqdifSettings(record.Number(PqdifTag.NominalFrequency) is > 0 and < 1000 and var hertz ? hertz : null, corrections.ToImmutable());
    }
}
