using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>Turns readings from elsewhere into a draft, so that every figure can be seen and changed.</summary>
public static class ReadingsDraft
{
    /// <summary>The draft of some readings. Read back, it gives the same figures.</summary>
    /// <param name="readings">The readings.</param>
    /// <param name="options">What is known of the site.</param>
    public static HookupDraft Of(PanelReadings readings, CheckOptions options)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(options);
        var texts = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (var (channel, reading) in readings.Channels)
        {
            Put(texts, ReadingSheet.RmsKey(channel), reading.Rms);
            Put(texts, ReadingSheet.AngleKey(channel), reading.AngleDegrees);
        }

        Put(texts, ReadingSheet.GroundKey("rms"), readings.NeutralToGround?.Rms);
        Put(texts, ReadingSheet.GroundKey("angle"), readings.NeutralToGround?.AngleDegrees);
        foreach (var (phase, power) in readings.Phases)
        {
            Put(texts, ReadingSheet.PowerKey(phase, "watts"), power.Watts);
            Put(texts, ReadingSheet.PowerKey(phase, "vars"), power.Vars);
            Put(texts, ReadingSheet.PowerKey(phase, "va"), power.VoltAmperes);
            Put(texts, ReadingSheet.PowerKey(phase, "pf"), power.PowerFactor);
        }

        foreach (var (channel, volts) in readings.LineToLineVolts) Put(texts, ReadingSheet.BetweenKey(channel), volts);
        return new HookupDraft
        {
            // Which rows are asked for hangs on the service, so where a file leaves it open the person picks one.
            Service = readings.IsServiceOpen ? null : readings.Service,
            IsServiceOpen = readings.IsServiceOpen,
            Nominal = readings.Nominal is { } nominal ? NominalText(nominal, readings.Service) : "",
            FrequencyHertz = readings.FrequencyHertz,
            Load = options.Load,
            MayExport = options.MayExport,
            ToldRotation = options.ToldRotation,
            AngleSign = readings.AngleSign,
            CurrentAngleReference = readings.CurrentAngleReference,
            PowerSign = readings.PowerSign,
            IsReplayed = readings.IsReplayed,
            Shows = ShownIn(readings),
            Texts = texts.ToImmutable(),
            Told = [.. options.Told.Select(told => told.ToString())],
        };
    }

    private static void Put(ImmutableSortedDictionary<string, string>.Builder texts, string key, double? value)
    {
        if (value is { } number) texts[key] = DecimalText.Of(number);
    }

    private static string NominalText(NominalVoltage nominal, ServiceKind service) => service switch
    {
        ServiceKind.Single => DecimalText.Of(nominal.LineToNeutralVolts),
        ServiceKind.Delta or ServiceKind.DeltaTwoClamp => DecimalText.Of(Math.Round(nominal.LineToLineVolts, 3)),
        _ => $"{DecimalText.Of(Math.Round(nominal.LineToNeutralVolts, 3))}/{DecimalText.Of(Math.Round(nominal.LineToLineVolts, 3))}",
    };

    private static MeterShows ShownIn(PanelReadings readings)
    {
        var shows = MeterShows.None;
        if (readings.Channels.Values.Any(reading => reading.AngleDegrees is not null)) shows |= MeterShows.Angles;
        if (readings.Phases.Values.Any(power => power.Watts is not null || power.Vars is not null)) shows |= MeterShows.Powers;
        if (readings.Phases.Values.Any(power => power.VoltAmperes is not null || power.PowerFactor is not null))
            shows |= MeterShows.PowerFactors;
        if (!readings.LineToLineVolts.IsEmpty) shows |= MeterShows.BetweenLeads;
        if (readings.Channels.ContainsKey(Channel.IN)) shows |= MeterShows.NeutralClamp;
        if (readings.NeutralToGround is not null) shows |= MeterShows.GroundLead;
        return shows;
    }
}
