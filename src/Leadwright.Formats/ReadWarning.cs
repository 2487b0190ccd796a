namespace Leadwright.Formats;

/// <summary>Something a reader met, put up with and must tell.</summary>
/// <param name="Says">What was met and what was made of it: one or more whole sentences.</param>
/// <param name="Line">Line number from 1; null where lines have no meaning.</param>
/// <param name="ByteOffset">Offset in bytes from the start of the source; null when not known.</param>
public sealed record ReadWarning(string Says, int? Line = null, long? ByteOffset = null);
