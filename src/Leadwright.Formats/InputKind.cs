namespace Leadwright.Formats;

/// <summary>What a file is, by its content first and its ending second.</summary>
public enum InputKind
{
    /// <summary>None of those below.</summary>
    Unknown,

    /// <summary>COMTRADE configuration (.cfg).</summary>
    ComtradeConfiguration,

    /// <summary>COMTRADE data (.dat).</summary>
    ComtradeData,

    /// <summary>COMTRADE single file (.cff).</summary>
    ComtradeCombined,

    /// <summary>COMTRADE header, free text (.hdr).</summary>
    ComtradeHeader,

    /// <summary>COMTRADE information (.inf).</summary>
    ComtradeInformation,

    /// <summary>Readings, <c>leadwright.readings/1</c>.</summary>
    Readings,

    /// <summary>A table of text: samples by column.</summary>
    Table,

    /// <summary>A table of text: values logged by interval.</summary>
    LogTable,

    /// <summary>A workbook (.xlsx, .xls): values logged by interval.</summary>
    Workbook,

    /// <summary>Parquet: values logged by interval.</summary>
    Parquet,

    /// <summary>PQDIF (.pqd).</summary>
    Pqdif,
}
