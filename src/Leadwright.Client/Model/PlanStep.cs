namespace Leadwright.Client.Model;

/// <summary>The questions of the plan screen, in order.</summary>
public enum PlanStep
{
    /// <summary>Which service?</summary>
    Service,

    /// <summary>What is to be learnt?</summary>
    Purpose,

    /// <summary>What load is expected?</summary>
    Load,

    /// <summary>What clamps, what recorder?</summary>
    Recorder,

    /// <summary>The sheet.</summary>
    Sheet,
}
