namespace Leadwright.Core.Studies.Load;

/// <summary>How windows of demand follow each other.</summary>
public enum DemandKind
{
    /// <summary>Blocks that begin on the clock's ticks, one after the other.</summary>
    Block,

    /// <summary>A window that moves on by one interval of the log.</summary>
    Sliding,
}
