using System.Buffers;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Leadwright.Core.Signals;

/// <summary>Carries the state of a long run out, or back in, by one and the same method of each part.</summary>
/// <remarks>
/// <para>Every part names its fields to <see cref="Carry{T}(ref T)"/> and the like; on the way out they are copied byte by byte, on the way in
/// they are overwritten, so that a run that goes on computes the same bits as one that was never stopped.</para>
/// <para>The bytes are those of this build on this kind of machine: whoever keeps them must keep a mark of the build with them.</para>
/// </remarks>
public sealed class StateCarrier
{
    private readonly ArrayBufferWriter<byte>? _out;
    private ReadOnlyMemory<byte> _in;

    /// <summary>Carries out.</summary>
    public StateCarrier() => _out = new ArrayBufferWriter<byte>(1 << 20);

    /// <summary>Carries back in.</summary>
    /// <param name="state">What was carried out.</param>
    public StateCarrier(ReadOnlyMemory<byte> state) => _in = state;

    /// <summary>True when state comes back in.</summary>
    public bool IsReading => _out is null;

    /// <summary>What was carried out so far; on the way in, what is left.</summary>
    public ReadOnlyMemory<byte> Bytes => _out?.WrittenMemory ?? _in;

    /// <summary>Carries one value.</summary>
    /// <typeparam name="T">A type without references.</typeparam>
    /// <param name="value">The field.</param>
    /// <exception cref="ArgumentException">The state ends too early.</exception>
    public void Carry<T>(ref T value)
        where T : unmanaged => Carry(MemoryMarshal.CreateSpan(ref value, 1));

    /// <summary>Carries values whose number is known.</summary>
    /// <typeparam name="T">A type without references.</typeparam>
    /// <param name="values">The values.</param>
    /// <exception cref="ArgumentException">The state ends too early.</exception>
    public void Carry<T>(Span<T> values)
        where T : unmanaged
    {
        var bytes = MemoryMarshal.AsBytes(values);
        if (_out is not null)
        {
            _out.Write(bytes);
            return;
        }

        if (_in.Length < bytes.Length) throw new ArgumentException("The state ends too early.", nameof(values));
        _in.Span[..bytes.Length].CopyTo(bytes);
        _in = _in[bytes.Length..];
    }

    /// <summary>Carries a list.</summary>
    /// <typeparam name="T">A type without references.</typeparam>
    /// <param name="values">The list.</param>
    /// <exception cref="ArgumentException">The state ends too early.</exception>
    public void Carry<T>(List<T> values)
        where T : unmanaged
    {
        ArgumentNullException.ThrowIfNull(values);
        var count = values.Count;
        Carry(ref count);
        if (IsReading)
        {
            if (count < 0 || (long)count * Unsafe.SizeOf<T>() > _in.Length) throw new ArgumentException("The state ends too early.", nameof(values));
            CollectionsMarshal.SetCount(values, count);
        }

        Carry(CollectionsMarshal.AsSpan(values));
    }

    /// <summary>Carries a text.</summary>
    /// <param name="text">The field.</param>
    /// <exception cref="ArgumentException">The state ends too early.</exception>
    public void Carry(ref string text)
    {
        var letters = new List<char>(IsReading ? "" : text);
        Carry(letters);
        if (IsReading) text = new string(CollectionsMarshal.AsSpan(letters));
    }
}
