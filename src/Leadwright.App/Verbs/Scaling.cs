namespace Leadwright.App.Verbs;

/// <summary>Which side of the instrument transformers the values of a recording are wanted for.</summary>
public enum Scaling
{
    /// <summary>As the file holds them. The default.</summary>
    AsRecorded,

    /// <summary>Primary side.</summary>
    Primary,

    /// <summary>Secondary side.</summary>
    Secondary,
}
