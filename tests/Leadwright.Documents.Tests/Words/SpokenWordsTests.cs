using Leadwright.Core.Circuits;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Core.Planning;
using Leadwright.Core.Wording;
using Leadwright.Documents.Html;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Sheets;
using Leadwright.Documents.Words;
using Leadwright.Formats;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Tests.Words;

/// <summary>Every sentence of a document comes from the file of words: a file in which each is marked leaves none unmarked.</summary>
public sealed class SpokenWordsTests
{
    private static readonly string[] s_typed = ["Invented", "invented", "Survey", "Works", "Example", "Street", "Sample", "Bakery", "Ltd", "board", "MDB", "week", "test"];

    [Fact]
    public void The_shipped_words_hold_every_sentence_that_is_spoken()
    {
        foreach (var twice in SpokenSentences.All().GroupBy(said => said.Key).Where(group => group.Count() > 1))
            Assert.Fail($"'{twice.Key}' is said in two ways: {string.Join(" / ", twice.Select(said => said.English))}");
        var shipped = MarkedWords.Read(ReportWords.Shipped());
        foreach (var (key, english) in SpokenSentences.All())
            Assert.True(shipped.TryGetValue(key, out var text) && text == english, $"'{key}' is \"{english}\" where it is said and \"{text}\" in the shipped words: run this class with -explicit only.");
    }

    [Fact(Explicit = true)]
    public void Write_the_sentences_into_the_shipped_words()
    {
        var text = File.ReadAllText(SpokenSentences.ShippedFile);
        var mark = text.IndexOf(SpokenSentences.Mark, StringComparison.Ordinal);
        var frame = (mark < 0 ? text[..text.LastIndexOf('}')] : text[..mark]).TrimEnd().TrimEnd(',');
        File.WriteAllText(SpokenSentences.ShippedFile, $"{frame},\n\n{SpokenSentences.Mark}\n{SpokenSentences.Written()}\n}}\n");
    }

    [Theory]
    [InlineData("clamp reversed")]
    [InlineData("half lost")]
    [InlineData("lead off")]
    [InlineData("clamps exchanged")]
    public void A_report_by_marked_words_has_no_unmarked_sentence(string what)
    {
        var words = Marked();
        using var spoken = Say.By(words.Spoken);
        var subject = what switch
        {
            "clamp reversed" => TestSurvey.WeekAnew(),
            "half lost" => TestSurvey.Of(TestSurvey.Without(TestSurvey.Log(), row => row % 288 is >= 60 and < 204)),
            "lead off" => TestSurvey.Of(TestSurvey.Log(new Mishap(MishapKind.LeadOff, 2 * 86400, 5 * 86400, 1))),
            _ => TestSurvey.Of(TestSurvey.Log(new Mishap(MishapKind.ClampsExchanged, 0, 7 * 86400, 1))),
        };
        var document = ReportBuilder.Build(subject with { Naming = ConductorNaming.Iec60445 }, TestSurvey.Settings() with { Words = words });
        AssertMarked(HtmlReport.Write(document));
    }

    [Fact]
    public void The_plan_sheet_and_the_check_before_leaving_by_marked_words_have_no_unmarked_sentence()
    {
        var words = Marked();
        foreach (var service in Enum.GetValues<ServiceKind>())
        {
            var nominal = service is ServiceKind.Split ? new NominalVoltage(120, 240) : TestSurvey.Wye;
            var plan = PlanMaker.Of(new SurveyPlan
            {
                Service = service, Nominal = nominal, FrequencyHertz = 50, Purposes = [.. Enum.GetValues<SurveyPurpose>()], ExpectedWatts = 20e3, Days = 5, IntervalSeconds = 900,
                Clamp = new ClampFigures(1000, 1, 0.2, 1), Recorder = new RecorderFigures { MemoryBytes = 1e5, BatteryHours = 2, OutageHours = 6 },
            });
            AssertMarked(HtmlReport.Write(PlanPaper.Build(plan, ConductorNaming.Iec60445, "Invented", "Leadwright test", words)));
            AssertMarked(HtmlReport.Write(LeavingPaper.Build(new LeavingSubject { Plan = plan, Site = "Invented" }, "Leadwright test", words)));
        }
    }

    private static void AssertMarked(string page)
    {
        var left = MarkedWords.LeftIn(page, s_typed);
        Assert.True(left.Count == 0, $"{left.Count} texts do not come from the words:\n{string.Join('\n', left.Take(60))}");
    }

    private static ReportWords Marked() => ReportWords.Read(new InputFile("marked.json", MarkedWords.Of(ReportWords.Shipped())));
}
