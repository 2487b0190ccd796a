namespace Leadwright.Client.Model.Shown;

/// <summary>Whose words the screens use where the two families of standards differ.</summary>
public enum TradeWords
{
    /// <summary>IEC 61000-4-30: a short fall of the voltage is a dip.</summary>
    Iec,

    /// <summary>IEEE 1159: it is a sag.</summary>
    Ieee,
}
