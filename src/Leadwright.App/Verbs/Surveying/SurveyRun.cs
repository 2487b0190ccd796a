using Leadwright.Formats;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>How the verbs on surveys run: what can't be done is told, and becomes an exit code.</summary>
internal static class SurveyRun
{
    /// <summary>Runs a part of a verb whose refusals are the verb's own.</summary>
    /// <exception cref="InputRefusedException">The survey can't be used.</exception>
    public static T Refusing<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (SurveyException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }

    /// <summary>Runs a verb.</summary>
    /// <param name="error">Receives what can't be done.</param>
    /// <param name="work">The verb.</param>
    public static async Task<int> RunAsync(TextWriter error, Func<Task<ExitCode>> work)
    {
        try
        {
            return (int)await work();
        }
        catch (InputRefusedException refusal)
        {
            await error.WriteLineAsync(refusal.Message);
            return (int)refusal.ExitCode;
        }
        catch (Exception failure) when (failure is SurveyException or FormatReadException)
        {
            await error.WriteLineAsync(failure.Message);
            return (int)ExitCode.InputUnusable;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            await error.WriteLineAsync($"Cannot go on: {failure.Message}");
            return (int)ExitCode.InputUnusable;
        }
        catch (OperationCanceledException)
        {
            await error.WriteLineAsync("Interrupted. What was saved is there; nothing is half there.");
            return (int)ExitCode.Interrupted;
        }
    }
}
