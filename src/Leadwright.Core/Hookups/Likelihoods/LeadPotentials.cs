using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>What each lead's potential is under one arrangement of the leads, in units of nominal line to neutral.</summary>
/// <remarks>
/// The inputs of a four-wire recorder hang on its neutral lead: an open line lead reads stray pick-up. Without a neutral lead
/// (three-wire recorders, or a neutral lead in the air) the inputs form a star whose point takes the mean of the connected
/// leads, and an open line lead drifts to that mean.
/// </remarks>
internal sealed class LeadPotentials
{
    private readonly Phasor[] _potential = new Phasor[4];
    private readonly bool[] _isOpen = new bool[4];
    private readonly int[] _line = [-1, -1, -1, -1];
    private readonly bool _floatsToMean;
    private readonly bool _hasStar;

    private LeadPotentials(LeadMap map, Service service, Phasor[] conductors)
    {
        var hasNeutralLead = map[Lead.VN] >= 0;
        _floatsToMean = service.IsThreeWire || (hasNeutralLead && map[Lead.VN] == Place.Air);
        var sum = Phasor.Zero;
        var connected = 0;
        for (var lead = 0; lead < 3; lead++)
        {
            if (map.On[lead] < 0 || map.On[lead] == Place.Air) continue;
            sum += conductors[map.On[lead]];
            connected++;
        }

        _hasStar = connected > 1 || service.IsThreePhase || map[Lead.V2] >= 0;
        Star = connected > 0 ? sum / connected : Phasor.Zero;
        for (var lead = 0; lead < 4; lead++)
        {
            var place = map.On[lead];
            if (place < 0) continue;
            _isOpen[lead] = place == Place.Air;
            if (!_isOpen[lead])
            {
                _potential[lead] = conductors[place];
                _line[lead] = Place.IsLine(place) ? place : -1;
            }
            else
            {
                _potential[lead] = _floatsToMean || lead == (int)Lead.VN ? Star : NeutralPotential(map, conductors);
            }
        }
    }

    /// <summary>Mean of the connected line leads.</summary>
    public Phasor Star { get; }

    public static LeadPotentials Of(LeadMap map, Service service, Phasor[] conductors) => new(map, service, conductors);

    /// <summary>The potentials of conductors A, B, C, N for a service and rotation.</summary>
    public static Phasor[] Conductors(Service service, Rotation rotation)
    {
        if (!service.IsThreePhase) return [new(1, 0), new(-1, 0), Phasor.Zero, Phasor.Zero];
        var lag = rotation == Rotation.Acb ? 120 : -120;
        return [new(1, 0), Phasor.FromDegrees(1, lag), Phasor.FromDegrees(1, -lag), Phasor.Zero];
    }

    /// <summary>What a pair of inputs should read.</summary>
    /// <param name="plus">Number of the lead at the positive input.</param>
    /// <param name="minus">Number of the lead at the other input; −1 for the star point.</param>
    public ChannelPrediction Between(int plus, int minus)
    {
        var value = _potential[plus] - (minus < 0 ? Star : _potential[minus]);
        var plusOpen = _isOpen[plus];
        var minusOpen = minus >= 0 && _isOpen[minus];

        // One input alone makes no star: with either of its leads in the air it reads stray pick-up.
        if (!_hasStar && (plusOpen || minusOpen)) return new(Phasor.Zero, PredictionKind.Lone, 0);
        if (plusOpen || (minusOpen && minus != (int)Lead.VN))
            return new(value, _floatsToMean ? PredictionKind.Floating : PredictionKind.Stray, 0);
        var lines = minus >= 0 && _line[plus] == _line[minus]
            ? 0
            : (_line[plus] >= 0 ? 1 : 0) + (minus >= 0 ? (_line[minus] >= 0 ? 1 : 0) : 0) + (minus < 0 || minusOpen ? 0.34 : 0);
        return new(value, PredictionKind.Sure, lines);
    }

    private static Phasor NeutralPotential(LeadMap map, Phasor[] conductors) =>
        map[Lead.VN] is >= 0 and not Place.Air ? conductors[map[Lead.VN]] : Phasor.Zero;
}

/// <summary>How sure a predicted voltage is.</summary>
internal enum PredictionKind
{
    /// <summary>Set by the conductors.</summary>
    Sure,

    /// <summary>An open input with stray pick-up.</summary>
    Stray,

    /// <summary>The only input, with one of its two leads open.</summary>
    Lone,

    /// <summary>An open input that drifts to the mean of its neighbours.</summary>
    Floating,
}

/// <summary>A predicted voltage.</summary>
/// <param name="Value">Its phasor, in units of nominal line to neutral.</param>
/// <param name="Kind">How sure it is.</param>
/// <param name="Lines">How many independent line voltages go into it: their unbalance widens it.</param>
internal readonly record struct ChannelPrediction(Phasor Value, PredictionKind Kind, double Lines);
