namespace Leadwright.Reports.Hookups;

/// <summary>How a lead or clamp stands in the drawing.</summary>
internal enum Standing
{
    /// <summary>It is where it belongs: a light plate.</summary>
    Right,

    /// <summary>It is not right: a dark plate.</summary>
    Wrong,

    /// <summary>The place where it belongs: dotted.</summary>
    Wanted,
}
