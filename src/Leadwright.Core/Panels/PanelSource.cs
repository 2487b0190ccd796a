using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>The supply that feeds a virtual panel: an ideal source behind an impedance in every conductor.</summary>
/// <remarks>The angle of phase A's nominal source voltage is zero.</remarks>
public sealed record PanelSource
{
    /// <summary>Nominal voltages; the source stands at these apart from the deviations below.</summary>
    public required NominalVoltage Nominal { get; init; }

    /// <summary>The frequency that the supply really has, hertz; above zero.</summary>
    public required double FrequencyHertz { get; init; }

    /// <summary>The nominal frequency, hertz; default: <see cref="FrequencyHertz"/> to the nearest 10.</summary>
    public double NominalFrequencyHertz
    {
        get => field > 0 ? field : Math.Round(FrequencyHertz / 10) * 10;
        init;
    }

    /// <summary>The order of the phases. Default A-B-C; has no meaning on split and two-wire services. On a network
    /// service A-C-B means that line B leads.</summary>
    public Rotation Rotation { get; init; } = Rotation.Abc;

    /// <summary>The high leg of a high-leg service. Default B; has no meaning on others.</summary>
    public Conductor HighLeg { get; init; } = Conductor.B;

    /// <summary>The line that is earthed, on a three-wire service with one corner earthed. Default none.</summary>
    public Conductor? EarthedCorner { get; init; }

    /// <summary>Impedance in each line between source and panel. Default none.</summary>
    public Impedance Line { get; init; }

    /// <summary>Impedance in the neutral between source and panel. Default none.</summary>
    public Impedance Neutral { get; init; }

    /// <summary>Deviation of phase A. Default none.</summary>
    public PhaseDeviation DeviationA { get; init; }

    /// <summary>Deviation of phase B. Default none.</summary>
    public PhaseDeviation DeviationB { get; init; }

    /// <summary>Deviation of phase C. Default none.</summary>
    public PhaseDeviation DeviationC { get; init; }

    /// <summary>Distortion of the source, the same on each phase when referred to its own fundamental. Default none.</summary>
    public Spectrum Background { get; init; } = Spectrum.None;

    /// <summary>Voltage from ground to the neutral of the source, volts rms, at the fundamental. Default none.</summary>
    public Phasor GroundOffset { get; init; }

    /// <summary>How the supply moves while samples are made. Default: it stands still.</summary>
    public SupplyHistory History { get; init; } = SupplyHistory.Still;

    /// <summary>Nominal volts from a line to the point that <see cref="IdealAngleDegrees"/> is measured from.</summary>
    internal double LineToCentreVolts(ServiceKind service) =>
        service == ServiceKind.HighLeg ? 2 / Math.Sqrt(3) * Nominal.LineToNeutralVolts : Nominal.LineToNeutralVolts;

    /// <summary>The ideal angle of a line's voltage: 0 for A, 120 degrees behind or ahead of it for B and C on three-phase
    /// services, to the centre of the lines on a high-leg one; 180 degrees for B on a split service.</summary>
    internal double IdealAngleDegrees(ServiceKind service, Conductor line)
    {
        var step = Rotation == Rotation.Acb ? 120 : -120;
        return line switch
        {
            Conductor.B => service == ServiceKind.Split ? 180 : step,
            Conductor.C => -step,
            _ => 0,
        };
    }

    /// <summary>The deviation of a line.</summary>
    internal PhaseDeviation DeviationOf(Conductor line) => line switch
    {
        Conductor.B => DeviationB,
        Conductor.C => DeviationC,
        _ => DeviationA,
    };
}
