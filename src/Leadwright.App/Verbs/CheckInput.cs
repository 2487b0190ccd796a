namespace Leadwright.App.Verbs;

/// <summary>Reads the inputs of a check from files.</summary>
public sealed class CheckInput : ICheckInput
{
    /// <inheritdoc/>
    public Task<CheckSubject> ReadAsync(string path, CheckRequest request, CancellationToken cancellation) =>
        throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot read '{path}'.");
}
