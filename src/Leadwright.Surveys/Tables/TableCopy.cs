using System.Buffers;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Takes a Parquet file into a survey as it stands.</summary>
internal static class TableCopy
{
    private const string Unfinished = ".unfinished";

    public static async Task AddAsync(ISurveyStorage storage, string survey, TableName name, Stream table, CancellationToken cancellation)
    {
        name.Require();
        SurveyId.Require(survey);
        if (!ParquetSoundness.IsWhole(table))
            throw new SurveyException(SurveyProblem.Refused, $"What was to become the table '{name}' is no whole Parquet table. Compute it anew.");
        var path = name.FileIn(survey);
        try
        {
            await CopyAsync(storage, path, table, cancellation).ConfigureAwait(false);
        }
        catch (Exception failure)
        {
            DeleteUnfinished(storage, path);
            if (StorageFailure.IsOne(failure)) throw StorageFailure.Of($"write the table '{name}'", storage.Name, failure);
            throw;
        }

        // Events and spans are lists, not columns over time.
        if (name.Kind is not (TableName.Events or TableName.Spans)) await BuildPyramidAsync(storage, survey, name, cancellation).ConfigureAwait(false);
    }

    private static async Task CopyAsync(ISurveyStorage storage, string path, Stream table, CancellationToken cancellation)
    {
        using (var file = storage.Create(path + Unfinished))
        {
            var buffer = ArrayPool<byte>.Shared.Rent(1 << 16);
            try
            {
                while (await table.ReadAsync(buffer, cancellation).ConfigureAwait(false) is > 0 and var count) file.Write(buffer.AsSpan(0, count));
            }
            finally
            {
                ArrayPool<byte>.Shared.Return(buffer);
            }

            file.Flush();
        }

        storage.Move(path + Unfinished, path);
        storage.SyncFolder(StoredPath.FolderOf(path));
    }

    private static void DeleteUnfinished(ISurveyStorage storage, string path)
    {
        try
        {
            storage.Delete(path + Unfinished);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // The failure that led here is the one to tell.
        }
    }

    // A table without times has no use for one; one that is not made now is made when it is needed.
    public static async Task BuildPyramidAsync(ISurveyStorage storage, string survey, TableName name, CancellationToken cancellation)
    {
        using var file = await TableFile.OpenAsync(storage, name.FileIn(survey), cancellation).ConfigureAwait(false);
        if (file.Find("start") is null && file.Find("start_s") is null) return;
        try
        {
            var shape = await TableShape.OfAsync(file, storage, name, cancellation).ConfigureAwait(false);
            await SurveyPyramid.BuildAsync(storage, name, survey, file, shape, cancellation).ConfigureAwait(false);
        }
        catch (SurveyException)
        {
            // Rows may lack times, or their order: such a table is read by SQL, not drawn over time.
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of($"write the pyramid of '{name}'", storage.Name, failure);
        }
    }
}
