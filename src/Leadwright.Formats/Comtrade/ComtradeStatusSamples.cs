namespace Leadwright.Formats.Comtrade;

/// <summary>The samples of all status channels, sixteen channels to a word as in the binary data.</summary>
public sealed class ComtradeStatusSamples
{
    private readonly ushort[][] _words;

    internal ComtradeStatusSamples(int channelCount, ushort[][] words)
    {
        ChannelCount = channelCount;
        _words = words;
    }

    /// <summary>Number of status channels.</summary>
    public int ChannelCount { get; }

    /// <summary>The state of a channel at a sample, both counted from 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no such channel or sample.</exception>
    public bool IsOn(int channelIndex, int sampleIndex)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(channelIndex);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(channelIndex, ChannelCount);
        var word = _words[channelIndex / 16];
        ArgumentOutOfRangeException.ThrowIfNegative(sampleIndex);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(sampleIndex, word.Length);
        return (word[sampleIndex] >> (channelIndex % 16) & 1) != 0;
    }
}
