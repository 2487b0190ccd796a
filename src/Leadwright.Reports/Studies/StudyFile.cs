namespace Leadwright.Reports.Studies;

/// <summary>A table or a plot that a study writes.</summary>
/// <param name="Name">Its file name.</param>
/// <param name="Content">Its text.</param>
public readonly record struct StudyFile(string Name, string Content);
