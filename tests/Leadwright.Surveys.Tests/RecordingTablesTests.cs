using System.Runtime.CompilerServices;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Shelves;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests;

/// <summary>Copies that come without tables get them anew, the same to the byte where the survey is the same.</summary>
public sealed class RecordingTablesTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-recomputed-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task What_came_in_a_zip_file_has_its_tables_computed_anew()
    {
        var cancellation = TestContext.Current.CancellationToken;
        var folder = await MadeAsync();
        using var zip = new MemoryStream();
        using (var survey = SurveyFolder.Open(folder)) SurveyZip.Pack(survey, zip, cancellation: cancellation);
        zip.Position = 0;
        var copy = new SurveyShelf(Path.Combine(_place, "shelf")).CopyFromZip(zip, "board.zip", cancellation: cancellation);
        Assert.False(Directory.Exists(Path.Combine(copy.Path, "tables")));
        using (var survey = SurveyFolder.Open(copy.Path)) Assert.Empty(await new RecordingTables(survey).ComputeMissingAsync(cancellation: cancellation));
        Assert.Equal(TablesOf(folder), TablesOf(copy.Path));
    }

    [Fact]
    public async Task A_duplicate_has_tables_under_its_own_name()
    {
        var cancellation = TestContext.Current.CancellationToken;
        var copy = new SurveyShelf(Path.Combine(_place, "shelf")).Duplicate(await MadeAsync(), "The copy", Surveys.Author, cancellation: cancellation);
        var shares = new List<double>();
        using (var survey = SurveyFolder.Open(copy.Path)) Assert.Empty(await new RecordingTables(survey).ComputeMissingAsync(new Shares(shares), cancellation));
        using var tables = SurveyTables.Open(copy.Path, copy.Id);
        Assert.Equal([new TableName(TableName.Log), new TableName(TableName.Samples, 1)], tables.Names);
        var log = await tables.TableAsync(new(TableName.Log), cancellation);
        Assert.Equal(48, log.RowCount);
        Assert.Equal(1, shares[^1]);
        Assert.Equal(shares.Order(), shares);
    }

    [Fact]
    public async Task An_original_that_is_gone_is_told_and_stops_nothing()
    {
        var cancellation = TestContext.Current.CancellationToken;
        var folder = await MadeAsync();
        Directory.Delete(Path.Combine(folder, "tables"), recursive: true);
        var original = Path.Combine(folder, "originals", "week", "week.csv");
        File.SetAttributes(original, FileAttributes.Normal);
        File.Delete(original);
        using var survey = SurveyFolder.Open(folder);
        Assert.Contains("'week'", Assert.Single(await new RecordingTables(survey).ComputeMissingAsync(cancellation: cancellation)), StringComparison.Ordinal);
        using var tables = SurveyTables.Open(folder);
        Assert.Equal([new TableName(TableName.Samples, 1)], tables.Names);
    }

    private async Task<string> MadeAsync([CallerFilePath] string caller = "")
    {
        var data = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(caller)!, "../data"));
        var folder = Path.Combine(_place, "board");
        using var survey = SurveyFolder.Create(folder, Surveys.Sample, Surveys.Author);
        var import = new RecordingImport(survey);
        await import.ImportAsync(
            [IncomingSource.OfFile(Path.Combine(data, "surveys/schema-1/originals/week/week.csv"))], new ImportOptions { ScansIntegrity = false }, null, TestContext.Current.CancellationToken);
        var wave = string.Concat(Enumerable.Range(0, 4000).Select(row => FormattableString.Invariant($"{row * 0.0005:0.0000},{325 * Math.Sin(2 * Math.PI * 50 * row * 0.0005):0.00}\n")));
        await import.ImportAsync([Surveys.Source("wave.csv", "time (s),V1 (V)\n" + wave)], null, null, TestContext.Current.CancellationToken);
        return folder;
    }

    private static IEnumerable<(string, string)> TablesOf(string folder) =>
        Directory.EnumerateFiles(Path.Combine(folder, "tables"), "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(file => (Path.GetRelativePath(folder, file), Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file)))));

    private sealed class Shares(List<double> shares) : IProgress<double>
    {
        public void Report(double value) => shares.Add(value);
    }
}
