using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>A recorder that is followed while it runs.</summary>
public sealed record FollowSheet
{
    /// <summary>The file or folder on the computer that has the surveys; empty where nothing is followed.</summary>
    public string Path { get => field ?? ""; init; }

    /// <summary>True while it is followed.</summary>
    public bool IsRunning { get; init; }

    /// <summary>Since when.</summary>
    public DateTimeOffset Since { get; init; }

    /// <summary>The alarms, the last first; each is there once.</summary>
    public ImmutableArray<FollowAlarm> Alarms { get => field.IsDefault ? [] : field; init; }

    /// <summary>What else is to be known, as that a watch began anew; empty for nothing.</summary>
    public string Note { get => field ?? ""; init; }

    /// <summary>Why it ended by itself; empty where it did not.</summary>
    public string Problem { get => field ?? ""; init; }
}

/// <summary>An alarm.</summary>
/// <param name="Number">Its number in the watch.</param>
/// <param name="Kind">What it is, as <c>lead-open</c>.</param>
/// <param name="Says">What is wrong and how it shows.</param>
public sealed record FollowAlarm(int Number, string Kind, string Says)
{
    /// <summary>The leads and clamps concerned.</summary>
    public ImmutableArray<string> Channels { get => field.IsDefault ? [] : field; init; }

    /// <summary>Its start, by the recorder's clock.</summary>
    public DateTime From { get; init; }

    /// <summary>Its end, by the recorder's clock; null while it lasts.</summary>
    public DateTime? To { get; init; }

    /// <summary>What it was told as before, as a sentence, where more rows told it better; empty where it goes by its first name.</summary>
    public string Was { get => field ?? ""; init; }

    /// <summary>What to put right on the site while it lasts; empty for nothing.</summary>
    public string Todo { get => field ?? ""; init; }

    /// <summary>When it got the name that it goes by; null where that is its first.</summary>
    public DateTimeOffset? Renamed { get; init; }

    /// <summary>True when it was taken back: the rows since do not bear it out, and none shows a cure.</summary>
    public bool IsWithdrawn { get; init; }

    /// <summary>When it was raised.</summary>
    public DateTimeOffset Raised { get; init; }

    /// <summary>When it was cleared or taken back; null while it lasts.</summary>
    public DateTimeOffset? Cleared { get; init; }
}

/// <summary>What is to be followed.</summary>
/// <param name="Path">The file or folder on the computer that has the surveys.</param>
public sealed record FollowStart(string Path);
