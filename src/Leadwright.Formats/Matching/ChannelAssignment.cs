using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Formats.Readings;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>What a person says of the channels, as in <c>V1=UA,V2=2,I1=Ia-213,IN=-</c>.</summary>
internal static class ChannelAssignment
{
    private const string Source = "--channels";

    /// <summary>Reads the text.</summary>
    /// <param name="text">Pairs separated by commas: a channel of the hook-up, and a channel of the recording by name or
    /// by its number from 1; <c>-</c> leaves the channel out.</param>
    /// <param name="channels">The channels of the recording.</param>
    /// <returns>For each channel named: the match, or null when it is to be left out.</returns>
    /// <exception cref="FormatReadException">The text does not fit the recording.</exception>
    public static Dictionary<Channel, ChannelMatch?> Read(string text, ImmutableArray<SampledChannel> channels)
    {
        var told = new Dictionary<Channel, ChannelMatch?>();
        var pairs = text.Split(',', StringSplitOptions.TrimEntries);
        for (var index = 0; index < pairs.Length; index++)
        {
            if (pairs[index].Length == 0) continue;
            var parts = pairs[index].Split('=', 2, StringSplitOptions.TrimEntries);
            if (parts.Length < 2 || parts[1].Length == 0)
                throw Bad(index, "a pair such as V1=UA", Quoted.Of(pairs[index]), "Separate the pairs by commas: V1=UA,V2=UB,I1=Ia.");
            if (!ReadingsWords.Channels.TryGetValue(parts[0], out var target))
            {
                throw Bad(index, $"one of {string.Join(", ", Enum.GetNames<Channel>())} before the '='", Quoted.Of(parts[0]),
                    "Write the hook-up's channel first, then '=' and the recording's.");
            }

            ChannelMatch? match = null;
            if (parts[1] != "-")
            {
                var source = IndexOf(parts[1], channels, index);
                match = new ChannelMatch(target.Channel, source, channels[source].Name, target.IsTurned, MatchBasis.Told, "as told");
            }

            if (!told.TryAdd(target.Channel, match))
                throw Bad(index, "each channel once", $"{target.Channel} a second time", "Keep one of the two.");
        }

        return told;
    }

    private static int IndexOf(string text, ImmutableArray<SampledChannel> channels, int pair)
    {
        foreach (var comparison in (StringComparison[])[StringComparison.Ordinal, StringComparison.OrdinalIgnoreCase])
        {
            var named = Enumerable.Range(0, channels.Length).Where(index => string.Equals(channels[index].Name.Trim(), text, comparison)).ToList();
            if (named.Count == 1) return named[0];
            if (named.Count > 1)
            {
                throw Bad(pair, "the name of one channel",
                    $"'{text}', which is the name of {named.Count} channels",
                    $"Give its number: {string.Join(", ", named.Select(index => index + 1))}.");
            }
        }

        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= channels.Length)
            return number - 1;
        throw Bad(pair, string.Create(CultureInfo.InvariantCulture, $"the name or number (1 to {channels.Length}) of a channel in the recording"),
            Quoted.Of(text), $"The recording holds: {ChannelMatcher.ListOf(channels)}.");
    }

    private static FormatReadException Bad(int pair, string expected, string found, string hint) =>
        new(Source, expected, found, hint, column: pair + 1);
}
