namespace Leadwright.Client.Model.Shown;

/// <summary>How the screens write numbers and words on this device. Files, reports and what the engine is given are the same on every device.</summary>
public sealed record DisplaySettings
{
    // Where the standards of the trade are those of IEEE, ANSI and NEMA: the United States, Canada, Mexico, the Philippines, Puerto Rico.
    private static readonly string[] s_ieeeRegions = ["US", "CA", "MX", "PH", "PR"];

    /// <summary>Whose words are used. Default: those of IEC.</summary>
    public TradeWords Words { get; init; }

    /// <summary>True when the fraction stands behind a comma. Default: behind a point.</summary>
    public bool HasDecimalComma { get; init; }

    /// <summary>True when voltages are called U1, U2, U3; false for V1, V2, V3 as in files and reports. Default: false.</summary>
    public bool CallsVoltagesU { get; init; }

    /// <summary>What a device starts with.</summary>
    /// <param name="language">Its language and region, as <c>de-CH</c>; English without a region is taken as that of the United States.</param>
    /// <param name="decimalMark">How it writes the decimal mark.</param>
    public static DisplaySettings OfDevice(string language, string decimalMark)
    {
        ArgumentNullException.ThrowIfNull(language);
        var parts = language.Split('-', '_');
        var isIeee = parts.Skip(1).Any(part => s_ieeeRegions.Contains(part, StringComparer.OrdinalIgnoreCase))
            || (parts.Length == 1 && string.Equals(parts[0], "en", StringComparison.OrdinalIgnoreCase));
        return new DisplaySettings { Words = isIeee ? TradeWords.Ieee : TradeWords.Iec, HasDecimalComma = decimalMark == "," };
    }

    /// <summary>The settings as text, for keeping.</summary>
    public string ToKept() => $"{(Words == TradeWords.Ieee ? "ieee" : "iec")} {(HasDecimalComma ? "comma" : "point")} {(CallsVoltagesU ? "U" : "V")}";

    /// <summary>Reads <see cref="ToKept"/> back; null when it is none.</summary>
    public static DisplaySettings? OfKept(string? text) => (text ?? "").Split(' ') is [("iec" or "ieee") and var words, ("comma" or "point") and var mark, ("U" or "V") and var letter]
        ? new DisplaySettings { Words = words == "ieee" ? TradeWords.Ieee : TradeWords.Iec, HasDecimalComma = mark == "comma", CallsVoltagesU = letter == "U" }
        : null;
}
