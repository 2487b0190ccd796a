namespace Leadwright.Client.Model;

/// <summary>The questions of the practice screen, in order.</summary>
public enum PracticeStep
{
    /// <summary>Which exercise?</summary>
    Choose,

    /// <summary>What does the instrument show?</summary>
    Look,

    /// <summary>Where is everything?</summary>
    Answer,

    /// <summary>How sure?</summary>
    Sure,

    /// <summary>The mark.</summary>
    Mark,
}
