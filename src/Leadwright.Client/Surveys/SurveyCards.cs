using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>A survey in the list.</summary>
/// <param name="Id">Its name in addresses and on disk.</param>
/// <param name="Name">What it is called: the site's name.</param>
public record SurveyCard(string Id, string Name)
{
    /// <summary>The place: address, building, board; empty when not told.</summary>
    public string Place { get => field ?? ""; init; }

    /// <summary>The service in words; empty when not known.</summary>
    public string Service { get => field ?? ""; init; }

    /// <summary>Nominal voltage as on the nameplate; empty when not known.</summary>
    public string Nominal { get => field ?? ""; init; }

    /// <summary>When it was last written to.</summary>
    public DateTimeOffset Changed { get; init; }

    /// <summary>True for the invented survey that is there to try things out.</summary>
    public bool IsInvented { get; init; }

    /// <summary>True when it was put away.</summary>
    public bool IsArchived { get; init; }

    /// <summary>How many recordings it has.</summary>
    public int RecordingCount { get; init; }

    /// <summary>Why it can't be opened; empty when it can.</summary>
    public string Problem { get => field ?? ""; init; }
}

/// <summary>A survey with what the screens need of it.</summary>
/// <param name="Id">Its name in addresses and on disk.</param>
/// <param name="Name">What it is called.</param>
public sealed record SurveySheet(string Id, string Name) : SurveyCard(Id, Name)
{
    /// <summary>Number of the journal's last entry: what a change must have been made from.</summary>
    public long Sequence { get; init; }

    /// <summary>The recordings, in the order of their import.</summary>
    public ImmutableArray<RecordingCard> Recordings { get => field.IsDefault ? [] : field; init; }

    /// <summary>The tables of limits that are planned, with commas between; empty for none.</summary>
    public string Limits { get => field ?? ""; init; }

    /// <summary>What is to be learnt, in the words of the command line.</summary>
    public ImmutableArray<string> Learn { get => field.IsDefault ? [] : field; init; }

    /// <summary>The plan in words; empty where there is none.</summary>
    public string PlanText { get => field ?? ""; init; }

    /// <summary>The folder on disk.</summary>
    public string Folder { get => field ?? ""; init; }

    /// <summary>The check before leaving as it was signed last; null when it never was.</summary>
    public DepartingSigned? Departing { get; init; }
}

/// <summary>A recording of a survey.</summary>
/// <param name="Name">Its name in the survey.</param>
/// <param name="File">The file's name where it came from.</param>
public sealed record RecordingCard(string Name, string File)
{
    /// <summary>Start, by the recorder's clock.</summary>
    public DateTime From { get; init; }

    /// <summary>End.</summary>
    public DateTime To { get; init; }

    /// <summary>Length of an interval, seconds; 0 for a sampled recording.</summary>
    public double IntervalSeconds { get; init; }

    /// <summary>True when it holds samples of waves.</summary>
    public bool IsSampled { get; init; }

    /// <summary>True while a person should say what its columns hold.</summary>
    public bool AsksColumns { get; init; }

    /// <summary>Length of its files.</summary>
    public long Bytes { get; init; }

    /// <summary>SHA-256 of its first file.</summary>
    public string Sha256 { get => field ?? ""; init; }

    /// <summary>When it was imported.</summary>
    public DateTimeOffset Imported { get; init; }
}

/// <summary>What a new survey starts with.</summary>
/// <param name="Name">The site's name.</param>
public sealed record NewSurvey(string Name)
{
    /// <summary>The place; empty when not told.</summary>
    public string Place { get => field ?? ""; init; }

    /// <summary>The service, as <c>wye</c>; empty when not known.</summary>
    public string Service { get => field ?? ""; init; }

    /// <summary>Nominal voltage, as <c>230/400</c>; empty when not known.</summary>
    public string Nominal { get => field ?? ""; init; }

    /// <summary>Nominal frequency, hertz; null when not known.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }
}

/// <summary>How far a piece of work is.</summary>
/// <param name="Id">Its name while it runs.</param>
/// <param name="Doing">What is being done, as <c>Reading the recording</c>.</param>
/// <param name="Share">Share done, 0 to 1; below zero when not known.</param>
public sealed record WorkState(string Id, string Doing, double Share)
{
    /// <summary>True when it ended.</summary>
    public bool IsDone { get; init; }

    /// <summary>Why it failed; empty when it did not.</summary>
    public string Problem { get => field ?? ""; init; }

    /// <summary>What it made: the name of a recording or of a survey; empty for none.</summary>
    public string Made { get => field ?? ""; init; }
}

/// <summary>What was refused, and why.</summary>
/// <param name="Title">In a few words.</param>
/// <param name="Detail">Whole sentences: what, where, and what to do.</param>
public sealed record ProblemSheet(string Title, string Detail)
{
    /// <summary>The HTTP status.</summary>
    public int Status { get; init; }
}

/// <summary>An entry of a survey's journal, for reading.</summary>
/// <param name="Number">Its number.</param>
/// <param name="At">When.</param>
/// <param name="Who">By whom.</param>
/// <param name="Says">What was done.</param>
public sealed record JournalRow(long Number, DateTimeOffset At, string Who, string Says);

/// <summary>A column that charts can show.</summary>
/// <param name="Name">Its name, as <c>V1_rms_V</c>.</param>
/// <param name="Title">Its name in words.</param>
/// <param name="Unit">Its base unit; empty for a pure number.</param>
/// <param name="Quantity">What it holds, as <c>Voltage</c>.</param>
/// <param name="Place">Which lead, clamp or phase, as <c>Phase1</c>.</param>
public sealed record ColumnCard(string Name, string Title, string Unit, string Quantity, string Place);

/// <summary>A host's session: what changes have to be sent with.</summary>
/// <param name="Token">The token.</param>
/// <param name="Version">The program's version.</param>
public sealed record SessionCard(string Token, string Version)
{
    /// <summary>The folder of the surveys on disk.</summary>
    public string Folder { get => field ?? ""; init; }

    /// <summary>Largest file that is taken, bytes.</summary>
    public long MostBytes { get; init; }
}
