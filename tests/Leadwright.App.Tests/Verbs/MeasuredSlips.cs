using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.Verbs;

/// <summary>A slip of the hand, made on phasors that were measured on a sound hook-up.</summary>
/// <param name="Name">What it is.</param>
/// <param name="From">For channels V1 V2 V3 I1 I2 I3: the channel whose phasor each then shows.</param>
/// <param name="Reversed">The clamps that are turned round.</param>
internal sealed record MeasuredSlip(string Name, ImmutableArray<int> From, ImmutableArray<int> Reversed)
{
    private static readonly Channel[] s_channels = [Channel.V1, Channel.V2, Channel.V3, Channel.I1, Channel.I2, Channel.I3];

    /// <summary>True when one clamp is reversed and nothing else.</summary>
    public bool IsOneReversed => Reversed.Length == 1;

    /// <summary>How leads and clamps then are.</summary>
    public Hookup Hookup => new(
        Enumerable.Range(0, 3).ToImmutableSortedDictionary(lead => (Lead)lead, lead => (Conductor?)From[lead]).Add(Lead.VN, Conductor.N),
        Enumerable.Range(0, 3).ToImmutableSortedDictionary(
            clamp => (Clamp)clamp, clamp => new ClampPlace((Conductor)(From[clamp + 3] - 3), Reversed.Contains(clamp), 1)));

    /// <summary>True when an answer is this slip, or reads the same.</summary>
    public bool IsNamedBy(PanelReadings wrong, Answer answer) =>
        ReadsAlike.Check(wrong, Hookup, Rotation.Abc, answer.Hookup, answer.Rotation);

    /// <summary>What the recorder would have shown.</summary>
    public PanelReadings On(PanelReadings sound)
    {
        var first = sound.Channels[s_channels[From[0]]].AngleDegrees!.Value;
        return sound with
        {
            Channels = Enumerable.Range(0, 6).ToImmutableSortedDictionary(index => s_channels[index], index =>
            {
                var reading = sound.Channels[s_channels[From[index]]];
                var turn = index >= 3 && Reversed.Contains(index - 3) ? 180 : 0;
                return reading with { AngleDegrees = Angle.WrapDegrees(reading.AngleDegrees!.Value - first + turn) };
            }),
            Harmonics = Enumerable.Range(0, 6).ToImmutableSortedDictionary(index => s_channels[index], index =>
            {
                var reading = sound.Harmonics[s_channels[From[index]]];
                var turn = index >= 3 && Reversed.Contains(index - 3) ? 180 : 0;
                return reading with
                {
                    Phasors = [.. reading.Phasors.Select((phasor, order) => phasor.TurnedByDegrees(turn - ((order + 1) * first)))],
                };
            }),
            Steps = null,
        };
    }
}

/// <summary>Every single slip of leads and clamps among themselves.</summary>
internal static class MeasuredSlips
{
    public static ImmutableArray<MeasuredSlip> All { get; } =
    [
        new("clamp 1 reversed", [0, 1, 2, 3, 4, 5], [0]),
        new("clamp 2 reversed", [0, 1, 2, 3, 4, 5], [1]),
        new("clamp 3 reversed", [0, 1, 2, 3, 4, 5], [2]),
        new("all clamps reversed", [0, 1, 2, 3, 4, 5], [0, 1, 2]),
        new("clamps 1 and 2 exchanged", [0, 1, 2, 4, 3, 5], []),
        new("clamps 2 and 3 exchanged", [0, 1, 2, 3, 5, 4], []),
        new("clamps 1 and 3 exchanged", [0, 1, 2, 5, 4, 3], []),
        new("clamps moved forward", [0, 1, 2, 4, 5, 3], []),
        new("clamps moved back", [0, 1, 2, 5, 3, 4], []),
        new("leads 1 and 2 exchanged", [1, 0, 2, 3, 4, 5], []),
        new("leads 2 and 3 exchanged", [0, 2, 1, 3, 4, 5], []),
        new("leads 1 and 3 exchanged", [2, 1, 0, 3, 4, 5], []),
        new("leads moved forward", [1, 2, 0, 3, 4, 5], []),
        new("leads moved back", [2, 0, 1, 3, 4, 5], []),
    ];
}
