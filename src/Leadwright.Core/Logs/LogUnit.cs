namespace Leadwright.Core.Logs;

/// <summary>The base units of logged quantities.</summary>
public static class LogUnit
{
    /// <summary>The symbol of a quantity's base unit; empty for a pure number.</summary>
    /// <param name="quantity">The quantity.</param>
    /// <returns>V, A, W, var, VA, Hz, Wh, varh, VAh, deg, % or nothing.</returns>
    public static string Of(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => "V",
        LogQuantity.Current => "A",
        LogQuantity.ActivePower => "W",
        LogQuantity.ReactivePower => "var",
        LogQuantity.ApparentPower => "VA",
        LogQuantity.Frequency => "Hz",
        LogQuantity.ActiveEnergy => "Wh",
        LogQuantity.ReactiveEnergy => "varh",
        LogQuantity.ApparentEnergy => "VAh",
        LogQuantity.VoltageAngle or LogQuantity.CurrentAngle => "deg",
        LogQuantity.VoltageDistortion or LogQuantity.CurrentDistortion or LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic
            or LogQuantity.VoltageUnbalance or LogQuantity.CurrentUnbalance or LogQuantity.ZeroSequenceUnbalance => "%",
        _ => "",
    };
}
