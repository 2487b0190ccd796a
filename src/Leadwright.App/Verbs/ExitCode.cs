namespace Leadwright.App.Verbs;

/// <summary>What the program hands back to the shell.</summary>
public enum ExitCode
{
    /// <summary>Ran, nothing wrong found.</summary>
    NothingWrong = 0,

    /// <summary>The input can't be used; standard error says what, where and what to do.</summary>
    InputUnusable = 1,

    /// <summary>Wrong usage; standard error says what was expected.</summary>
    WrongUsage = 2,

    /// <summary>Ran, faults found.</summary>
    FaultsFound = 10,

    /// <summary>Ran, cannot decide.</summary>
    CannotDecide = 11,

    /// <summary>Interrupted by the user (128 + SIGINT, as shells have it).</summary>
    Interrupted = 130,
}
