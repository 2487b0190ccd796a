using System.Globalization;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Which table of a survey: its kind, and its number where there are several of a kind (one for each recording).</summary>
/// <param name="Kind">What it holds, as <see cref="Log"/>: small letters, digits and hyphens.</param>
/// <param name="Part">Its number among those of its kind, from 0.</param>
public readonly record struct TableName(string Kind, int Part = 0)
{
    /// <summary>The kind of the values as the recorder wrote them, interval by interval.</summary>
    public const string Log = "log";

    /// <summary>The kind of the mended values, with standings.</summary>
    public const string Mended = "mended";

    /// <summary>The kind of what was measured from samples, interval by interval.</summary>
    public const string Measured = "measured";

    /// <summary>The kind of the samples of a recording, one row a sample.</summary>
    public const string Samples = "samples";

    /// <summary>The kind of the events: dips, swells, interruptions.</summary>
    public const string Events = "events";

    /// <summary>The kind of the spans that were found while guarding.</summary>
    public const string Spans = "spans";

    internal const string PyramidEnding = "-pyramid";
    internal const string Partition = "survey=";

    /// <inheritdoc/>
    public override string ToString() => Part == 0 ? Kind : string.Create(CultureInfo.InvariantCulture, $"{Kind} {Part}");

    internal void Require()
    {
        if (Kind is not { Length: > 0 and <= 40 } || !Kind.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-')
            || Kind.EndsWith(PyramidEnding, StringComparison.Ordinal))
            throw new SurveyException(SurveyProblem.Refused, $"'{Kind}' is no kind of table: it has 1 to 40 small letters, digits and hyphens, and does not end with {PyramidEnding}.");
        if (Part < 0) throw new SurveyException(SurveyProblem.Refused, "Tables of a kind are numbered from 0.");
    }

    internal string FolderIn(string survey) => $"tables/{Kind}/{Partition}{survey}";

    internal string FileIn(string survey) => string.Create(CultureInfo.InvariantCulture, $"{FolderIn(survey)}/part-{Part}.parquet");

    internal string PyramidFolderIn(string survey) => $"tables/{Kind}{PyramidEnding}/{Partition}{survey}";

    internal string PyramidFileIn(string survey, int level) =>
        string.Create(CultureInfo.InvariantCulture, $"{PyramidFolderIn(survey)}/part-{Part}-level-{level}.parquet");

    // Of the files of a survey: kind and survey are folders, the part is in the name.
    internal static IEnumerable<(TableName Table, string Survey)> In(ISurveyStorage storage)
    {
        foreach (var kind in storage.Folders("tables").Where(kind => !kind.EndsWith(PyramidEnding, StringComparison.Ordinal)))
        {
            foreach (var partition in storage.Folders($"tables/{kind}").Where(name => name.StartsWith(Partition, StringComparison.Ordinal)))
            {
                foreach (var file in storage.Files($"tables/{kind}/{partition}"))
                {
                    if (file.StartsWith("part-", StringComparison.Ordinal) && file.EndsWith(".parquet", StringComparison.Ordinal)
                        && int.TryParse(file.AsSpan(5, file.Length - 13), NumberStyles.None, CultureInfo.InvariantCulture, out var part))
                        yield return (new TableName(kind, part), partition[Partition.Length..]);
                }
            }
        }
    }
}
