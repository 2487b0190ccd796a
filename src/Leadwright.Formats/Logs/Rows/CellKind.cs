namespace Leadwright.Formats.Logs.Rows;

/// <summary>What a cell of a table holds.</summary>
internal enum CellKind : byte
{
    /// <summary>Nothing.</summary>
    Empty,

    /// <summary>Text, which may be a number or a date.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A date, a date with time, or a time of day (then its date is before 1901).</summary>
    Date,
}
