namespace Leadwright.Surveys;

/// <summary>A file that a survey keeps untouched.</summary>
/// <param name="Name">Its name where it came from, without folders.</param>
/// <param name="Path">Where it is in the survey folder, with <c>/</c>.</param>
/// <param name="Sha256">SHA-256 of its bytes, 64 small hexadecimal digits.</param>
/// <param name="Bytes">Its length.</param>
public sealed record StoredFile(string Name, string Path, string Sha256, long Bytes)
{
    /// <summary>When it was last changed where it came from; null when not known.</summary>
    public DateTimeOffset? Modified { get; init; }
}
