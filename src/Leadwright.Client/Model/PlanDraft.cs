using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;

namespace Leadwright.Client.Model;

/// <summary>A plan in the making: what was chosen and typed.</summary>
public sealed record PlanDraft
{
    /// <summary>The service; null while none was chosen.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>The nominal voltage as typed.</summary>
    public string Nominal { get; init; } = "";

    /// <summary>Frequency, hertz.</summary>
    public double FrequencyHertz { get; init; } = 50;

    /// <summary>What is to be learnt.</summary>
    public ImmutableSortedSet<SurveyPurpose> Purposes { get; init; } = [SurveyPurpose.Load];

    /// <summary>The kind of load.</summary>
    public LoadKind Load { get; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }

    /// <summary>The site's name.</summary>
    public string Site { get; init; } = "";

    /// <summary>The conductor colours.</summary>
    public string ColourSchemeId { get; init; } = "iec-60445";

    /// <summary>Figures as typed, by <see cref="PlanField.Key"/>.</summary>
    public ImmutableSortedDictionary<string, string> Texts { get; init; } = ImmutableSortedDictionary<string, string>.Empty.WithComparers(StringComparer.Ordinal);

    /// <summary>What was typed for a figure.</summary>
    public string TextOf(PlanField field) => Texts.GetValueOrDefault(field.Key, "");

    /// <summary>The nominal voltages; null while there are none, or what was typed is none of the service.</summary>
    public NominalVoltage? NominalVolts =>
        Service is { } service && NominalVoltage.TryParse(Nominal.Replace(',', '.'), service, out var nominal) ? nominal : null;

    /// <summary>True when every figure that was typed can be used.</summary>
    public bool IsSound => PlanField.All.All(figure => figure.TryRead(TextOf(figure), out _));

    /// <summary>The plan; null while the service or its voltage is missing, or a figure can't be used.</summary>
    public SurveyPlan? ToPlan()
    {
        if (Service is not { } service || NominalVolts is not { } nominal || Purposes.IsEmpty || !IsSound) return null;
        double? Figure(string key) => PlanField.All.First(field => field.Key == key) is var field && field.TryRead(TextOf(field), out var value) ? value : null;
        var knowsRecorder = PlanField.Recorder.Any(field => !string.IsNullOrWhiteSpace(TextOf(field)));
        return new SurveyPlan
        {
            Service = service,
            Nominal = nominal,
            FrequencyHertz = FrequencyHertz,
            Purposes = [.. Purposes],
            Load = Load,
            MayExport = MayExport,
            ExpectedWatts = 1000 * Figure("kw"),
            ExpectedAmperes = Figure("amps"),
            PeakFactor = Figure("peak")!.Value,
            Clamp = Figure("range") is { } range
                ? new ClampFigures(range, Figure("reading-error")!.Value, Figure("range-error")!.Value, Figure("angle-error")!.Value) : null,
            Recorder = knowsRecorder ? new RecorderFigures
            {
                MemoryBytes = 1e6 * Figure("memory"),
                Quantities = Math.Max(1, (int)Math.Round(Figure("quantities")!.Value)),
                Statistics = Math.Max(1, (int)Math.Round(Figure("statistics")!.Value)),
                BytesPerValue = Figure("bytes")!.Value,
                BatteryHours = Figure("battery"),
                OutageHours = Figure("outage")!.Value,
            } : null,
            IntervalSeconds = Figure("interval"),
            Days = Figure("days"),
        };
    }

    /// <summary>The draft as text, one field a line.</summary>
    public string ToKept() => string.Join('\n', (string[])
    [
        Service?.ToString() ?? "",
        OneLine(Nominal),
        FrequencyHertz.ToString("R", CultureInfo.InvariantCulture),
        string.Join(' ', Purposes),
        Load.ToString(),
        MayExport ? "export" : "",
        OneLine(Site),
        ColourSchemeId,
        .. Texts.Select(text => $"{text.Key}={OneLine(text.Value)}"),
    ]);

    /// <summary>Reads <see cref="ToKept"/> back; null when it is none.</summary>
    public static PlanDraft? OfKept(string? text)
    {
        var lines = (text ?? "").Split('\n');
        if (lines.Length < 8 || !double.TryParse(lines[2], CultureInfo.InvariantCulture, out var hertz)) return null;
        return new PlanDraft
        {
            Service = Enum.TryParse<ServiceKind>(lines[0], out var service) ? service : null,
            Nominal = lines[1],
            FrequencyHertz = hertz,
            Purposes = [.. lines[3].Split(' ').Where(word => Enum.TryParse<SurveyPurpose>(word, out _)).Select(Enum.Parse<SurveyPurpose>)],
            Load = Enum.TryParse<LoadKind>(lines[4], out var load) ? load : LoadKind.Mixed,
            MayExport = lines[5] == "export",
            Site = lines[6],
            ColourSchemeId = lines[7],
            Texts = lines[8..].Select(line => line.Split('=', 2)).Where(pair => pair.Length == 2 && PlanField.All.Any(field => field.Key == pair[0]))
                .DistinctBy(pair => pair[0]).ToImmutableSortedDictionary(pair => pair[0], pair => pair[1], StringComparer.Ordinal),
        };
    }

    private static string OneLine(string text) => text.ReplaceLineEndings(" ");
}
