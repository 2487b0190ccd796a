using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>A plan that is to be kept in a survey.</summary>
/// <param name="Service">The service, as <c>wye</c>.</param>
/// <param name="Nominal">Nominal voltage, as <c>230/400</c>.</param>
/// <param name="FrequencyHertz">Nominal frequency, hertz.</param>
public sealed record PlanKeep(string Service, string Nominal, double FrequencyHertz)
{
    /// <summary>Its own number; a survey takes each once. Empty for none.</summary>
    public string Id { get => field ?? ""; init; }

    /// <summary>When it was made, by the clock of the device that it was made on; null when not known.</summary>
    public DateTimeOffset? Made { get; init; }

    /// <summary>The kind of load, as <c>motors</c>; empty for ordinary.</summary>
    public string Load { get => field ?? ""; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }

    /// <summary>What is to be learnt, in the words of the command line.</summary>
    public ImmutableArray<string> Learn { get => field.IsDefault ? [] : field; init; }

    /// <summary>The plan in words: clamps, interval, length.</summary>
    public string Text { get => field ?? ""; init; }

    /// <summary>True to put it over a plan that was changed since this one was made.</summary>
    public bool IsOver { get; init; }
}
