using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>Reads the table of a log back whole.</summary>
internal static class LogTableReader
{
    public static Task<(IntervalLog, ImmutableDictionary<int, ReadOnlyMemory<Standing>>)> ReadAsync(
        TableFile file, TableShape shape, TableName name, CancellationToken cancellation)
    {
        if (shape.Head is not { } head || shape.Rows > Array.MaxLength || head.Columns.Length != shape.Columns.Length)
            throw new SurveyException(SurveyProblem.Refused, $"The table '{name}' was not written as a log: it can be drawn, but not be read back as one.");
        return file.ReadAsync(async reader =>
        {
            var starts = new long[shape.Rows];
            var values = Array.ConvertAll(new int[shape.Columns.Length], _ => new double[shape.Rows]);
            var standings = Array.ConvertAll(shape.Standings, field => field is null ? [] : new Standing[shape.Rows]);
            var at = 0;
            for (var group = 0; group < shape.Groups.Length; group++)
            {
                var count = file.GroupRows[group];
                using var rows = reader.OpenRowGroupReader(group);
                (await TableFile.ReadTimesAsync(rows, shape.Time, count, cancellation).ConfigureAwait(false)).CopyTo(starts, at);
                for (var column = 0; column < values.Length; column++)
                {
                    cancellation.ThrowIfCancellationRequested();
                    await TableFile.ReadNumbersAsync(rows, shape.Values[column], values[column].AsMemory(at, count), cancellation).ConfigureAwait(false);
                    if (shape.Standings[column] is { } field) (await TableFile.ReadStandingsAsync(rows, field, count).ConfigureAwait(false)).CopyTo(standings[column], at);
                }

                at += count;
            }

            var told = standings.Select((all, column) => (all, column)).Where(pair => pair.all.Length > 0)
                .ToImmutableDictionary(pair => pair.column, pair => (ReadOnlyMemory<Standing>)pair.all);
            var log = new IntervalLog([.. head.Columns.Select(column => column.ToColumn())], starts, values, head.IntervalSeconds)
            {
                ClockSteps = [.. head.ClockSteps.Select(step => new ClockStep(step.Row, step.Ticks))],
            };
            return (log, told);
        }, cancellation);
    }
}
