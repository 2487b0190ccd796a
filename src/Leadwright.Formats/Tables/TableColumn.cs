namespace Leadwright.Formats.Tables;

/// <summary>What a column of a table holds.</summary>
public enum TableColumnKind
{
    /// <summary>Numbers in double precision.</summary>
    Number,

    /// <summary>Numbers in single precision: seven digits, half the room.</summary>
    Single,

    /// <summary>Text.</summary>
    Text,

    /// <summary>Date and time in the recorder's own zone.</summary>
    Time,
}

/// <summary>A column of a table that is written.</summary>
/// <param name="Name">Its name, with unit, such as <c>V1_rms_V</c>.</param>
/// <param name="Kind">What it holds.</param>
public readonly record struct TableColumn(string Name, TableColumnKind Kind);
