namespace Leadwright.Formats.Logs;

/// <summary>Which end of its interval a row is stamped with.</summary>
public enum StampPlace
{
    /// <summary>The start.</summary>
    Start,

    /// <summary>The end.</summary>
    End,
}
