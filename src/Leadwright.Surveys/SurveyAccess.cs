namespace Leadwright.Surveys;

/// <summary>What a survey folder is opened for.</summary>
public enum SurveyAccess
{
    /// <summary>To look at it. Never waits for anybody, and changes nothing.</summary>
    Read,

    /// <summary>To change it. One at a time.</summary>
    Write,
}
