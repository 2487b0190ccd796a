namespace Leadwright.App.Hosting;

/// <summary>The web host could not be started; the message says why and what to do.</summary>
public sealed class HostStartException : Exception
{
    /// <summary>Makes it without a text.</summary>
    public HostStartException()
    {
    }

    /// <summary>Makes it with a text.</summary>
    /// <param name="message">Why, and what to do.</param>
    public HostStartException(string message)
        : base(message)
    {
    }

    /// <summary>Makes it with a text and the cause.</summary>
    /// <param name="message">Why, and what to do.</param>
    /// <param name="innerException">The cause.</param>
    public HostStartException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
