namespace Leadwright.Surveys;

/// <summary>Why something could not be done with a survey.</summary>
public enum SurveyProblem
{
    /// <summary>There is no such folder or file.</summary>
    NotFound,

    /// <summary>The folder is not a survey's.</summary>
    NotASurvey,

    /// <summary>There is something already where a new one was to be made.</summary>
    AlreadyThere,

    /// <summary>A newer version of the program made it.</summary>
    NewerVersion,

    /// <summary>The journal was changed since it was written, or can't be read.</summary>
    Damaged,

    /// <summary>Somebody else has it open to write.</summary>
    InUse,

    /// <summary>The disk is full.</summary>
    DiskFull,

    /// <summary>The place can't be written to.</summary>
    ReadOnlyPlace,

    /// <summary>A file changed while it was read.</summary>
    FileChanged,

    /// <summary>What was handed over can't be taken: a name, a path, an archive, a recording that isn't there.</summary>
    Refused,

    /// <summary>The system failed in another way; the cause says how.</summary>
    SystemFailure,
}
