namespace Leadwright.Formats.Readings;

/// <summary>A place in a JSON text.</summary>
/// <param name="Line">Line number from 1.</param>
/// <param name="ByteOffset">Offset in bytes from the start of the file.</param>
internal readonly record struct JsonSpot(int Line, long ByteOffset);
