namespace Leadwright.Formats.Text;

/// <summary>One line of a text source.</summary>
/// <param name="Number">Its number from 1.</param>
/// <param name="ByteOffset">Offset of its first byte in the source.</param>
/// <param name="Text">Its characters without the end of line.</param>
internal readonly record struct SourceLine(int Number, long ByteOffset, string Text)
{
    /// <summary>True when there is nothing but blanks.</summary>
    public bool IsBlank => string.IsNullOrWhiteSpace(Text);
}
