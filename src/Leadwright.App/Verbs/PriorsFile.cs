using Leadwright.Core.Hookups.Priors;
using Leadwright.Formats;
using Leadwright.Formats.Priors;

namespace Leadwright.App.Verbs;

/// <summary>Reads the file of priors that a command names.</summary>
internal static class PriorsFile
{
    /// <summary>The priors of a file; the shipped ones when none is named.</summary>
    /// <exception cref="InputRefusedException">The file can't be read or used.</exception>
    public static async Task<CheckPriors> ReadAsync(string? path, CancellationToken cancellation)
    {
        if (path is null) return CheckPriors.Default;
        try
        {
            return PriorsReader.Read(new InputFile(path, await File.ReadAllBytesAsync(path, cancellation)));
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new InputRefusedException(
                ExitCode.InputUnusable, $"Cannot read the priors '{path}': {failure.Message} 'leadwright check --show-priors' prints the shipped ones.", failure);
        }
    }
}
