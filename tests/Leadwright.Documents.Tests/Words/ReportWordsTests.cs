using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;
using Leadwright.Formats;

namespace Leadwright.Documents.Tests.Words;

public sealed class ReportWordsTests
{
    [Fact]
    public void Words_of_ones_own_stand_in_place_of_the_shipped_ones()
    {
        var words = Read("""{ "schema": "leadwright.words/1", "language": "de", "decimal-mark": ",", "part.summary": "Zusammenfassung" }""");
        var document = ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings() with { Words = words });
        Assert.Equal("Zusammenfassung", document.Parts[0].Title);
        Assert.Equal("Site and purpose", document.Parts[1].Title);
        var text = Encoding.Latin1.GetString(PdfReport.Write(document, PaperSize.A4));
        Assert.Contains("/Lang(de)", text, StringComparison.Ordinal);
        Assert.Equal("3,14", words.Digits(3.14159, 3));
    }

    [Theory]
    [InlineData("""{ "part.sumary": "x" }""", "part.sumary")]
    [InlineData("""{ "page": "{number}" }""", "{number}")]
    [InlineData("""{ "page": 3 }""", "a text in quotes")]
    [InlineData("""{ "schema": "leadwright.words/9" }""", "leadwright.words/1")]
    [InlineData("""{ "days": "Mo Di" }""", "seven words")]
    [InlineData("nonsense", "JSON object")]
    public void A_mistake_in_the_words_is_named(string file, string named) =>
        Assert.Contains(named, Assert.Throws<FormatReadException>(() => Read(file)).Message, StringComparison.Ordinal);

    [Fact]
    public void The_shipped_words_leave_no_place_unfilled_and_no_mark_of_a_draft()
    {
        using var document = JsonDocument.Parse(ReportWords.Shipped(), new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip });
        foreach (var word in document.RootElement.EnumerateObject())
        {
            Assert.False(string.IsNullOrWhiteSpace(word.Value.GetString()), word.Name);
            Assert.DoesNotMatch("TODO|XXX|lorem", word.Value.GetString()!);
        }

        var html = Leadwright.Documents.Html.HtmlReport.Write(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()));
        Assert.DoesNotMatch(new Regex(@"\{[a-z-]+\}"), html[html.IndexOf("</style>", StringComparison.Ordinal)..]);
    }

    [Theory]
    [InlineData(521199.76, 5, "521\u00a0200")]
    [InlineData(0.04567, 2, "0.046")]
    [InlineData(-748.034, 4, "−748.0")]
    [InlineData(9999.6, 4, "10\u00a0000")]
    [InlineData(double.NaN, 3, "–")]
    [InlineData(0, 3, "0")]
    public void Numbers_have_the_digits_that_are_asked_for(double value, int digits, string text) => Assert.Equal(text, ReportWords.English.Digits(value, digits));

    [Fact]
    public void Nothing_reads_minus_zero() => Assert.Equal("0.0", ReportWords.English.Number(-0.001, "0.0"));

    [Theory]
    [InlineData("""{ "autor": "A. Sample" }""", "'autor'")]
    [InlineData("""{ "instruments": ["x"] }""", "an object of names")]
    [InlineData("""{ "customer": [1] }""", "a list of texts")]
    [InlineData("""[1]""", "an object")]
    [InlineData("""{ "name": """, "JSON")]
    public void A_mistake_in_the_letterhead_is_named(string file, string named) => Assert.Contains(
        named, Assert.Throws<FormatReadException>(() => LetterheadReader.Read(new InputFile("firm.json", Encoding.UTF8.GetBytes(file)), _ => default)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_letterhead_is_read_with_its_logo()
    {
        const string File = """{ "schema": "leadwright.letterhead/1", "name": "Invented Survey Works", "lines": ["1 Example Street"], "logo": "logo.png", "customer": "Invented Bakery", "instruments": { "Clamps": "500 A" } }""";
        var read = LetterheadReader.Read(new InputFile("firm.json", Encoding.UTF8.GetBytes(File)), name => Encoding.ASCII.GetBytes(name));
        Assert.Equal("logo.png", Encoding.ASCII.GetString(read.Logo.Span));
        Assert.Equal(["Invented Bakery"], read.Customer);
        Assert.Equal(("Clamps", "500 A"), Assert.Single(read.Instruments));
    }

    [Fact]
    public void The_letterhead_of_the_field_guide_is_one()
    {
        var page = File.ReadAllText(Path.Combine(Folder(), "..", "..", "..", "docs", "field-guide", "report.md"));
        var from = page.IndexOf("```json", StringComparison.Ordinal) + 7;
        var json = page[from..page.IndexOf("```", from, StringComparison.Ordinal)];
        Assert.Equal("A. Sample", LetterheadReader.Read(new InputFile("firm.json", Encoding.UTF8.GetBytes(json)), _ => default).Author);
    }

    private static string Folder([CallerFilePath] string path = "") => Path.GetDirectoryName(path)!;

    private static ReportWords Read(string json) => ReportWords.Read(new InputFile("mine.json", Encoding.UTF8.GetBytes(json)));
}
