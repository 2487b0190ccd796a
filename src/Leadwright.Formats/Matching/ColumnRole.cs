namespace Leadwright.Formats.Matching;

/// <summary>What a column of a table is to the log.</summary>
public enum ColumnRole
{
    /// <summary>It states times.</summary>
    Time,

    /// <summary>It holds values.</summary>
    Value,

    /// <summary>It holds the standings of another column's values.</summary>
    Standing,

    /// <summary>It was left out.</summary>
    LeftOut,
}
