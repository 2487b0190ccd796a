namespace Leadwright.App.Verbs;

/// <summary>Reads the inputs of a check.</summary>
public interface ICheckInput
{
    /// <summary>Reads one input.</summary>
    /// <param name="path">The file; its companions are looked for beside it.</param>
    /// <param name="request">How to read it.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <exception cref="InputRefusedException">The input can't be used.</exception>
    Task<CheckSubject> ReadAsync(string path, CheckRequest request, CancellationToken cancellation);
}
