using System.Collections.Immutable;
using System.Text.Json;

namespace Leadwright.Client.Surveys;

/// <summary>The checks of the hook-up that a survey keeps, with what was found at the panel and the photos.</summary>
public sealed record HookupsSheet
{
    /// <summary>Number of the journal's last entry.</summary>
    public long Sequence { get; init; }

    /// <summary>The checks, the last first.</summary>
    public ImmutableArray<HookupCard> Checks { get => field.IsDefault ? [] : field; init; }

    /// <summary>What was found at the panel when asked, in words.</summary>
    public ImmutableArray<string> Told { get => field.IsDefault ? [] : field; init; }

    /// <summary>Photos and other papers, the last first.</summary>
    public ImmutableArray<PhotoCard> Photos { get => field.IsDefault ? [] : field; init; }

    /// <summary>Largest photo that is taken, bytes.</summary>
    public long MostPhotoBytes { get; init; }
}

/// <summary>A check of the hook-up that was kept.</summary>
/// <param name="Entry">The journal's entry that brought it.</param>
/// <param name="At">When.</param>
/// <param name="Who">By whom.</param>
/// <param name="Verdict"><c>correct</c>, <c>faulty</c> or <c>undecided</c>.</param>
public sealed record HookupCard(long Entry, DateTimeOffset At, string Who, string Verdict)
{
    /// <summary>What was judged: typed readings, or the name of a recording.</summary>
    public string Judged { get => field ?? ""; init; }

    /// <summary>The answer in a sentence.</summary>
    public string Says { get => field ?? ""; init; }

    /// <summary>Its probability; null where none was kept.</summary>
    public double? Confidence { get; init; }

    /// <summary>What was to be done.</summary>
    public ImmutableArray<string> Moves { get => field.IsDefault ? [] : field; init; }
}

/// <summary>A photo or other paper of a survey.</summary>
/// <param name="Entry">The journal's entry that brought it.</param>
/// <param name="At">When it was attached.</param>
/// <param name="Name">Its file's name.</param>
/// <param name="Caption">What it shows; empty when nobody said.</param>
public sealed record PhotoCard(long Entry, DateTimeOffset At, string Name, string Caption)
{
    /// <summary>Its length.</summary>
    public long Bytes { get; init; }

    /// <summary>SHA-256 of its bytes.</summary>
    public string Sha256 { get => field ?? ""; init; }

    /// <summary>True when it is a picture that a page can show.</summary>
    public bool IsPicture { get; init; }

    /// <summary>True when the file says where on earth it was taken.</summary>
    public bool HasPosition { get; init; }
}

/// <summary>A check that is to be kept.</summary>
/// <param name="Verdict">The verdict, <c>leadwright.check/1</c>.</param>
/// <param name="Readings">The readings it rests on, <c>leadwright.readings/1</c>; null for a recording.</param>
public sealed record HookupKeep(JsonElement Verdict, JsonElement? Readings)
{
    /// <summary>Its own number; a survey takes each once. Empty for none.</summary>
    public string Id { get => field ?? ""; init; }

    /// <summary>When it was made, by the clock of the device that it was made on; null when not known.</summary>
    public DateTimeOffset? Made { get; init; }

    /// <summary>What was found at the panel, each as ACTION=ANSWER.</summary>
    public ImmutableArray<string> Told { get => field.IsDefault ? [] : field; init; }
}
