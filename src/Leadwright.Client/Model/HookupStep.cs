namespace Leadwright.Client.Model;

/// <summary>The questions of the hook-up screen, in order.</summary>
public enum HookupStep
{
    /// <summary>Which service it is.</summary>
    Service,

    /// <summary>What is known of the site.</summary>
    Site,

    /// <summary>What the instrument shows.</summary>
    Readings,

    /// <summary>The answer.</summary>
    Verdict,
}
