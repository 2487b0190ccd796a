namespace Leadwright.App.Verbs;

/// <summary>Who is told how far the work on a file is. Says nothing of what is asked: any two are alike, so that requests that ask the same are equal.</summary>
/// <param name="tell">Is told, 0 to 1.</param>
public sealed class WorkProgress(Action<double> tell)
{
    /// <summary>Nobody.</summary>
    public static WorkProgress None { get; } = new(_ => { });

    /// <summary>Tells.</summary>
    /// <param name="share">How far, 0 to 1.</param>
    public void Tell(double share) => tell(share);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is WorkProgress;

    /// <inheritdoc/>
    public override int GetHashCode() => 0;
}
