using System.Collections.Concurrent;
using System.Collections.Immutable;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Formats.Sampling;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>The computed tables of a survey: Parquet files under <c>tables/KIND/survey=NAME/</c> that any engine of SQL reads, for one survey or a folder of thousands.</summary>
/// <remarks>Tables and pyramids are computed: they may be deleted, and are made anew from the recordings. What is open shows the tables as they were when opened;
/// open again after one was written.</remarks>
public sealed class SurveyTables : IDisposable
{
    private readonly ISurveyStorage _storage;
    private readonly ImmutableDictionary<TableName, string> _surveys;
    private readonly ConcurrentDictionary<TableName, Lazy<Task<SurveyTable>>> _tables = new();

    private SurveyTables(ISurveyStorage storage, string? survey)
    {
        _storage = storage;
        _surveys = TableName.In(storage).Where(found => survey is null || found.Survey == survey).GroupBy(found => found.Table).ToImmutableDictionary(same => same.Key, same => same.First().Survey);
        Names = [.. _surveys.Keys.OrderBy(name => name.Kind, StringComparer.Ordinal).ThenBy(name => name.Part)];
    }

    /// <summary>The tables that are there.</summary>
    public ImmutableArray<TableName> Names { get; }

    /// <summary>Looks for the tables of a survey.</summary>
    /// <param name="folder">The survey folder.</param>
    /// <param name="survey">The survey's name among all; null takes the tables whatever survey they name, as a copy of a survey may hold those of its model.</param>
    /// <returns>Its tables; none when nothing was computed yet.</returns>
    /// <exception cref="SurveyException">There is no such folder.</exception>
    public static SurveyTables Open(string folder, string? survey = null)
    {
        ArgumentNullException.ThrowIfNull(folder);
        return Open(new DiskStorage(folder), survey);
    }

    /// <summary>Opens a table, or gives the one that is open already. It is closed with these tables.</summary>
    /// <param name="name">Which one.</param>
    /// <param name="cancellation">Ends the opening.</param>
    /// <returns>The table.</returns>
    /// <exception cref="SurveyException">It is not there, or is damaged.</exception>
    public async Task<SurveyTable> TableAsync(TableName name, CancellationToken cancellation = default)
    {
        if (!_surveys.TryGetValue(name, out var survey))
        {
            var there = Names.Length == 0 ? "none is" : $"there are {string.Join(", ", Names)}";
            throw new SurveyException(SurveyProblem.NotFound, $"The survey '{_storage.Name}' has no table '{name}': {there}. Import the recording, or compute the table.");
        }

        cancellation.ThrowIfCancellationRequested();
        var opening = _tables.GetOrAdd(name, _ => new Lazy<Task<SurveyTable>>(() => SurveyTable.OpenAsync(_storage, name, survey, CancellationToken.None)));
        try
        {
            return await opening.Value.WaitAsync(cancellation).ConfigureAwait(false);
        }
        catch (SurveyException)
        {
            _tables.TryRemove(new(name, opening));
            throw;
        }
    }

    /// <summary>Writes a log as a table, with the pyramid from which charts are drawn. A table of that name is replaced when the new one is whole.</summary>
    /// <param name="folder">The survey folder.</param>
    /// <param name="survey">The survey's name among all.</param>
    /// <param name="log">The log.</param>
    /// <param name="options">Which table, standings, what is kept with it; null for the table of the log.</param>
    /// <param name="cancellation">Ends the writing; what was there stays.</param>
    /// <exception cref="ArgumentException">Standings are not as many as rows, or two rows start in the same microsecond.</exception>
    /// <exception cref="SurveyException">A name can't be one, or the table can't be written: the disk is full, or the place is not to be written to.</exception>
    public static Task WriteLogAsync(string folder, string survey, IntervalLog log, TableWriteOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(log);
        return WriteLogAsync(new DiskStorage(folder), survey, log, options ?? new(), cancellation);
    }

    /// <summary>Writes the samples of a recording as a table of one row a sample, with the pyramid from which charts are drawn: from the whole recording down to
    /// one cycle. Memory is bounded, whatever the length.</summary>
    /// <param name="folder">The survey folder.</param>
    /// <param name="survey">The survey's name among all.</param>
    /// <param name="open">Opens the recording at its first sample; is called once for every eight channels.</param>
    /// <param name="options">Which table, what is kept with it.</param>
    /// <param name="cancellation">Ends the writing; what was there stays.</param>
    /// <returns>What was written.</returns>
    /// <exception cref="Formats.FormatReadException">The recording can't be read through.</exception>
    /// <exception cref="SurveyException">A name can't be one, or the table can't be written.</exception>
    public static async Task<SampleTableFacts> WriteSamplesAsync(
        string folder, string survey, Func<SampleSource> open, TableWriteOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(open);
        ArgumentNullException.ThrowIfNull(options);
        var storage = new DiskStorage(folder);
        try
        {
            return await SampleTableWriter.WriteAsync(storage, survey, open, options, cancellation).ConfigureAwait(false);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of($"write the table '{options.Table}'", folder, failure);
        }
    }

    /// <summary>Takes a Parquet table as it stands, such as one that was measured, and builds its pyramid when it has a column of times.</summary>
    /// <param name="folder">The survey folder.</param>
    /// <param name="survey">The survey's name among all.</param>
    /// <param name="name">Which table it becomes.</param>
    /// <param name="table">The table's bytes, with seeking; stays open.</param>
    /// <param name="cancellation">Ends the writing; what was there stays.</param>
    /// <exception cref="SurveyException">A name can't be one, the bytes are no whole Parquet table, or it can't be written.</exception>
    public static Task AddAsync(string folder, string survey, TableName name, Stream table, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(table);
        return TableCopy.AddAsync(new DiskStorage(folder), survey, name, table, cancellation);
    }

    /// <summary>Writes what guarding found as the table of spans: <c>start</c>, <c>end</c>, <c>kind</c>, <c>channels</c>, <c>confidence</c>.</summary>
    /// <param name="folder">The survey folder.</param>
    /// <param name="survey">The survey's name among all.</param>
    /// <param name="spans">The spans.</param>
    /// <param name="part">Number of the recording.</param>
    /// <param name="cancellation">Ends the writing; what was there stays.</param>
    /// <exception cref="SurveyException">A name can't be one, or it can't be written.</exception>
    public static Task WriteSpansAsync(string folder, string survey, IEnumerable<GuardSpan> spans, int part = 0, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(spans);
        return SpanTable.WriteAsync(new DiskStorage(folder), survey, new(TableName.Spans, part), [.. spans], cancellation);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var opening in _tables.Values)
        {
            if (opening.IsValueCreated && opening.Value.IsCompletedSuccessfully) opening.Value.Result.Dispose();
        }

        _tables.Clear();
    }

    internal static SurveyTables Open(ISurveyStorage storage, string? survey = null)
    {
        if (!storage.IsThere) throw new SurveyException(SurveyProblem.NotFound, $"There is no survey '{storage.Name}'. Look at its name and folder; a stick may have been pulled.");
        try
        {
            return new SurveyTables(storage, survey);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of("look for tables", storage.Name, failure);
        }
    }

    internal static async Task WriteLogAsync(ISurveyStorage storage, string survey, IntervalLog log, TableWriteOptions options, CancellationToken cancellation)
    {
        try
        {
            await LogTableWriter.WriteAsync(storage, survey, log, options, cancellation).ConfigureAwait(false);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of($"write the table '{options.Table}'", storage.Name, failure);
        }
    }
}
