namespace Leadwright.Core.Studies.Limits;

/// <summary>How a limit was met.</summary>
public enum LimitVerdict
{
    /// <summary>Met.</summary>
    Pass,

    /// <summary>Not met.</summary>
    Fail,

    /// <summary>The data can't judge it.</summary>
    NotEnoughData,
}
