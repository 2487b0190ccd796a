namespace Leadwright.Fuzzing;

/// <summary>Something that reads bytes from anywhere.</summary>
public abstract class FuzzTarget : IDisposable
{
    /// <summary>Its name in commands and folders.</summary>
    public abstract string Name { get; }

    /// <summary>Most bytes that a thread may allocate while it reads an input of some length.</summary>
    /// <param name="length">The input's length.</param>
    public virtual long MostAllocated(int length) => (256L << 20) + (4000L * length);

    /// <summary>Makes an input.</summary>
    /// <param name="chance">The chance of this input alone: the same chance makes the same input.</param>
    public abstract byte[] Make(Random chance);

    /// <summary>Reads an input.</summary>
    /// <param name="input">Its bytes.</param>
    /// <returns>True when it was taken, false when it was refused with a message for a person.</returns>
    /// <exception cref="FuzzFailureException">It was read wrong, or did something it must not.</exception>
    public abstract bool Read(byte[] input);

    /// <summary>Holds the reading of an input with one change, whose effect is known, against the reading of the sound file.</summary>
    /// <param name="chance">The chance of this input.</param>
    /// <returns>The input that was read; null where the target has no such check.</returns>
    /// <exception cref="FuzzFailureException">Something else changed in silence.</exception>
    public virtual byte[]? ReadChanged(Random chance) => null;

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Lets go.</summary>
    /// <param name="disposing">True when called by <see cref="Dispose()"/>.</param>
    protected virtual void Dispose(bool disposing)
    {
    }
}

/// <summary>An input did what none may.</summary>
/// <param name="says">What.</param>
/// <param name="cause">What was thrown; null for none.</param>
public sealed class FuzzFailureException(string says, Exception? cause = null) : Exception(says, cause)
{
    /// <summary>The input; set by who ran it where the target didn't.</summary>
    public byte[] Input { get; set; } = [];
}
