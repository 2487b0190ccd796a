using System.Collections.Immutable;

namespace Leadwright.Surveys.Shelves;

/// <summary>A copy that was made of a survey.</summary>
/// <param name="Path">Its folder, or the zip file.</param>
/// <param name="Id">Its name among all surveys.</param>
/// <param name="Unsound">Files that were not as they were taken in, or were gone, when they were copied.</param>
/// <param name="LeftOut">What was there and is no part of a survey: not copied.</param>
public sealed record SurveyCopy(string Path, string Id, ImmutableArray<VerifiedFile> Unsound, ImmutableArray<string> LeftOut);
