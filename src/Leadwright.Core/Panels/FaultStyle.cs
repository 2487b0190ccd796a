namespace Leadwright.Core.Panels;

/// <summary>How the hook-ups of a population are drawn.</summary>
public enum FaultStyle
{
    /// <summary>No slip for half of the panels; one, two or three slips for the rest, each kind about as often against the
    /// others as people make it. The default.</summary>
    Slips,

    /// <summary>Leads right; clamps on their own conductors in any order, either way round, all alike: 48 on a wye service.</summary>
    Uniform48,

    /// <summary>All right.</summary>
    None,
}
