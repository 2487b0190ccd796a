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
    private readonly bool _hasConnected;
    private readonly int _corner = -1;

    private LeadPotentials(LeadMap map, Service service, Phasor[] conductors)
    {
        var hasNeutralLead = map[Lead.VN] >= 0;
        if (map.CornerOf(service) is { } earthed) _corner = (int)earthed;
        _floatsToMean = (service.IsThreeWire && _corner < 0) || (hasNeutralLead && map[Lead.VN] == Place.Air);
        var sum = Phasor.Zero;
        var connected = 0;
        for (var lead = 0; lead < 3; lead++)
        {
            if (map.On[lead] < 0 || map.On[lead] == Place.Air) continue;
            sum += conductors[map.On[lead]];
            connected++;
        }

        _hasConnected = connected > 0;
        _hasStar = connected > 1 || service.IsThreePhase || map[Lead.V2] >= 0;
        Star = _corner >= 0 ? conductors[_corner] : connected > 0 ? sum / connected : Phasor.Zero;
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
                _potential[lead] = _floatsToMean || lead == (int)Lead.VN ? Star : _corner >= 0 ? Star : NeutralPotential(map, conductors);
            }
        }
    }

    /// <summary>Mean of the connected line leads; the earthed corner where they were read to ground.</summary>
    public Phasor Star { get; }

    public static LeadPotentials Of(LeadMap map, Service service, Phasor[] conductors) => new(map, service, conductors);

    /// <summary>The potentials of conductors A, B, C, N that an arrangement supposes, to neutral, in units of nominal line to neutral;
    /// the star of the lines has its A at angle zero.</summary>
    public static Phasor[] Conductors(Service service, LeadMap map)
    {
        if (!service.HasRotation) return [new(1, 0), new(-1, 0), Phasor.Zero, Phasor.Zero];
        var lag = map.Rotation == Rotation.Acb ? 120 : -120;
        if (service.Kind == ServiceKind.Network) return [new(1, 0), Phasor.FromDegrees(1, lag), Phasor.Zero, Phasor.Zero];
        if (map.HighLegOf(service) is not { } highLeg)
            return [new(1, 0), Phasor.FromDegrees(1, lag), Phasor.FromDegrees(1, -lag), Phasor.Zero];

        // The neutral is the middle between the two other lines: the centre of the star is off it by half the high leg's star voltage.
        var size = 2 / Math.Sqrt(3);
        Phasor[] star = [new(size, 0), Phasor.FromDegrees(size, lag), Phasor.FromDegrees(size, -lag)];
        var centre = 0.5 * star[(int)highLeg];
        return [star[0] + centre, star[1] + centre, star[2] + centre, Phasor.Zero];
    }

    /// <summary>The angles that displacement is weighed against, radians, in the frame of <see cref="Conductors"/>: those of the lines'
    /// star.</summary>
    public static double[] LineAngles(Service service, LeadMap map, Phasor[] conductors)
    {
        if (service.Kind != ServiceKind.HighLeg) return [.. conductors.Take(3).Select(conductor => conductor.AngleRadians)];
        var lag = map.Rotation == Rotation.Acb ? 2 * Math.PI / 3 : -2 * Math.PI / 3;
        return [0, lag, -lag];
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
        {
            if (_floatsToMean) return new(value, PredictionKind.Floating, 0);
            return new(value, PredictionKind.Stray, 0) { Middle = minus >= 0 && _corner < 0 && _hasConnected ? Star - _potential[minus] : Phasor.Zero };
        }

        if (minus < 0 && _corner >= 0) return new(value, PredictionKind.Sure, _line[plus] == _corner ? 0 : 2);
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
internal readonly record struct ChannelPrediction(Phasor Value, PredictionKind Kind, double Lines)
{
    /// <summary>Where an open input that reads stray pick-up would be if it hung between the leads that are connected; zero where nothing is to hang between.</summary>
    public Phasor Middle { get; init; }
}
