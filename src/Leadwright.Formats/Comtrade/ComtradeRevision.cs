namespace Leadwright.Formats.Comtrade;

/// <summary>The revisions of the COMTRADE standard, IEEE C37.111.</summary>
public enum ComtradeRevision
{
    /// <summary>IEEE C37.111-1991: channel lines of ten and three fields, dates mm/dd/yy.</summary>
    Rev1991,

    /// <summary>IEEE C37.111-1999: channel lines of thirteen and five fields, dates dd/mm/yyyy, a time multiplier.</summary>
    Rev1999,

    /// <summary>IEEE C37.111-2013, also IEC 60255-24 edition 2: time codes, 32-bit data, the single .cff file.</summary>
    Rev2013,
}
