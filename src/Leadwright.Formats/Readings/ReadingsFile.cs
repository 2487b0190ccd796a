using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Formats.Readings;

/// <summary>A file of readings as read.</summary>
/// <param name="Readings">The readings.</param>
/// <param name="NominalText">The nominal voltage as written; null when not stated.</param>
/// <param name="Warnings">What was met and put up with: fields that are not known.</param>
public sealed record ReadingsFile(PanelReadings Readings, string? NominalText, ImmutableArray<ReadWarning> Warnings)
{
    /// <summary>What was found at the panel. Default none.</summary>
    public ImmutableArray<ToldAnswer> Told { get; init; } = [];

    /// <summary>The same readings for another service, which may give a single nominal value another meaning.</summary>
    /// <remarks>A nominal value that does not fit the service is left out: state it anew.</remarks>
    public ReadingsFile WithService(ServiceKind service) => this with
    {
        Readings = Readings with
        {
            Service = service,
            IsServiceOpen = false,
            Nominal = NominalVoltage.TryParse(NominalText, service, out var nominal) ? nominal : null,
        },
    };
}
