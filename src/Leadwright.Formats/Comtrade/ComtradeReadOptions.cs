namespace Leadwright.Formats.Comtrade;

/// <summary>How a COMTRADE record is read.</summary>
public sealed record ComtradeReadOptions
{
    /// <summary>The side that values are asked for. Default: as recorded.</summary>
    public ComtradeScaling Scaling { get; init; }

    /// <summary>How the letters of names are written, for a configuration that does not say. Null to find it out.</summary>
    public System.Text.Encoding? Encoding { get; init; }

    /// <summary>True to refuse a record that holds fewer samples than its configuration states. Default false: the
    /// samples that are there are taken, and a warning tells both counts.</summary>
    public bool RefuseIncomplete { get; init; }
}
