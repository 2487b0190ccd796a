using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity;

/// <summary>What a person says about the recording, beyond its values.</summary>
public sealed record GuardOptions
{
    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>Nominal voltages; null when not stated: the usual one nearest to the readings is then taken.</summary>
    public NominalVoltage? Nominal { get; init; }

    /// <summary>Nominal frequency, hertz; null when not stated.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>What is known of the load and the site.</summary>
    public CheckOptions Check { get; init; } = new();

    /// <summary>The hook-up as it was proved when the door was closed, with the probability that it is right; null when it was not.</summary>
    public Hookup? ProvedHookup { get; init; }
}
