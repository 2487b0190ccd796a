using System.Collections.Immutable;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Pqdif;

/// <summary>Units, and what is measured; codes of the standard.</summary>
internal static class PqdifUnit
{
    public const uint None = 0, Timestamp = 1, Seconds = 2, Cycles = 3, Volts = 6, Amperes = 7, VoltAmperes = 8, Watts = 9, Vars = 10, Hertz = 15,
        Degrees = 17, Percent = 19, PerUnit = 20, VarHours = 22, WattHours = 23, VoltAmpereHours = 24;

    public const uint MeasuredNone = 0, MeasuredVoltage = 1, MeasuredCurrent = 2, MeasuredPower = 3, MeasuredEnergy = 4;

    private static readonly ImmutableArray<(uint Code, string Symbol)> s_all =
    [
        (Seconds, "s"), (Cycles, "cycles"), (Volts, "V"), (Amperes, "A"), (VoltAmperes, "VA"), (Watts, "W"), (Vars, "var"), (11, "ohm"), (12, "S"),
        (13, "V/A"), (14, "J"), (Hertz, "Hz"), (16, "degC"), (Degrees, "deg"), (18, "dB"), (Percent, "%"), (PerUnit, "pu"), (21, "samples"),
        (VarHours, "varh"), (WattHours, "Wh"), (VoltAmpereHours, "VAh"), (25, "m/s"), (26, "mph"), (27, "bar"), (28, "Pa"), (29, "N"), (30, "Nm"),
        (31, "rpm"), (32, "rad/s"), (33, "m"), (34, "Wb-turns"), (35, "T"), (36, "Wb"), (37, "V/V"), (38, "A/A"), (39, "A/V"),
    ];

    // Hint codes of prefixes: 6 is none, each further one a factor of a thousand.
    private static readonly ImmutableArray<(uint Hint, string Prefix)> s_prefixes = [(3, "n"), (4, "u"), (5, "m"), (7, "k"), (8, "M"), (9, "G")];

    /// <summary>The symbol of a unit; empty for none.</summary>
    public static string SymbolOf(uint code) => code is None or Timestamp ? "" : s_all.FirstOrDefault(unit => unit.Code == code).Symbol ?? FormattableString.Invariant($"unit {code}");

    /// <summary>The unit of a symbol without a prefix; null when the standard has none.</summary>
    public static uint? Of(string symbol) => symbol.Length == 0 ? None : symbol switch
    {
        "°C" => 16,
        "°" => Degrees,
        "Ω" => 11,
        _ => s_all.FirstOrDefault(unit => unit.Symbol == symbol) is { Symbol: not null } found ? found.Code : null,
    };

    /// <summary>The unit that a recording's channel is shown in: the prefix is the file's hint for display.</summary>
    public static string ShownAs(uint code, uint? hint) =>
        code is Volts or Amperes or Watts or Vars or VoltAmperes or Hertz or Seconds && hint is { } wanted
            ? s_prefixes.FirstOrDefault(prefix => prefix.Hint == wanted).Prefix + SymbolOf(code)
            : SymbolOf(code);

    /// <summary>What a unit measures.</summary>
    public static uint MeasuredOf(uint code) => code switch
    {
        Volts => MeasuredVoltage,
        Amperes => MeasuredCurrent,
        Watts or Vars or VoltAmperes => MeasuredPower,
        WattHours or VarHours or VoltAmpereHours => MeasuredEnergy,
        _ => MeasuredNone,
    };

    /// <summary>Unit and hint of a recording's channel, whose values are in base units.</summary>
    /// <param name="text">Its unit as written, such as kV.</param>
    /// <returns>The unit; null when the standard has none. The hint; 0 when there is no prefix.</returns>
    public static (uint? Unit, uint Hint) Parse(string text)
    {
        var unit = UnitText.Parse(text);
        if (!unit.IsKnown) return (Of(text.Trim()), 0);
        var power = (int)Math.Round(Math.Log10(unit.Factor) / 3);
        return (Of(unit.Base), power == 0 ? 0 : (uint)(6 + power));
    }
}
