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
}
