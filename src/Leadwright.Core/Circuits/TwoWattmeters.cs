namespace Leadwright.Core.Circuits;

/// <summary>What the readings of two wattmeters say of a three-wire load.</summary>
/// <param name="Watts">Active power, the sum of the readings; right for any three-wire load.</param>
/// <param name="Vars">Reactive power, positive for a lagging load; right for a balanced sinusoidal load only.</param>
/// <remarks>
/// On an A-B-C supply with the common line B: the meter with current C and voltage C-B reads W1 = V·I·cos(30° − θ), the one
/// with current A and voltage A-B reads W2 = V·I·cos(30° + θ), for a balanced load that lags by θ. So P = W1 + W2,
/// Q = √3·(W1 − W2), tan θ = Q/P. W2 reads zero at power factor 0.5 and negative below. Source: any textbook of
/// alternating currents; the placing follows from the phasors.
/// </remarks>
public readonly record struct TwoWattmeters(double Watts, double Vars)
{
    private static readonly double s_rootThree = Math.Sqrt(3);

    /// <summary>Apparent power, volt-amperes; zero or more. Right for a balanced load only.</summary>
    public double VoltAmperes => Math.Sqrt((Watts * Watts) + (Vars * Vars));

    /// <summary>How far the current lags its voltage, degrees, above −180 up to 180: positive when it lags. 0 when both
    /// meters read zero.</summary>
    public double LagDegrees => Math.Atan2(Vars, Watts) * (180 / Math.PI);

    /// <summary>Power factor, −1 to 1; NaN when both meters read zero.</summary>
    public double PowerFactor => Watts / VoltAmperes;

    /// <summary>Adds up two readings.</summary>
    /// <param name="higherOnLag">W1, the meter that reads higher on a lagging load; watts, either sign.</param>
    /// <param name="lowerOnLag">W2, the other meter; watts, either sign.</param>
    public static TwoWattmeters FromReadings(double higherOnLag, double lowerOnLag) =>
        new(higherOnLag + lowerOnLag, s_rootThree * (higherOnLag - lowerOnLag));

    /// <summary>What the two meters read on a balanced load.</summary>
    /// <param name="lineToLineVolts">Volts rms between two lines; zero or more.</param>
    /// <param name="lineAmperes">Amperes rms in each line; zero or more.</param>
    /// <param name="lagDegrees">How far the current lags its phase voltage, degrees; negative when it leads.</param>
    public static WattmeterPair ReadingsOf(double lineToLineVolts, double lineAmperes, double lagDegrees)
    {
        var voltAmperes = lineToLineVolts * lineAmperes;
        return new WattmeterPair(
            voltAmperes * Math.Cos((30 - lagDegrees) * (Math.PI / 180)),
            voltAmperes * Math.Cos((30 + lagDegrees) * (Math.PI / 180)));
    }
}
