using Leadwright.Surveys;
using Leadwright.Surveys.Storage;

namespace Leadwright.App.Verbs;

/// <summary>An input of a verb that can't be used, with the exit code that goes with it.</summary>
/// <param name="exitCode"><see cref="ExitCode.InputUnusable"/>, or <see cref="ExitCode.WrongUsage"/> when an option is missing
/// or doesn't fit.</param>
/// <param name="message">What, where, and what to do about it.</param>
/// <param name="cause">What the reader threw; null when there is nothing behind it.</param>
public sealed class InputRefusedException(ExitCode exitCode, string message, Exception? cause = null) : Exception(message, cause)
{
    /// <summary>The exit code that goes with it.</summary>
    public ExitCode ExitCode { get; } = exitCode;

    /// <summary>The refusal of a file that the system does not hand over.</summary>
    /// <param name="path">The file.</param>
    /// <param name="failure">What the system said.</param>
    public static InputRefusedException CannotRead(string path, Exception failure)
    {
        var why = failure switch
        {
            FileNotFoundException or DirectoryNotFoundException => "there is no such file. Look at its name and folder.",
            UnauthorizedAccessException when Directory.Exists(path) => "it is a folder. Name the files in it.",
            _ => failure?.Message,
        };
        return new InputRefusedException(ExitCode.InputUnusable, $"Cannot read '{path}': {why}", failure);
    }

    /// <summary>The refusal of something that can't be written. Nothing of it is left.</summary>
    /// <param name="what">What could not be written, as in <c>'week.pdf'</c>.</param>
    /// <param name="failure">What the system said.</param>
    public static InputRefusedException CannotWrite(string what, Exception failure)
    {
        ArgumentNullException.ThrowIfNull(failure);
        var why = StorageFailure.ProblemOf(failure) switch
        {
            SurveyProblem.DiskFull => "the disk is full. Make room on it, or name another place; what stood there before is unchanged.",
            SurveyProblem.ReadOnlyPlace => $"the place can't be written to ({failure.Message}). Look at the rights of the folder or the stick's switch, or name another place.",
            SurveyProblem.NotFound => $"its folder is not there ({failure.Message}). Make it first, or look at its name; a stick may have been pulled.",
            _ => failure.Message,
        };
        return new InputRefusedException(ExitCode.InputUnusable, $"Cannot write {what}: {why}", failure);
    }
}
