using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;

namespace Leadwright.Reports.Hookups;

/// <summary>Says how a recording was measured, or why it could not be.</summary>
public static class SnapshotWording
{
    /// <summary>Why a recording gives no snapshot and what to do; empty when it gives one.</summary>
    /// <param name="refusal">The reason.</param>
    public static string Of(SnapshotRefusal refusal) => refusal switch
    {
        SnapshotRefusal.None => "",
        SnapshotRefusal.NoSamples => "It holds no samples of the matched channels. Look at the file, and at which channel is which.",
        SnapshotRefusal.RateTooLow => "It is sampled too slowly: a snapshot needs eight samples in each cycle. Record at a higher rate, "
            + "or type the readings from the instrument's screen.",
        SnapshotRefusal.TooShort => "It is too short: a snapshot needs at least one whole cycle. Record a second or more.",
        SnapshotRefusal.AllMissing => "Every stretch of the matched channels has missing samples. Record again.",
        _ => throw new ArgumentOutOfRangeException(nameof(refusal), refusal, "This is a bug in Leadwright: a refusal without words."),
    };

    /// <summary>What a person must know about how a snapshot was measured; none when all went well.</summary>
    /// <param name="snapshot">The snapshot.</param>
    public static IEnumerable<string> Notes(PanelSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        var whole = snapshot.Snapshot;
        if (whole.FrequencyOrigin == FrequencyOrigin.Stated)
            yield return string.Create(CultureInfo.InvariantCulture, $"The frequency could not be measured: {whole.FrequencyHertz:0.##} Hz was taken as stated.");
        if (whole.FrequencyOrigin == FrequencyOrigin.Assumed)
            yield return string.Create(CultureInfo.InvariantCulture, $"The frequency could not be measured and is not stated: {whole.FrequencyHertz:0.##} Hz was taken. Give it with the service.");
        if (!whole.IsSteady)
        {
            yield return string.Create(CultureInfo.InvariantCulture,
                $"Something changes in the recording: {whole.Span.DurationSeconds:0.0##} s of one steady state were measured.");
        }

        if (NamesOf(snapshot, channel => channel.IsClipped) is { } clipped)
            yield return $"{clipped}: the tops are cut flat, so the sizes read too small. Set a larger range.";
        if (NamesOf(snapshot, channel => channel.IsDead) is { } dead)
            yield return $"{dead}: nothing arrives but noise.";
        if (NamesOf(snapshot, channel => channel.IsMissing) is { } missing)
            yield return $"{missing}: every window has missing samples; left out.";
        if (NamesOf(snapshot, channel => !channel.IsMissing && channel.SkippedWindowCount > 0) is { } gaps)
            yield return $"{gaps}: windows with missing samples were left out.";
    }

    private static string? NamesOf(PanelSnapshot snapshot, Func<ChannelSnapshot, bool> isMeant)
    {
        var names = snapshot.Channels.Where(channel => isMeant(channel.Value)).Select(channel => channel.Key).ToArray();
        return names.Length == 0 ? null : Phrases.Join(names);
    }
}
