namespace Leadwright.Formats.Comtrade;

/// <summary>What a data file holds, its values scaled.</summary>
/// <param name="Count">Number of samples; the arrays may be longer.</param>
/// <param name="Values">Values by channel, in base units on the side asked for; NaN where missing.</param>
/// <param name="Stamps">Time stamps as written; NaN where missing.</param>
/// <param name="StatusWords">Status samples by word of sixteen channels.</param>
internal sealed record ComtradeSamples(int Count, double[][] Values, double[] Stamps, ushort[][] StatusWords)
{
    public static ComtradeSamples Allocate(ComtradeConfiguration configuration, int capacity) => new(
        0,
        [.. Enumerable.Range(0, configuration.Analogs.Length).Select(_ => new double[capacity])],
        new double[capacity],
        [.. Enumerable.Range(0, configuration.StatusWordCount).Select(_ => new ushort[capacity])]);
}
