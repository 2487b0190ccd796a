using System.Buffers;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>The pyramid of a table: opened level by level, and built anew where it is missing, damaged or of another table.</summary>
internal sealed class SurveyPyramid(ISurveyStorage storage, TableName name, string survey, TableFile table, TableShape shape) : IDisposable
{
    private readonly SemaphoreSlim _one = new(1);
    private readonly PyramidLevel?[] _levels = new PyramidLevel?[PyramidGrid.LevelsOf(shape.Rows)];

    // Levels that others may still read from.
    private readonly List<PyramidLevel> _opened = [];
    private bool _cannotBuild;

    /// <summary>A level; null when it is not there and can't be built.</summary>
    public async Task<PyramidLevel?> LevelAsync(int level, CancellationToken cancellation)
    {
        if (Volatile.Read(ref _levels[level]) is { } ready) return ready;
        await _one.WaitAsync(cancellation).ConfigureAwait(false);
        try
        {
            if (_levels[level] is { } other) return other;
            var found = await TryOpenAsync(level, cancellation).ConfigureAwait(false);
            if (found is null && !_cannotBuild && await TryBuildAsync(cancellation).ConfigureAwait(false))
                found = await TryOpenAsync(level, cancellation).ConfigureAwait(false);
            if (found is null) return null;
            _opened.Add(found);
            Volatile.Write(ref _levels[level], found);
            return found;
        }
        finally
        {
            _one.Release();
        }
    }

    /// <summary>Tells that a level turned out to be damaged: it is built anew the next time.</summary>
    public void Distrust(PyramidLevel level)
    {
        if (Interlocked.CompareExchange(ref _levels[level.Number], null, level) != level) return;
        try
        {
            storage.Delete(name.PyramidFileIn(survey, level.Number));
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            _cannotBuild = true;
        }
    }

    /// <summary>Holds every level that is there against its digest; one that differs is taken away.</summary>
    public async Task VerifyAsync(CancellationToken cancellation)
    {
        for (var level = 0; level < _levels.Length; level++)
        {
            if (storage.LengthOf(name.PyramidFileIn(survey, level)) is null) continue;
            try
            {
                using var file = await TableFile.OpenAsync(storage, name.PyramidFileIn(survey, level), cancellation).ConfigureAwait(false);
                await file.VerifyAsync(cancellation).ConfigureAwait(false);
            }
            catch (SurveyException)
            {
                if (Volatile.Read(ref _levels[level]) is { } opened) Distrust(opened);
                else storage.Delete(name.PyramidFileIn(survey, level));
            }
        }
    }

    public void Dispose()
    {
        foreach (var level in _opened) level.File.Dispose();
        _one.Dispose();
    }

    private async Task<PyramidLevel?> TryOpenAsync(int level, CancellationToken cancellation)
    {
        TableFile? file = null;
        try
        {
            file = await TableFile.OpenAsync(storage, name.PyramidFileIn(survey, level), cancellation).ConfigureAwait(false);
            if (file.Metadata.GetValueOrDefault("schema") == PyramidFields.SchemaName && file.Metadata.GetValueOrDefault("table_sha256") == table.Identity)
                return await LoadAsync(level, file, cancellation).ConfigureAwait(false);
        }
        catch (SurveyException)
        {
            // Summaries are built anew; what matters is the table.
        }
        catch
        {
            file?.Dispose();
            throw;
        }

        file?.Dispose();
        return null;
    }

    private static Task<PyramidLevel> LoadAsync(int level, TableFile file, CancellationToken cancellation) => file.ReadAsync(async reader =>
    {
        var (starts, rows) = (new long[file.GroupRows.Length][], new int[file.GroupRows.Length][]);
        var (startField, rowField) = (file.Find(PyramidFields.Start) ?? file.Find(PyramidFields.Elapsed), file.Find(PyramidFields.Rows));
        if (startField is null || rowField is null) throw new InvalidDataException("its columns are others");
        for (var group = 0; group < starts.Length; group++)
        {
            using var blocks = reader.OpenRowGroupReader(group);
            starts[group] = await TableFile.ReadTimesAsync(blocks, startField, file.GroupRows[group], cancellation).ConfigureAwait(false);
            rows[group] = new int[file.GroupRows[group]];
            await blocks.ReadAsync<int>(rowField, rows[group].AsMemory(), null, cancellation).ConfigureAwait(false);
        }

        return new PyramidLevel(level, file, starts, rows);
    }, cancellation);

    private async Task<bool> TryBuildAsync(CancellationToken cancellation)
    {
        try
        {
            await BuildAsync(storage, name, survey, table, shape, cancellation).ConfigureAwait(false);
            return true;
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // On a stick that can't be written to, or while another program builds it, the table itself is read.
            _cannotBuild = true;
            return false;
        }
    }

    /// <summary>Builds the pyramid from the table.</summary>
    public static async Task BuildAsync(
        ISurveyStorage storage, TableName name, string survey, TableFile table, TableShape shape, CancellationToken cancellation)
    {
        var writer = await PyramidWriter.StartAsync(storage, survey, name, shape.Rows, shape.IntervalTicks, shape.PyramidColumns, shape.HasClock).ConfigureAwait(false);
        await using (writer.ConfigureAwait(false))
        {
            await table.ReadAsync(async reader =>
            {
                for (var group = 0; group < shape.Groups.Length; group++)
                {
                    using var rows = reader.OpenRowGroupReader(group);
                    await AddGroupAsync(writer, rows, table.GroupRows[group], shape, cancellation).ConfigureAwait(false);
                }

                return true;
            }, cancellation).ConfigureAwait(false);
            await writer.CompleteAsync(table.Identity).ConfigureAwait(false);
        }
    }

    private static async Task AddGroupAsync(
        PyramidWriter writer, Parquet.ParquetRowGroupReader group, int count, TableShape shape, CancellationToken cancellation)
    {
        writer.StartRows(await TableFile.ReadTimesAsync(group, shape.Time, count, cancellation).ConfigureAwait(false));
        var numbers = ArrayPool<double>.Shared.Rent(count);
        try
        {
            for (var column = 0; column < shape.Columns.Length; column++)
            {
                cancellation.ThrowIfCancellationRequested();
                await TableFile.ReadNumbersAsync(group, shape.Values[column], numbers.AsMemory(0, count), cancellation).ConfigureAwait(false);
                var standings = shape.Standings[column] is { } field ? await TableFile.ReadStandingsAsync(group, field, count).ConfigureAwait(false) : [];
                writer.Add(column, numbers.AsSpan(0, count), standings);
            }
        }
        finally
        {
            ArrayPool<double>.Shared.Return(numbers);
        }

        await writer.EndRowsAsync().ConfigureAwait(false);
    }
}
