using Leadwright.Core.Logs;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Builds the pyramid of a table in one pass at bounded memory: a file for each level.</summary>
internal sealed class PyramidWriter : IAsyncDisposable
{
    // From the lowest level up.
    private readonly List<PyramidLevelWriter> _levels = [];

    /// <summary>Starts a pyramid.</summary>
    /// <param name="storage">The survey folder.</param>
    /// <param name="survey">Its name among all.</param>
    /// <param name="table">The table.</param>
    /// <param name="rows">Rows of the table.</param>
    /// <param name="intervalTicks">Length of an interval, ticks.</param>
    /// <param name="columns">Its columns of numbers.</param>
    /// <param name="hasClock">False where the table counts seconds from the recording's start.</param>
    public static async Task<PyramidWriter> StartAsync(
        ISurveyStorage storage, string survey, TableName table, long rows, long intervalTicks, PyramidColumn[] columns, bool hasClock)
    {
        var pyramid = new PyramidWriter();
        try
        {
            PyramidLevelWriter? above = null;
            for (var level = columns.Length == 0 ? -1 : PyramidGrid.LevelsOf(rows) - 1; level >= 0; level--)
            {
                above = await PyramidLevelWriter.StartAsync(
                    storage, table.PyramidFileIn(survey, level), PyramidGrid.TicksOf(level, intervalTicks), columns, hasClock, above).ConfigureAwait(false);
                pyramid._levels.Insert(0, above);
            }

            return pyramid;
        }
        catch
        {
            await pyramid.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    public void StartRows(ReadOnlySpan<long> starts)
    {
        if (_levels.Count > 0) _levels[0].StartRows(starts);
    }

    public void Add(int column, ReadOnlySpan<double> values, ReadOnlySpan<Standing> standings)
    {
        if (_levels.Count > 0) _levels[0].Add(column, values, standings);
    }

    public Task EndRowsAsync() => _levels.Count > 0 ? _levels[0].SettleAsync(isLast: false) : Task.CompletedTask;

    /// <summary>Ends all levels and gives them their names.</summary>
    /// <param name="digest">That of the table's data, so that a pyramid of another table is known for one.</param>
    public async Task CompleteAsync(string digest)
    {
        if (_levels.Count > 0) await _levels[0].SettleAsync(isLast: true).ConfigureAwait(false);
        foreach (var level in _levels) await level.CompleteAsync(digest).ConfigureAwait(false);
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var level in _levels) await level.DisposeAsync().ConfigureAwait(false);
    }
}
