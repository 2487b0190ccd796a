using Leadwright.Core.Circuits;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using UglyToad.PdfPig;

namespace Leadwright.Documents.Tests.Reports;

public sealed class ReportBuilderTests
{
    [Fact]
    public void All_parts_stand_in_their_order_and_a_choice_of_them_alone()
    {
        var subject = TestSurvey.Week();
        Assert.Equal(ReportBuilder.PartNames, ReportBuilder.Build(subject, TestSurvey.Settings()).Parts.Select(part => part.Id));
        Assert.Equal(["load", "signature"], ReportBuilder.Build(subject, TestSurvey.Settings() with { Parts = ["signature", "load"] }).Parts.Select(part => part.Id));
    }

    [Fact]
    public void The_summary_answers_on_one_page()
    {
        foreach (var subject in (ReportSubject[])[TestSurvey.Week(), TestSurvey.HalfLost()])
        {
            foreach (var paper in (PaperSize[])[PaperSize.A4, PaperSize.Letter])
            {
                var document = ReportBuilder.Build(subject, TestSurvey.Settings() with { Parts = ["summary", "site"] });
                using var pdf = PdfDocument.Open(PdfReport.Write(document, paper));
                Assert.Contains("Site and purpose", pdf.GetPage(3).Text, StringComparison.Ordinal);
                Assert.Contains("What should be done next?", pdf.GetPage(2).Text, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void A_clamp_that_was_turned_is_told_drawn_and_mended()
    {
        var document = ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings());
        var answer = Answers(document).First();
        Assert.Equal(AnswerMood.Partly, answer.Mood);
        Assert.Contains("I2", answer.Text, StringComparison.Ordinal);
        var strip = Figures(document, "watch").Single();
        Assert.Contains(strip.Marks.OfType<TextMark>(), mark => mark.Text == "R");
        Assert.Contains(strip.Marks.OfType<TextMark>(), mark => mark.Text == "N");
        var corrections = Table(document, "Corrections");
        Assert.Contains(corrections.Rows, row => row.Cells[3].Text == "mended");
        Assert.Contains(corrections.Rows, row => row.Cells[3].Text == "modelled" && row.Cells[5].Number > 0);
    }

    [Fact]
    public void A_week_without_a_fault_says_so_and_mends_nothing()
    {
        var document = ReportBuilder.Build(TestSurvey.Of(TestSurvey.Log()), TestSurvey.Settings());
        Assert.Equal(AnswerMood.Good, Answers(document).First().Mood);
        Assert.DoesNotContain(document.Parts.SelectMany(part => part.Blocks).OfType<TableBlock>(), table => table.Name == "Corrections");
    }

    [Fact]
    public void Of_a_half_lost_survey_every_figure_says_on_what_it_stands()
    {
        var subject = TestSurvey.HalfLost();
        var document = ReportBuilder.Build(subject, TestSurvey.Settings());
        var key = document.Parts[0].Blocks.OfType<KeyFiguresBlock>().First();
        Assert.Contains("probability 95\u00a0%", key.Figures[0].Note, StringComparison.Ordinal);
        Assert.InRange(double.Parse(key.Figures[3].Value, System.Globalization.CultureInfo.InvariantCulture), 40, 60);
        Assert.Contains(Table(document, "Energy").Rows, row => row.Cells[3].Text == "modelled");
        Assert.All(Table(document, "Demand").Rows, row => Assert.NotEqual("modelled", row.Cells[^1].Text));
        Assert.NotEmpty(Table(document, "Lost").Rows);
        // Modelled stretches have a field and a bar of their own; lines of measured values are full, of modelled ones dotted.
        var chart = Figures(document, "mended").First();
        Assert.Contains(chart.Marks.OfType<PathMark>(), mark => mark.Ink.Dashes is [1.1, 1.6]);
        Assert.Contains(chart.Marks.OfType<PathMark>(), mark => mark.Ink is { Fill: not null, FillOpacity: < 1 });
    }

    [Fact]
    public void Half_of_a_survey_is_still_a_whole_document()
    {
        using var pdf = PdfDocument.Open(PdfReport.Write(ReportBuilder.Build(TestSurvey.HalfLost(), TestSurvey.Settings()), PaperSize.Letter));
        Assert.InRange(pdf.NumberOfPages, 8, 25);
        Assert.All(pdf.GetPages(), page => Assert.Contains($"Page {page.Number} of {pdf.NumberOfPages}", page.Text, StringComparison.Ordinal));
    }

    // Expected values: tests/data/README.md, interval, worked out by an independent reader.
    [Theory]
    [InlineData("interval/household-1min-2007-02-01.csv", ServiceKind.Single, 30.4127, 4.5419)]
    [InlineData("interval/steel-15min-2018-jan-jun.csv", ServiceKind.Wye, 521199.76, 612.56)]
    public void Real_logs_give_the_published_figures(string name, ServiceKind service, double kilowattHours, double peakKilowatts)
    {
        var subject = TestSurvey.Of(TestSurvey.Real(name), service, service == ServiceKind.Single ? new NominalVoltage(240, 240) : null, name);
        var document = ReportBuilder.Build(subject, TestSurvey.Settings());
        var demand = Table(document, "Demand").Rows.First(row => row.Cells[0].Text == "15\u00a0min, fixed blocks");
        Assert.Equal(peakKilowatts, demand.Cells[1].Number, 2e-4 * peakKilowatts);
        var hours = document.LongTables.Single(table => table.Name == "Energy by hour");
        Assert.Equal(kilowattHours, hours.Rows.Sum(row => row.Cells[1].Number), 2e-5 * kilowattHours);
        using var pdf = PdfDocument.Open(PdfReport.Write(document, PaperSize.A4));
        Assert.InRange(pdf.NumberOfPages, 6, 20);
    }

    // The source's check figures (tests/data/README.md): 521,199.76 kWh and 228,436.05 kvarh lagging make 0.9159; net of 73,405.07 kvarh leading, 0.9585 (by hand).
    [Fact]
    public void A_power_factor_that_is_good_only_net_of_leading_energy_is_not_called_good()
    {
        var document = ReportBuilder.Build(TestSurvey.Of(TestSurvey.Real("interval/steel-15min-2018-jan-jun.csv")), TestSurvey.Settings());
        var answer = Answers(document).Single(one => one.Question == "Is the power factor good enough?");
        Assert.Equal(AnswerMood.Partly, answer.Mood);
        Assert.Contains("0.958 by energy", answer.Text, StringComparison.Ordinal);
        Assert.Contains("Counting lagging energy alone, as many meters do, it is 0.916.", answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_leads_cannot_be_judged_the_report_claims_nothing()
    {
        var document = ReportBuilder.Build(TestSurvey.Of(TestSurvey.Real("interval/steel-15min-2018-jan-jun.csv")), TestSurvey.Settings());
        Assert.Equal(AnswerMood.Open, Answers(document).First().Mood);
        Assert.DoesNotContain(document.Parts.Single(part => part.Id == "mended").Blocks.OfType<ParagraphBlock>(), block => block.Text.Contains("Nothing needed mending", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_table_has_a_cell_for_each_column_and_a_name_that_a_sheet_can_bear()
    {
        foreach (var table in ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()) is var document ? document.Parts.SelectMany(part => part.Blocks).OfType<TableBlock>().Concat(document.LongTables) : [])
        {
            Assert.InRange(table.Name.Length, 1, 31);
            Assert.All(table.Rows, row => Assert.Equal(row.IsGroup ? 1 : table.Columns.Length, row.Cells.Length));
        }
    }

    [Fact]
    public void The_identity_follows_from_data_and_settings_alone()
    {
        var subject = TestSurvey.Week();
        var one = ReportBuilder.Build(subject, TestSurvey.Settings());
        Assert.Equal(one.Identity, ReportBuilder.Build(subject, TestSurvey.Settings()).Identity);
        Assert.NotEqual(one.Identity, ReportBuilder.Build(subject with { Files = [subject.Files[0] with { Sha256 = new string('0', 64) }] }, TestSurvey.Settings()).Identity);
        Assert.Equal(subject.Recorded.Log.To, one.Date);
        Assert.Equal(new DateTime(2026, 3, 16), ReportBuilder.Build(subject, TestSurvey.Settings() with { Date = new DateOnly(2026, 3, 16) }).Date);
    }

    [Fact]
    public void What_was_off_over_its_range_or_stuck_has_its_own_letter_and_pattern()
    {
        var log = TestSurvey.Log(new Mishap(MishapKind.LeadOff, 1.2 * 86400, 3 * 86400, 1) { Size = 0.03 }, new Mishap(MishapKind.Outage, 4.1 * 86400, 4.3 * 86400));
        var strip = Figures(ReportBuilder.Build(TestSurvey.Of(log), TestSurvey.Settings()), "watch").Single();
        var letters = strip.Marks.OfType<TextMark>().Select(mark => mark.Text).ToList();
        Assert.Contains("O", letters);
        Assert.Contains("S", letters);
    }

    private static System.Collections.Immutable.ImmutableArray<QuestionAnswer> Answers(ReportDocument document) => document.Parts[0].Blocks.OfType<AnswersBlock>().Single().Answers;

    private static IEnumerable<Drawing> Figures(ReportDocument document, string part) => document.Parts.Single(one => one.Id == part).Blocks.OfType<FigureBlock>().Select(figure => figure.Drawing);

    private static TableBlock Table(ReportDocument document, string name) => document.Parts.SelectMany(part => part.Blocks).OfType<TableBlock>().Single(table => table.Name == name);
}
