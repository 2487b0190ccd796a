namespace Leadwright.Formats.Comtrade;

/// <summary>One sampling rate of a record.</summary>
/// <param name="RateHertz">Samples per second; 0 when the time stamps in the data say when each sample was taken.</param>
/// <param name="LastSampleNumber">Number, from 1, of the last sample at this rate: cumulative, not a count.</param>
public readonly record struct ComtradeRate(double RateHertz, int LastSampleNumber);
