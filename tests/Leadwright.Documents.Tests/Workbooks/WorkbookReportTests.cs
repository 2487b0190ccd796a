using System.IO.Compression;
using System.Text;
using ExcelDataReader;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Workbooks;

namespace Leadwright.Documents.Tests.Workbooks;

/// <summary>What another program's reader (ExcelDataReader) finds in the workbook.</summary>
public sealed class WorkbookReportTests
{
    [Fact]
    public async Task Numbers_are_numbers_times_are_times_and_headings_bear_the_unit()
    {
        var sheets = Sheets(await BytesAsync());
        var demand = sheets["Demand by window"];
        Assert.Equal(["From", "Demand (kW)", "Standing"], demand[0]);
        Assert.All(demand.Skip(1), row => Assert.IsType<DateTime>(row[0]));
        Assert.All(demand.Skip(1), row => Assert.True(row[1] is double or null));
        Assert.Contains(demand.Skip(1), row => row[1] is double and > 0);
        Assert.Contains("en-50160", sheets.Keys);
        Assert.Contains("Watch", sheets.Keys);
    }

    [Fact]
    public async Task Energy_by_hour_sums_to_the_energy_of_the_report()
    {
        var subject = TestSurvey.Week();
        var rows = Sheets(await BytesAsync())["Energy by hour"].Skip(1).Sum(row => (double)row[1]!);
        Assert.Equal(subject.Study.Load!.Energy.ImportWattHours / 1000, rows, 1e-6 * rows);
    }

    [Fact]
    public async Task Headings_stay_in_sight()
    {
        using var zip = new ZipArchive(new MemoryStream(await BytesAsync()), ZipArchiveMode.Read);
        var sheets = zip.Entries.Where(entry => entry.FullName.StartsWith("xl/worksheets/", StringComparison.Ordinal)).ToList();
        Assert.True(sheets.Count > 10);
        foreach (var sheet in sheets)
        {
            using var reader = new StreamReader(sheet.Open(), Encoding.UTF8);
            Assert.Contains("state=\"frozen\"", await reader.ReadToEndAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_same_subject_gives_the_same_bytes() => Assert.Equal(await BytesAsync(), await BytesAsync());

    private static Task<byte[]> BytesAsync() => WorkbookReport.WriteAsync(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()), TestContext.Current.CancellationToken);

    private static Dictionary<string, List<object?[]>> Sheets(byte[] bytes)
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        using var reader = ExcelReaderFactory.CreateReader(new MemoryStream(bytes));
        var sheets = new Dictionary<string, List<object?[]>>(StringComparer.Ordinal);
        do
        {
            var rows = new List<object?[]>();
            while (reader.Read()) rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetValue)]);
            sheets.Add(reader.Name, rows);
        }
        while (reader.NextResult());
        return sheets;
    }
}
