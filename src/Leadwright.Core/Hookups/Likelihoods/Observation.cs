namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>A voltage channel as read, in one convention.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Plus">Number of the lead at its positive input.</param>
/// <param name="Minus">Number of the lead at its other input; −1 for the star point of the inputs.</param>
/// <param name="Volts">Size, volts rms.</param>
/// <param name="AngleRadians">Angle, lead positive; NaN when it was not read.</param>
/// <param name="Relative">One standard deviation of the reading itself, as a share of the reference voltage.</param>
internal sealed record VoltageObservation(
    Channel Channel, int Plus, int Minus, double Volts, double AngleRadians, double Relative);

/// <summary>One possible angle of a current.</summary>
/// <param name="AngleRadians">The angle: from the common reference, or, for <see cref="CurrentObservation.FromVoltage"/>,
/// ahead of the voltage of the clamp's own channel.</param>
/// <param name="Weight">Its probability; a clamp's weights add up to one.</param>
internal readonly record struct AngleCandidate(double AngleRadians, double Weight);

/// <summary>A clamp as read, in one convention.</summary>
/// <param name="Clamp">The clamp.</param>
/// <param name="Amperes">Size, amperes rms; NaN when it is not known.</param>
/// <param name="FromVoltage">True when the candidates' angles are ahead of the own voltage channel rather than from the
/// common reference.</param>
/// <param name="Candidates">Possible angles; empty when nothing is known of it.</param>
/// <param name="AngleDeviation">One standard deviation of the angle from clamp error and noise, radians.</param>
internal sealed record CurrentObservation(
    Clamp Clamp, double Amperes, bool FromVoltage, AngleCandidate[] Candidates, double AngleDeviation)
{
    /// <summary>True when nothing was read of the clamp.</summary>
    public bool IsUnread => double.IsNaN(Amperes) && Candidates.Length == 0;
}

/// <summary>A reading between two leads besides the channels.</summary>
/// <param name="First">Number of the first lead.</param>
/// <param name="Second">Number of the second lead.</param>
/// <param name="Volts">Volts rms.</param>
internal sealed record LineToLineObservation(int First, int Second, double Volts);

/// <summary>All that was read, in one convention.</summary>
internal sealed record Observation(
    Service Service,
    VoltageObservation[] Voltages,
    LineToLineObservation[] LineToLine,
    CurrentObservation[] Currents,
    Lead[] Leads,
    bool IsReplayed,
    double ReferenceVolts,
    bool NominalKnown,
    double? VoltageSumFraction,
    bool IsMeasured)
{
    /// <summary>The voltage from the neutral lead to a ground lead; null when it was not read.</summary>
    public GroundReading? NeutralToGround { get; init; }

    /// <summary>True when no nominal voltage was stated and the usual ones of the service are expected.</summary>
    public bool ExpectsStandardVoltages { get; init; }

    /// <summary>True when loads were switched while the readings were taken: then the neutral lead shows in the voltages.</summary>
    public bool HasSteps { get; init; }

    /// <summary>True when the only voltage of two leads reads nothing: with one of them in the air, or both on one conductor.</summary>
    public bool IsLoneSilent => Leads.Length == 2 && Voltages is [{ } only] && only.Volts < Nothing * ReferenceVolts;

    private const double Nothing = 0.005;

    /// <summary>True on a split service where only the first leg's voltage was read: it then stands for both.</summary>
    public bool OnlyFirstLeg =>
        Service.Kind == Circuits.ServiceKind.Split && LineToLine.Length == 0 && !Voltages.Any(voltage => voltage.Plus == 1 || voltage.Minus == 1);
}
