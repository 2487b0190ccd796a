namespace Leadwright.Surveys.Storage;

/// <summary>What the system's failures mean to a person.</summary>
public static class StorageFailure
{
    // ENOSPC and EDQUOT of Unix; ERROR_HANDLE_DISK_FULL and ERROR_DISK_FULL of Windows.
    private static readonly int[] s_full = [28, 122, unchecked((int)0x80070027), unchecked((int)0x80070070)];

    // EROFS of Unix; ERROR_WRITE_PROTECT of Windows.
    private static readonly int[] s_protected = [30, unchecked((int)0x80070013)];

    /// <summary>True for what a file system throws.</summary>
    /// <param name="failure">What was thrown.</param>
    public static bool IsOne(Exception failure) => failure is IOException or UnauthorizedAccessException;

    /// <summary>The failure in words.</summary>
    /// <param name="doing">What could not be done, as in <c>write 'journal.jsonl'</c>.</param>
    /// <param name="folder">The survey folder.</param>
    /// <param name="failure">What the system threw.</param>
    public static SurveyException Of(string doing, string folder, Exception failure)
    {
        ArgumentNullException.ThrowIfNull(failure);
        var problem = ProblemOf(failure);
        var rest = problem switch
        {
            SurveyProblem.DiskFull => "the disk is full. What was saved before is still there; make room on the disk, then do the last step again.",
            SurveyProblem.ReadOnlyPlace => "the place can't be written to. Look at the rights of the folder or the stick's switch, or copy the survey to another place and work there.",
            SurveyProblem.NotFound => "it is not there. Look at its name and folder; a stick may have been pulled.",
            _ => failure.Message,
        };
        return new SurveyException(problem, $"Cannot {doing} in the survey '{folder}': {rest}", failure);
    }

    /// <summary>What a failure of the system is.</summary>
    /// <param name="failure">What the system threw.</param>
    public static SurveyProblem ProblemOf(Exception failure) => failure switch
    {
        FileNotFoundException or DirectoryNotFoundException => SurveyProblem.NotFound,
        UnauthorizedAccessException => SurveyProblem.ReadOnlyPlace,
        IOException io when s_full.Contains(io.HResult) => SurveyProblem.DiskFull,
        IOException io when s_protected.Contains(io.HResult) => SurveyProblem.ReadOnlyPlace,
        _ => SurveyProblem.SystemFailure,
    };
}
