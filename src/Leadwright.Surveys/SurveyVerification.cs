using System.Collections.Immutable;

namespace Leadwright.Surveys;

/// <summary>How a file of a survey was found.</summary>
public enum StoredFileStanding
{
    /// <summary>Byte for byte as it was taken in.</summary>
    Sound,

    /// <summary>It is gone, or can't be read.</summary>
    Missing,

    /// <summary>Its bytes are others than those that were taken in.</summary>
    Changed,
}

/// <summary>A file of a survey, and how it was found.</summary>
/// <param name="File">The file.</param>
/// <param name="Standing">How it was found.</param>
public sealed record VerifiedFile(StoredFile File, StoredFileStanding Standing);

/// <summary>What a check of a survey's folder found: every digest and the chain of the journal.</summary>
/// <param name="JournalFaults">What is wrong with the journal; empty when its chain is sound.</param>
/// <param name="Files">All files of the survey.</param>
/// <param name="Strays">Files beside the originals that the journal does not name; somebody laid them there.</param>
public sealed record SurveyVerification(ImmutableArray<string> JournalFaults, ImmutableArray<VerifiedFile> Files, ImmutableArray<string> Strays)
{
    /// <summary>True when journal and files are as they were written.</summary>
    public bool IsSound => JournalFaults.IsEmpty && Files.All(file => file.Standing == StoredFileStanding.Sound);
}
