namespace Leadwright.Formats.Comtrade;

/// <summary>A date and time of a configuration, in the recorder's own zone.</summary>
/// <param name="Value">The time, to 100 nanoseconds.</param>
/// <param name="Nanoseconds">What goes beyond that, 0 to 99 nanoseconds.</param>
/// <param name="IsNanosecond">True when the file states more than six decimals: the data's time stamps then count
/// nanoseconds, else microseconds (2013 revision).</param>
public readonly record struct ComtradeTime(DateTime Value, int Nanoseconds, bool IsNanosecond);
