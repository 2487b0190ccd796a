using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says how a recording was measured, or why it could not be.</summary>
public static class SnapshotWording
{
    /// <summary>Why a recording gives no snapshot and what to do; empty when it gives one.</summary>
    /// <param name="refusal">The reason.</param>
    public static string Of(SnapshotRefusal refusal) => refusal switch
    {
        SnapshotRefusal.None => "",
        SnapshotRefusal.NoSamples => Say.Of("snapshot.it-holds-no-samples-of", "It holds no samples of the matched channels. Look at the file, and at which channel is which."),
        SnapshotRefusal.RateTooLow => Say.Of("snapshot.it-is-sampled-too-slowly", "It is sampled too slowly: a snapshot needs eight samples in each cycle. Record at a higher rate, or type the readings from the instrument's screen."),
        SnapshotRefusal.TooShort => Say.Of("snapshot.it-is-too-short-a", "It is too short: a snapshot needs at least one whole cycle. Record a second or more."),
        SnapshotRefusal.AllMissing => Say.Of("snapshot.every-stretch-of-the-matched", "Every stretch of the matched channels has missing samples. Record again."),
        _ => throw new ArgumentOutOfRangeException(nameof(refusal), refusal, "This is a bug in Leadwright: a refusal without words."),
    };

    /// <summary>What a person must know about how a snapshot was measured; none when all went well.</summary>
    /// <param name="snapshot">The snapshot.</param>
    public static IEnumerable<string> Notes(PanelSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        var whole = snapshot.Snapshot;
        if (whole.FrequencyOrigin == FrequencyOrigin.Stated)
            yield return Say.Of("snapshot.the-frequency-could-not-be", "The frequency could not be measured: {frequencyHertz} Hz was taken as stated.", ("frequencyHertz", Say.Number(whole.FrequencyHertz, "0.##")));
        if (whole.FrequencyOrigin == FrequencyOrigin.Assumed)
            yield return Say.Of("snapshot.the-frequency-could-not-be-2", "The frequency could not be measured and is not stated: {frequencyHertz} Hz was taken. Give it with the service.", ("frequencyHertz", Say.Number(whole.FrequencyHertz, "0.##")));
        if (!whole.IsSteady)
        {
            yield return Say.Of("snapshot.something-changes-in-the-recording", "Something changes in the recording: {durationSeconds} s of one steady state were measured.", ("durationSeconds", Say.Number(whole.Span.DurationSeconds, "0.0##")));
        }

        if (NamesOf(snapshot, channel => channel.IsClipped) is { } clipped)
            yield return Say.Of("snapshot.the-tops-are-cut-flat", "{clipped}: the tops are cut flat, so the sizes read too small. Set a larger range.", ("clipped", clipped));
        if (NamesOf(snapshot, channel => channel.IsDead) is { } dead)
            yield return Say.Of("snapshot.nothing-arrives-but-noise", "{dead}: nothing arrives but noise.", ("dead", dead));
        if (NamesOf(snapshot, channel => channel.IsMissing) is { } missing)
            yield return Say.Of("snapshot.every-window-has-missing-samples", "{missing}: every window has missing samples; left out.", ("missing", missing));
        if (NamesOf(snapshot, channel => !channel.IsMissing && channel.SkippedWindowCount > 0) is { } gaps)
            yield return Say.Of("snapshot.windows-with-missing-samples-were", "{gaps}: windows with missing samples were left out.", ("gaps", gaps));
    }

    private static string? NamesOf(PanelSnapshot snapshot, Func<ChannelSnapshot, bool> isMeant)
    {
        var names = snapshot.Channels.Where(channel => isMeant(channel.Value)).Select(channel => channel.Key).ToArray();
        return names.Length == 0 ? null : Phrases.Join(names);
    }
}
