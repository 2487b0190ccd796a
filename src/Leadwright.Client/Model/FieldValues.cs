using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>Reads the fields that a draft shows, and notes those that can't be read.</summary>
internal sealed class FieldValues
{
    private readonly Dictionary<string, double> _values = new(StringComparer.Ordinal);
    private readonly ImmutableSortedDictionary<string, string>.Builder _errors =
        ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);

    public FieldValues(HookupDraft draft, ServiceKind service)
    {
        // Fields out of sight do not count: nobody could see what the verdict rests on.
        foreach (var group in ReadingSheet.Groups(service, draft.Shows, draft.Texts))
        {
            foreach (var field in group.Rows.SelectMany(row => row.Fields)) Read(field, draft.TextOf(field.Key));
        }
    }

    public ImmutableSortedDictionary<string, string> Errors => _errors.ToImmutable();

    public void Report(string key, string error) => _errors[key] = error;

    public ImmutableSortedDictionary<Channel, ChannelReading> Channels()
    {
        var channels = ImmutableSortedDictionary.CreateBuilder<Channel, ChannelReading>();
        foreach (var channel in Enum.GetValues<Channel>())
        {
            var (rms, angle) = (Value(ReadingSheet.RmsKey(channel)), Value(ReadingSheet.AngleKey(channel)));
            if (rms is not null || angle is not null) channels[channel] = new(rms, angle);
        }

        return channels.ToImmutable();
    }

    public ChannelReading? NeutralToGround() =>
        Value(ReadingSheet.GroundKey("rms")) is { } volts ? new(volts, Value(ReadingSheet.GroundKey("angle"))) : null;

    public ImmutableSortedDictionary<int, PhasePower> Phases()
    {
        var phases = ImmutableSortedDictionary.CreateBuilder<int, PhasePower>();
        for (var phase = 1; phase <= 3; phase++)
        {
            var power = new PhasePower(
                Value(ReadingSheet.PowerKey(phase, "watts")), Value(ReadingSheet.PowerKey(phase, "vars")),
                Value(ReadingSheet.PowerKey(phase, "va")), Value(ReadingSheet.PowerKey(phase, "pf")));
            if (power != default) phases[phase] = power;
        }

        return phases.ToImmutable();
    }

    public ImmutableSortedDictionary<Channel, double> LineToLine()
    {
        var volts = ImmutableSortedDictionary.CreateBuilder<Channel, double>();
        foreach (var channel in (Channel[])[Channel.V12, Channel.V23, Channel.V31])
        {
            if (Value(ReadingSheet.BetweenKey(channel)) is { } value) volts[channel] = value;
        }

        return volts.ToImmutable();
    }

    private double? Value(string key) => _values.TryGetValue(key, out var value) ? value : null;

    private void Read(ReadingField field, string text)
    {
        if (string.IsNullOrWhiteSpace(text)) return;
        if (!DecimalText.TryRead(text, out var value))
            Report(field.Key, $"Expected {DecimalText.Expected}; found “{text.Trim()}”.");
        else if (!field.IsSigned && value < 0)
            Report(field.Key, $"{field.Label} can't be below zero; found {text.Trim()}.");
        else if (Math.Abs(value) > field.Highest)
            Report(field.Key, string.Create(CultureInfo.InvariantCulture, $"{field.Label} can't be beyond {field.Highest:0.###}; found {text.Trim()}."));
        else
            _values[field.Key] = value;
    }
}
