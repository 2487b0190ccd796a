using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>Which exit code an answer has, and which of several goes back to the shell.</summary>
public static class ExitCodes
{
    /// <summary>The list for help texts.</summary>
    public const string Help =
        "Exit codes: 0 nothing wrong, 10 faults found, 11 cannot decide, 1 an input can't be used, 2 wrong usage. "
        + "With several files the first of 2, 1, 10, 11, 0 that occurs.";

    private static readonly ExitCode[] s_worstFirst =
        [ExitCode.WrongUsage, ExitCode.InputUnusable, ExitCode.FaultsFound, ExitCode.CannotDecide, ExitCode.NothingWrong];

    /// <summary>The code of one verdict.</summary>
    /// <param name="verdict">The verdict.</param>
    public static ExitCode Of(Verdict verdict) => verdict switch
    {
        Verdict.Correct => ExitCode.NothingWrong,
        Verdict.Faulty => ExitCode.FaultsFound,
        _ => ExitCode.CannotDecide,
    };

    /// <summary>The code that stands for several: one that can't be used outweighs a fault, a fault outweighs a doubt.</summary>
    /// <param name="codes">The codes, one for each file.</param>
    public static ExitCode WorstOf(IEnumerable<ExitCode> codes)
    {
        var occurring = codes.ToHashSet();
        return s_worstFirst.FirstOrDefault(occurring.Contains, ExitCode.NothingWrong);
    }
}
