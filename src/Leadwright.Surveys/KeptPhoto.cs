namespace Leadwright.Surveys;

/// <summary>A photo or other paper that a survey keeps.</summary>
/// <param name="Entry">The journal's entry that brought it.</param>
/// <param name="At">When it was attached.</param>
/// <param name="File">The file.</param>
/// <param name="Caption">What it shows, as typed.</param>
/// <param name="Proof">The entry of the proof it belongs to; null for none.</param>
public sealed record KeptPhoto(long Entry, DateTimeOffset At, StoredFile File, string Caption, long? Proof);
