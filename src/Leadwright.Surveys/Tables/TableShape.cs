using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Surveys.Storage;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>What a table of a survey holds and where in its file: columns, times of the row groups, length of an interval.</summary>
internal sealed record TableShape
{
    public required DataField Time { get; init; }

    public required bool HasClock { get; init; }

    public required ImmutableArray<StoredColumn> Columns { get; init; }

    public required DataField[] Values { get; init; }

    public required DataField?[] Standings { get; init; }

    /// <summary>First and last start of each row group, ticks.</summary>
    public required (long First, long Last)[] Groups { get; init; }

    public required long Rows { get; init; }

    public required double IntervalSeconds { get; init; }

    public required TableHead? Head { get; init; }

    public long IntervalTicks => Math.Max(1, (long)Math.Round(IntervalSeconds * TimeSpan.TicksPerSecond));

    public PyramidColumn[] PyramidColumns => [.. Columns.Select(column => new PyramidColumn(column.Name, column.HasStandings, column.IsAngle))];

    /// <summary>Looks at a file.</summary>
    /// <exception cref="SurveyException">It has no times.</exception>
    public static async Task<TableShape> OfAsync(TableFile file, ISurveyStorage storage, TableName name, CancellationToken cancellation)
    {
        var head = TableHead.Of(file.Metadata);
        var clock = file.Find("start") is { } start && start.ClrType == typeof(DateTime) ? start : null;
        var time = clock ?? file.Find("start_s") ?? throw new SurveyException(
            SurveyProblem.Refused, $"The table '{name}' in the survey '{storage.Name}' has no column 'start' of times and no 'start_s' of seconds: it can't be drawn over time.");
        var values = file.Fields.Where(IsNumber).ToArray();
        var standings = Array.ConvertAll(values, field => StandingOf(file, head, field.Name));
        var logColumns = head?.Columns.ToDictionary(column => column.Field, column => column.ToColumn(), StringComparer.Ordinal);
        var columns = values.Select((field, index) =>
        {
            var column = logColumns?.GetValueOrDefault(field.Name);
            return new StoredColumn(index, field.Name, StoredColumn.UnitOf(field.Name, column), column, standings[index] is not null);
        }).ToImmutableArray();
        var groups = await GroupsOfAsync(file, head, time, cancellation).ConfigureAwait(false);
        var rows = file.GroupRows.Sum(count => (long)count);
        return new TableShape
        {
            Time = time, HasClock = clock is not null && (rows == 0 || RecordTime.IsDated(new DateTime(groups[0].First))), Columns = columns, Values = values, Standings = standings, Groups = groups, Rows = rows, Head = head,
            IntervalSeconds = head?.IntervalSeconds is > 0 and var stated ? stated : UsualInterval(groups, rows),
        };
    }

    private static bool IsNumber(DataField field) =>
        field.MaxRepetitionLevel == 0 && field.Name is not ("start_s" or "end_s")
        && (field.ClrType == typeof(double) || field.ClrType == typeof(float) || field.ClrType == typeof(int) || field.ClrType == typeof(long));

    // A log has a column of standings for each column of values that needs one; a measured table has one for each channel.
    private static DataField? StandingOf(TableFile file, TableHead? head, string name)
    {
        if (head is not null) return head.Columns.FirstOrDefault(column => column.Field == name)?.StandingField is { } field ? file.Find(field) : null;
        var found = file.Find(LogNames.StandingOf(name)) ?? file.Find(name.Split('_')[0] + "_standing");
        return found?.ClrType == typeof(string) || found?.ClrType == typeof(ReadOnlyMemory<char>) ? found : null;
    }

    private static async Task<(long First, long Last)[]> GroupsOfAsync(TableFile file, TableHead? head, DataField time, CancellationToken cancellation)
    {
        var groups = new (long First, long Last)[file.GroupRows.Length];
        if (head is not null && head.Groups.Length == 2 * groups.Length)
        {
            for (var group = 0; group < groups.Length; group++) groups[group] = (head.Groups[2 * group], head.Groups[(2 * group) + 1]);
            return groups;
        }

        return await file.ReadAsync(async reader =>
        {
            for (var group = 0; group < groups.Length; group++)
            {
                cancellation.ThrowIfCancellationRequested();
                using var rows = reader.OpenRowGroupReader(group);
                var starts = await TableFile.ReadTimesAsync(rows, time, file.GroupRows[group], cancellation).ConfigureAwait(false);
                if (starts.Length == 0) continue;
                for (var row = 1; row < starts.Length; row++)
                {
                    if (starts[row] < starts[row - 1]) throw new InvalidDataException("its rows are not in the order of time");
                }

                if (group > 0 && starts[0] < groups[group - 1].Last) throw new InvalidDataException("its row groups are not in the order of time");
                groups[group] = (starts[0], starts[^1]);
            }

            return groups;
        }, cancellation).ConfigureAwait(false);
    }

    private static double UsualInterval((long First, long Last)[] groups, long rows) =>
        rows < 2 ? 1 : Math.Max(1e-7, (double)(groups[^1].Last - groups[0].First) / (rows - 1) / TimeSpan.TicksPerSecond);
}
