using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Documents.Tests.Words;

namespace Leadwright.App.Tests.Verbs.Reporting;

public sealed class ReportVerbTests : IDisposable
{
    private static readonly string s_house = TestFolder.Data("interval/household-1min-2007-02-01.csv", Here());

    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-report-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task All_formats_come_from_one_reading_and_the_same_twice()
    {
        string[] names = ["report.pdf", "report.html", "tables.xlsx"];
        var first = await ReportAsync("a", names);
        Assert.Equal((0, ""), (first.Code, first.Error));
        await ReportAsync("b", names);
        foreach (var name in names)
            Assert.Equal(await BytesAsync("a", name), await BytesAsync("b", name));
        Assert.StartsWith("%PDF-1.7", Encoding.Latin1.GetString(await BytesAsync("a", "report.pdf")), StringComparison.Ordinal);
        var page = Encoding.UTF8.GetString(await BytesAsync("a", "report.html"));
        Assert.Contains(Convert.ToHexStringLower(SHA256.HashData(await File.ReadAllBytesAsync(s_house, TestContext.Current.CancellationToken))), page, StringComparison.Ordinal);
        Assert.Equal(names.Order(), Directory.GetFiles(Path.Combine(_folder, "a")).Select(Path.GetFileName).Order());
    }

    [Fact]
    public async Task Json_says_what_was_written()
    {
        var path = Path.Combine(_folder, "report.html");
        var run = await RunAsync("report", s_house, "--service", "single", "--nominal", "240", "--parts", "summary,load", "-o", path, "--format", "json");
        var json = JsonDocument.Parse(Assert.Single(run.Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.report/1", json.GetProperty("schema").GetString());
        Assert.Equal(["summary", "load"], json.GetProperty("parts").EnumerateArray().Select(part => part.GetString()!));
        var written = json.GetProperty("written")[0];
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken))), written.GetProperty("sha256").GetString());
    }

    [Fact]
    public async Task A_survey_folder_gives_its_site_and_its_limits()
    {
        var board = Path.Combine(_folder, "board");
        Assert.Equal(0, (await RunAsync("survey", "new", board, "--title", "Invented house", "--service", "single", "--nominal", "240", "--who", "T. Ester")).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", board, s_house)).Code);
        var page = Path.Combine(_folder, "report.html");
        var run = await RunAsync("report", board, "-o", page);
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("Invented house", await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2, "must end in", "-o", "report.docx")]
    [InlineData(2, "Name the document", "--parts", "load")]
    [InlineData(2, "'lod'", "-o", "report.pdf", "--parts", "lod")]
    [InlineData(2, "no date", "-o", "report.pdf", "--date", "16.3.2026")]
    [InlineData(1, "firm.json", "-o", "report.pdf", "--letterhead", "firm.json")]
    [InlineData(1, "mine.json", "-o", "report.pdf", "--words", "mine.json")]
    public async Task What_cannot_be_done_is_named_and_nothing_is_written(int code, string named, params string[] args)
    {
        var run = await RunAsync(["report", s_house, .. args.Select(arg => arg == "report.pdf" ? Path.Combine(_folder, arg) : arg)]);
        Assert.Equal(code, run.Code);
        Assert.Contains(named, run.Error, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public async Task The_recording_itself_is_never_written_over()
    {
        var copy = Path.Combine(_folder, "recording.html");
        File.Copy(s_house, copy);
        Assert.NotEqual(0, (await RunAsync("report", copy, "-o", copy)).Code);
        Assert.Equal(await File.ReadAllBytesAsync(s_house, TestContext.Current.CancellationToken), await File.ReadAllBytesAsync(copy, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task The_shipped_words_can_be_printed_and_read_back()
    {
        var shown = await RunAsync("report", "--show-words");
        Assert.Equal(0, shown.Code);
        var path = Path.Combine(_folder, "words.json");
        await File.WriteAllTextAsync(path, shown.Output.Replace("Electrical survey report", "Bericht", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        var page = Path.Combine(_folder, "report.html");
        Assert.Equal(0, (await RunAsync("report", s_house, "--service", "single", "--nominal", "240", "--words", path, "-o", page)).Code);
        Assert.Contains("<h1>Bericht</h1>", await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    // What stands in the file in letters of another script stands so in the report of a survey: whatever is left is data, was typed by a person, or names a clause.
    // The part on the data also holds what the reader of the file noted, which is kept with the import as it was said then.
    [Fact]
    public async Task A_report_by_marked_words_has_no_unmarked_sentence()
    {
        var words = Path.Combine(_folder, "marked.json");
        await File.WriteAllBytesAsync(words, MarkedWords.Of(Encoding.UTF8.GetBytes((await RunAsync("report", "--show-words")).Output)), TestContext.Current.CancellationToken);
        var board = Path.Combine(_folder, "board");
        Assert.Equal(0, (await RunAsync("survey", "new", board, "--title", "Invented house", "--service", "single", "--nominal", "240", "--who", "T. Ester")).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", board, s_house)).Code);
        Assert.Equal(0, (await RunAsync("survey", "words", board, "--set", "customer=Invented", "--set", "questions=Invented?", "--set", "note.load=Invented.", "--who", "T. Ester")).Code);
        foreach (var (source, index) in new[] { board, s_house, TestFolder.Data("comtrade/substation/xtz.cfg", Here()) }.Select((source, index) => (source, index)))
        {
            var page = Path.Combine(_folder, $"report-{index}.html");
            string[] site = index == 0 ? [] : index == 1 ? ["--service", "single"] : ["--service", "wye", "--nominal", "100"];
            var run = await RunAsync(["report", source, .. site, "--limits", "en-50160,ieee-519", "--words", words, "--parts", "summary,site,hook-up,watch,mended,load,voltage,events,findings,not-shown,method,cautions,signature", "-o", page]);
            Assert.Equal("", run.Error);
            var left = MarkedWords.LeftIn(await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken), "Invented", "house", "Ester", "household", "xtz", "cfg", "dat", "hdr", "table");
            Assert.True(left.Count == 0, $"{source}: {left.Count} texts do not come from the words:\n{string.Join('\n', left.Take(60))}");
        }
    }

    // A real fault record whose hook-up Kirchhoff's law proves: tests/data/README.md.
    [Fact]
    public async Task A_sampled_recording_is_judged_by_its_samples_with_its_events()
    {
        var page = Path.Combine(_folder, "report.html");
        var run = await RunAsync("report", TestFolder.Data("comtrade/substation/xtz.cfg", Here()), "--service", "wye", "--nominal", "100", "-o", page);
        Assert.Equal("", run.Error);
        var text = await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken);
        Assert.Contains("xtz.dat", text, StringComparison.Ordinal);
        Assert.Contains("Vector diagram", text, StringComparison.Ordinal);
        Assert.Contains("2\u00a0× dip", text, StringComparison.Ordinal);
    }

    private Task<(int Code, string Output, string Error)> ReportAsync(string folder, string[] names) =>
        RunAsync(["report", s_house, "--service", "single", "--nominal", "240", .. names.SelectMany(name => new[] { "-o", Path.Combine(_folder, folder, name) })]);

    private Task<byte[]> BytesAsync(string folder, string name) => File.ReadAllBytesAsync(Path.Combine(_folder, folder, name), TestContext.Current.CancellationToken);

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }

    // TestFolder.Data counts folders up from the test that asks; it stands two above this one.
    private static string Here([System.Runtime.CompilerServices.CallerFilePath] string path = "") => Path.Combine(Path.GetDirectoryName(path)!, "..", "here.cs");
}
