namespace Leadwright.Formats.Text;

/// <summary>A unit as files write it: a prefix and a base.</summary>
/// <param name="Base">The base unit in its usual spelling (<c>V</c>, <c>A</c>, <c>W</c>, <c>VA</c>, <c>var</c>,
/// <c>Hz</c>, <c>s</c>, <c>Wh</c>, <c>varh</c>, <c>VAh</c>, <c>%</c>, <c>deg</c>); the text itself when it is none of these.</param>
/// <param name="Factor">What a number in the unit is multiplied by to get the base unit; 1 for a unit that is not known.</param>
/// <param name="IsKnown">True when the base is one of those above.</param>
internal readonly record struct UnitText(string Base, double Factor, bool IsKnown)
{
    /// <summary>Reads a unit such as <c>kV</c>, <c>mA</c>, <c>KV</c>, <c>Volts</c>; blanks around it do not count.</summary>
    public static UnitText Parse(string text)
    {
        var unit = text.Trim();
        if (KnownBase(unit) is { } plain) return new UnitText(plain, 1, true);
        if (unit.Length > 1 && KnownBase(unit[1..]) is { } prefixed && FactorOf(unit[0]) is { } factor)
            return new UnitText(prefixed, factor, true);
        return new UnitText(unit, 1, false);
    }

    private static string? KnownBase(string unit) => unit.ToLowerInvariant() switch
    {
        "v" or "volt" or "volts" or "voltios" or "vrms" or "vac" => "V",
        "a" or "amp" or "amps" or "ampere" or "amperes" or "ampère" or "ampères" or "amperios" or "amper" or "arms" => "A",
        "w" or "watt" or "watts" => "W",
        "va" => "VA",
        "var" or "vars" => "var",
        "wh" or "w·h" or "w*h" or "watthour" or "watthours" => "Wh",
        "varh" or "varsh" or "var·h" or "var*h" => "varh",
        "vah" or "va·h" or "va*h" => "VAh",
        "hz" => "Hz",
        "s" or "sec" or "seconds" => "s",
        "%" or "percent" or "pct" or "prozent" => "%",
        "deg" or "°" or "degrees" or "grad" => "deg",
        _ => null,
    };

    // m and M differ by a billion, so only these two are told apart by case.
    private static double? FactorOf(char prefix) => prefix switch
    {
        'n' => 1e-9,
        'u' or 'µ' or 'μ' => 1e-6,
        'm' => 1e-3,
        'k' or 'K' => 1e3,
        'M' => 1e6,
        'G' => 1e9,
        _ => null,
    };
}
