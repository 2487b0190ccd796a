namespace Leadwright.Core.Panels;

/// <summary>Rounds as a display does.</summary>
internal static class Rounding
{
    /// <summary>To a number of significant digits; 15 or more leaves the value as it is.</summary>
    public static double ToDigits(double value, int digits)
    {
        if (digits >= 15 || value == 0 || !double.IsFinite(value)) return value;
        var decimals = digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        if (decimals is >= 0 and <= 15) return Math.Round(value, decimals);
        if (decimals > 15) return value;
        var step = Math.Pow(10, -decimals);
        return Math.Round(value / step) * step;
    }

    /// <summary>To a number of decimals; 15 leaves the value as it is.</summary>
    public static double ToDecimals(double value, int decimals) => decimals >= 15 ? value : Math.Round(value, decimals);

    /// <summary>
    /// To a multiple of <paramref name="step"/>. Where the step is a part of one (0.1, 0.05), the quotient of two whole numbers is taken: it is the number that the
    /// written decimals stand for, where the product would be written as 229.70000000000002.
    /// </summary>
    public static double ToStep(double value, double step)
    {
        var parts = Math.Round(1 / step);
        return parts >= 1 && Math.Abs((parts * step) - 1) < 1e-12 ? Math.Round(value * parts) / parts : Math.Round(value / step) * step;
    }
}
