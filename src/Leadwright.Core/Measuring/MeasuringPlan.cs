using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;

namespace Leadwright.Core.Measuring;

/// <summary>What is measured in a recording, and how.</summary>
/// <remarks>Voltages stand in lanes 0 to 3, currents in lanes 4 to 7 (see <see cref="Signals.Lanes.Lane"/>). On three-wire services lanes 0 to 2 hold
/// V12, V23 and V31, else V1, V2 and V3.</remarks>
public sealed record MeasuringPlan
{
    /// <summary>Samples per second.</summary>
    public required double RateHertz { get; init; }

    /// <summary>Nominal frequency: 50 or 60.</summary>
    public required double NominalHertz { get; init; }

    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>Bits of the lanes that hold a channel, lane 0 in the lowest.</summary>
    public required int Lanes { get; init; }

    /// <summary>Declared (nominal) voltage of the voltage channels: line to line on three-wire services, else line to neutral; V.
    /// 0 when not known: then no events are looked for.</summary>
    public double DeclaredVolts { get; init; }

    /// <summary>Seconds from the last even two-hour tick of the clock to the recording's start; 0 when the clock is not known.</summary>
    public double SecondsAfterTick { get; init; }

    /// <summary>The lamp of the flickermeter. Default 230 V.</summary>
    public FlickerLamp Lamp { get; init; }

    /// <summary>Where events begin and end.</summary>
    public EventThresholds Events { get; init; } = new();

    /// <summary>Highest harmonic order. Default 50; lowered to what the rate carries.</summary>
    public int HighestOrder { get; init; } = 50;

    /// <summary>Mains-signalling frequency, hertz; 0 for none.</summary>
    public double SignallingHertz { get; init; }

    /// <summary>Bins taken for mains signalling: 1 or 4.</summary>
    public int SignallingLines { get; init; } = 4;

    /// <summary>Length of a row.</summary>
    public MeasuringInterval Interval { get; init; } = MeasuringInterval.TenMinutes;

    /// <summary>True to work on two threads. The values are the same to the last bit. Default false: the browser has one.</summary>
    public bool IsParallel { get; init; }

    /// <summary>True for the services whose voltages are line to line.</summary>
    public bool IsThreeWire => Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;

    /// <summary>Phases that carry power: one, two or three.</summary>
    public int PhaseCount => Service switch { ServiceKind.Single => 1, ServiceKind.Split or ServiceKind.Network => 2, _ => 3 };

    /// <summary>Declared voltage of a voltage lane, V: on a four-wire delta the high leg has √3 times that of the others.</summary>
    public double DeclaredOf(int lane) => Service == ServiceKind.HighLeg && lane == 1 ? Math.Sqrt(3) * DeclaredVolts : DeclaredVolts;

    /// <summary>True when a lane holds a channel.</summary>
    public bool Has(int lane) => (Lanes & (1 << lane)) != 0;
}
