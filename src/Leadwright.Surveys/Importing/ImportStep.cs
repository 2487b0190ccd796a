namespace Leadwright.Surveys.Importing;

/// <summary>What an import is doing.</summary>
public enum ImportStep
{
    /// <summary>The originals are copied and their digests computed.</summary>
    Copying,

    /// <summary>The files are recognised and read, their columns matched, the clock checked.</summary>
    Reading,

    /// <summary>The recording is looked through for leads, clamps and a recorder that did not tell the truth.</summary>
    Scanning,

    /// <summary>The recording is taken into the survey.</summary>
    Saving,

    /// <summary>Its table for charts and queries is computed.</summary>
    Tabling,
}

/// <summary>How far an import is.</summary>
/// <param name="Step">What it is doing.</param>
/// <param name="Share">The share of that which is done, 0 to 1.</param>
public readonly record struct ImportProgress(ImportStep Step, double Share);
