using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Surveys;

/// <summary>What is known of the panel, in the words of the command line.</summary>
/// <remarks>Words are kept as they are: one that this version does not know stays in the survey, and reads as not known.</remarks>
public sealed record SurveyPanel
{
    /// <summary>The service, as <c>wye</c>; null when not known.</summary>
    public string? Service { get; init; }

    /// <summary>Nominal voltage as on the nameplate, as <c>230/400</c>; null when not known.</summary>
    public string? Nominal { get; init; }

    /// <summary>Nominal frequency, hertz; null when not known.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>The kind of load, as <c>motors</c>; null for ordinary.</summary>
    public string? Load { get; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }

    /// <summary>What a rotation indicator showed: <c>abc</c>, <c>acb</c>; null when not known.</summary>
    public string? Rotation { get; init; }

    /// <summary>The service; null when not known.</summary>
    public Service? KnownService() => Core.Hookups.Service.Named(Service);

    /// <summary>The nominal voltages; null when not known, or when they belong to another service.</summary>
    public NominalVoltage? KnownNominal() =>
        KnownService() is { } service && NominalVoltage.TryParse(Nominal, service.Kind, out var nominal) ? nominal : null;

    /// <summary>What is known of the site beyond the readings, for a check.</summary>
    public CheckOptions Known() => new()
    {
        Load = Enum.TryParse<LoadKind>(Load, ignoreCase: true, out var load) && Enum.IsDefined(load) ? load : LoadKind.Mixed,
        MayExport = MayExport,
        ToldRotation = Enum.TryParse<Rotation>(Rotation, ignoreCase: true, out var rotation) && Enum.IsDefined(rotation) ? rotation : Core.Circuits.Rotation.Unknown,
    };
}
