using Leadwright.App.Verbs.Surveying;
using Leadwright.Reports.Measuring;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>A measured table that is to be kept in a survey; in a folder of its own meanwhile where none was named.</summary>
internal sealed class KeptMeasure : IDisposable
{
    private readonly SurveyInput _input;
    private readonly WorkFolder? _folder;

    private KeptMeasure(SurveyInput input, MeasureRequest request)
    {
        _input = input;
        _folder = request.Output is null ? WorkFolder.Make("leadwright-measure-") : null;
        Request = _folder is null ? request : request with { Output = Path.Combine(_folder.Path, "measured.parquet") };
    }

    /// <summary>The request, with the table's place.</summary>
    public MeasureRequest Request { get; }

    /// <summary>Begins.</summary>
    /// <exception cref="InputRefusedException">The input is no recording of a survey.</exception>
    public static KeptMeasure For(SurveyInput input, MeasureRequest request) => input.Folder is not null ? new(input, request)
        : throw new InputRefusedException(ExitCode.WrongUsage, $"--keep: '{input.Path}' is not a recording of a survey. Name the survey's folder.");

    /// <summary>Takes the table and its events into the survey.</summary>
    /// <exception cref="InputRefusedException">They can't be written.</exception>
    /// <param name="document">What was measured.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>What was measured, with where the tables are.</returns>
    public async Task<MeasureDocument> KeepAsync(MeasureDocument document, CancellationToken cancellation)
    {
        await TakeInAsync(cancellation);
        return _folder is null ? document : document with { Written = [$"the tables of the survey {_input.Folder}: {TableName.Measured}, {TableName.Events}"] };
    }

    private Task TakeInAsync(CancellationToken cancellation) => _input.KeepTableAsync(async (folder, survey, part) =>
    {
        var table = Request.Output!;
        await AddAsync(TableName.Measured, table);
        var events = Path.Combine(Path.GetDirectoryName(table) ?? "", Path.GetFileNameWithoutExtension(table) + "-events.parquet");
        if (File.Exists(events)) await AddAsync(TableName.Events, events);

        async Task AddAsync(string kind, string path)
        {
            using var stream = File.OpenRead(path);
            await SurveyTables.AddAsync(folder, survey, new TableName(kind, part), stream, cancellation);
        }
    });

    public void Dispose() => _folder?.Dispose();
}
