using System.Globalization;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Mending;

/// <summary>To which place an energy is written: as far as its interval supports, and no further. Tables and JSON hold every digit.</summary>
/// <remarks>Two significant digits of the half-width, the value to the same place: 355 kWh, give or take 29 kWh. Without an interval, or with one
/// that is narrower than that, five significant digits of the value, at most two behind the mark. The default writes whole kilowatt-hours.</remarks>
/// <param name="Decimals">Digits behind the decimal mark; below zero for tens, hundreds and so on.</param>
public readonly record struct EnergyPlaces(int Decimals)
{
    private const int MostDigits = 5;
    private const int MostDecimals = 2;

    /// <summary>For what was counted, and is known whatever the interval of the true energy: never coarser than a kilowatt-hour.</summary>
    public EnergyPlaces OfCounted => new(Math.Max(Decimals, 0));

    /// <summary>How <see cref="Rounded"/> is written, in a .NET format.</summary>
    public string Format => Decimals <= 0 ? "0" : "0." + new string('0', Decimals);

    /// <summary>The place of a value with an interval.</summary>
    /// <param name="kilowattHours">The value, or the largest of several that are written alike; NaN for none.</param>
    /// <param name="halfWidthKilowattHours">Half the width of its interval, or its standard uncertainty; NaN or 0 where there is none.</param>
    public static EnergyPlaces Of(double kilowattHours, double halfWidthKilowattHours = double.NaN)
    {
        var ofValue = double.IsFinite(kilowattHours) && kilowattHours != 0 ? MostDigits - Before(Math.Abs(kilowattHours)) : MostDecimals;
        if (!double.IsFinite(halfWidthKilowattHours) || !(halfWidthKilowattHours > 0)) return new(Math.Clamp(ofValue, 0, MostDecimals));
        // 0.0996 is 0.10, not 0.100.
        var written = double.Parse(halfWidthKilowattHours.ToString("E1", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var ofWidth = 2 - Before(written);
        return new(Math.Min(ofWidth, Math.Max(ofValue, MostDecimals)));
    }

    /// <summary>The value to the place.</summary>
    /// <param name="kilowattHours">The value.</param>
    public double Rounded(double kilowattHours)
    {
        if (!double.IsFinite(kilowattHours)) return kilowattHours;
        var unit = Math.Pow(10, Math.Abs(Decimals));
        var rounded = Decimals >= 0 ? Math.Round(kilowattHours * unit, MidpointRounding.AwayFromZero) / unit : Math.Round(kilowattHours / unit, MidpointRounding.AwayFromZero) * unit;
        // What rounds to nothing has no sign.
        return rounded == 0 ? 0 : rounded;
    }

    /// <summary>The value to the place, as text in the words in force; a dash where it is not known.</summary>
    /// <param name="kilowattHours">The value.</param>
    public string Text(double kilowattHours) => double.IsFinite(kilowattHours) ? Say.Number(Rounded(kilowattHours), Format) : "–";

    // Digits before the decimal mark: 1 for 5, 0 for 0.5, -1 for 0.05.
    private static int Before(double size) => (int)Math.Floor(Math.Log10(size) + 1e-12) + 1;
}
