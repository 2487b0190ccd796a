using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Client.Model;

/// <summary>A draft read as numbers.</summary>
/// <param name="Readings">The readings; null while there is no service, nothing to judge or a field that can't be read.</param>
/// <param name="Errors">What is wrong with each field that can't be read, by its key.</param>
/// <param name="Wanted">What is still missing before anything can be judged, in a sentence; empty when nothing is.</param>
public sealed record DraftReading(
    PanelReadings? Readings, ImmutableSortedDictionary<string, string> Errors, string Wanted)
{
    /// <summary>The key under which an unreadable nominal voltage is reported.</summary>
    public const string NominalKey = "nominal";

    /// <summary>Reads a draft.</summary>
    public static DraftReading Of(HookupDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        if (draft.Service is not { } service)
            return new(null, ImmutableSortedDictionary<string, string>.Empty, "Choose the service first.");

        var fields = new FieldValues(draft, service);
        var nominal = NominalOf(draft, service, fields);
        var readings = new PanelReadings
        {
            Service = service,
            IsServiceOpen = draft.IsServiceOpen,
            Nominal = nominal,
            FrequencyHertz = draft.FrequencyHertz,
            AngleSign = draft.AngleSign,
            CurrentAngleReference = draft.CurrentAngleReference,
            PowerSign = draft.PowerSign,
            IsReplayed = draft.IsReplayed,
            Channels = fields.Channels(),
            Phases = fields.Phases(),
            LineToLineVolts = fields.LineToLine(),
            NeutralToGround = fields.NeutralToGround(),
        };
        var errors = fields.Errors;
        if (!errors.IsEmpty) return new(null, errors, ErrorsIn(errors.Count));
        if (readings.Channels.IsEmpty && readings.Phases.IsEmpty) return new(null, errors, "Type what the instrument shows.");
        return new(readings, errors, "");
    }

    /// <summary>What the person said about the site, as the check takes it.</summary>
    public static CheckOptions OptionsOf(HookupDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        return new() { Load = draft.Load, MayExport = draft.MayExport, ToldRotation = draft.ToldRotation, Told = ToldIn(draft) };
    }

    private static ImmutableArray<ToldAnswer> ToldIn(HookupDraft draft)
    {
        var told = ImmutableArray.CreateBuilder<ToldAnswer>();
        foreach (var text in draft.Told)
        {
            if (ToldAnswer.TryParse(text, out var answer, out _)) told.Add(answer!);
        }

        return told.ToImmutable();
    }

    private static string ErrorsIn(int count) =>
        count == 1 ? "One field can't be read: it is marked." : $"{count} fields can't be read: they are marked.";

    private static NominalVoltage? NominalOf(HookupDraft draft, ServiceKind service, FieldValues fields)
    {
        if (string.IsNullOrWhiteSpace(draft.Nominal)) return null;
        if (NominalVoltage.TryParse(draft.Nominal.Replace(',', '.'), service, out var nominal)) return nominal;
        fields.Report(NominalKey, $"Expected one voltage, or two with a slash that belong to this service, such as "
            + $"{NominalChoices.Of(service)[0]}; found “{draft.Nominal.Trim()}”.");
        return null;
    }
}
