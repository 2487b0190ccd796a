namespace Leadwright.App.Hosting;

/// <summary>How the local web host is started.</summary>
public sealed record ServeOptions
{
    /// <summary>The port that the address is on unless another is asked for.</summary>
    public const int DefaultPort = 5480;

    /// <summary>TCP port, 1 to 65535; 0 lets the system choose a free one. Default <see cref="DefaultPort"/>.</summary>
    public int Port { get; init; } = DefaultPort;

    /// <summary>Folder that surveys are kept in, made when it does not exist; null when none was named.</summary>
    public string? DataFolder { get; init; }

    /// <summary>True to print the address that opens with the invented panels at hand. Default false.</summary>
    public bool Demo { get; init; }

    /// <summary>True to answer other devices of the local network too, once they showed the pairing code. Default false.</summary>
    public bool Lan { get; init; }
}
