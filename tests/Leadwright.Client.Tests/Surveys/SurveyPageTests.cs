using System.Collections.Immutable;
using System.Text.Json;
using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Logs;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class SurveyPageTests : ScreenContext
{
    private readonly SurveyFake _api = new() { Guard = SurveyFake.SampleGuard };

    public SurveyPageTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        JSInterop.Mode = JSRuntimeMode.Loose;
    }

    [Fact]
    public void Without_a_survey_the_list_says_how_to_begin_and_where_the_check_is()
    {
        var page = Render<SurveysPage>();
        Assert.Equal("No survey yet", page.Find("#list-title").TextContent);
        Assert.NotNull(page.Find("a[href='hook-up']"));
    }

    [Fact]
    public void A_program_that_is_away_is_said_so_and_the_check_stays_at_hand()
    {
        _api.Failure = new SurveyApiException("The program does not answer.") { IsAway = true };
        var page = Render<SurveysPage>();
        Assert.Contains("does not answer", page.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.NotNull(page.Find("a[href='hook-up']"));
        _api.Failure = null;
        page.FindAll("button").Single(button => button.TextContent == "Try again").Click();
        page.WaitForElement("#list-title");
    }

    [Fact]
    public void A_survey_that_can_t_be_opened_is_listed_with_its_reason_and_without_a_link()
    {
        _api.Cards = [new SurveyCard("one", "One"), new SurveyCard("two", "Two") { Problem = "The journal was changed." }];
        var page = Render<SurveysPage>();
        Assert.Equal(["surveys/one/guard"], page.FindAll(".card h3 a").Select(link => link.GetAttribute("href")));
        Assert.Contains("The journal was changed.", page.FindAll(".card")[1].TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Every lead and clamp told the truth.", true, false)]
    [InlineData("Nothing wrong was found, as far as it could be judged.", true, true)]
    [InlineData("Nothing could be judged.", false, true)]
    public void That_nothing_was_found_proves_only_what_could_be_judged(string says, bool isJudged, bool hasNotes)
    {
        var guard = SurveyFake.SampleGuard with { Spans = [], Notes = hasNotes ? ["The recording has no currents."] : [] };
        _api.Guard = isJudged ? guard : guard with { Usable = guard.Usable.Clear() };
        var page = Render<GuardPage>(parameters => parameters.Add(screen => screen.Id, "one"));
        Assert.Equal(says, page.WaitForElement("#guard-title").TextContent);
    }

    [Fact]
    public void The_guard_page_says_how_the_file_was_read_under_a_heading_of_its_own()
    {
        string[] said = ["Column 'P1 kW' was taken for watts of phase 1, in kW.", "Stamps were taken for the start of each interval."];
        var sent = JsonSerializer.Serialize(new { usable = new { V1 = 1 }, notes = new[] { "No currents." }, reading = said });
        _api.Guard = JsonSerializer.Deserialize(sent, SurveyJson.Default.GuardSheet)!;
        var page = Render<GuardPage>(parameters => parameters.Add(guard => guard.Id, "one"));
        Assert.Equal(["What could not be judged", "Usable share of each channel", "How the file was read"], page.FindAll(".spans h3").Select(title => title.TextContent));
        Assert.Equal(said, page.FindAll(".spans h3:last-of-type + ul li").Select(line => line.TextContent));
    }

    [Fact]
    public void Where_nothing_is_to_be_said_of_how_the_file_was_read_the_guard_page_has_no_heading_for_it()
    {
        var page = Render<GuardPage>(parameters => parameters.Add(guard => guard.Id, "one"));
        Assert.NotEmpty(page.FindAll(".spans h3"));
        Assert.DoesNotContain("How the file was read", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_new_survey_is_not_made_without_a_name()
    {
        var page = Render<SurveysPage>();
        page.Find("form").Submit();
        Assert.Empty(_api.Made);
        Assert.Equal("true", page.Find("#new-name").GetAttribute("aria-invalid"));
        page.Find("#new-name").Change("Board 7");
        page.Find("form").Submit();
        Assert.Equal("Board 7", Assert.Single(_api.Made).Name);
    }

    [Fact]
    public void The_guard_page_counts_what_happened_and_shows_the_span_that_is_picked()
    {
        var page = Render<GuardPage>(parameters => parameters.Add(guard => guard.Id, "one"));
        Assert.Equal("3 things did not tell the truth and one thing is in doubt.", page.Find("#guard-title").TextContent);
        page.FindAll(".span-card")[1].Click();
        Assert.Equal("V3: open or off", page.Find("#picture-title").TextContent);
        Assert.Equal(["Voltages", "Currents"], page.FindAll(".chart-title").Select(title => title.TextContent));
        Assert.Equal("true", page.FindAll(".span-card")[1].GetAttribute("aria-pressed"));
    }

    [Fact]
    public void A_layer_is_switched_only_with_a_reason_and_from_what_was_seen()
    {
        _api.Mend = new MendAnswer
        {
            Sequence = 5,
            Layers =
            [
                new MendLayer("a", new CorrectionSheet { Kind = "clamp-reversed", Channels = ["I2"], Basis = "exact", Says = "Clamp I2 faced the source." }, true) { CanSwitch = true },
                new MendLayer("b", new CorrectionSheet { Kind = "no-data", Basis = "modelled", Says = "Filled." }, true),
            ],
        };
        var page = Render<MendPage>(parameters => parameters.Add(mend => mend.Id, "one"));
        page.Find("[role=switch]").Click();
        page.Find("form.why").Submit();
        Assert.Empty(_api.Switched);
        page.Find("#why").Input("Generation on the roof.");
        page.Find("form.why").Submit();
        Assert.Equal(new LayerSwitch("a", false, "Generation on the roof.", 5), Assert.Single(_api.Switched));
    }

    [Fact]
    public void A_layer_without_a_switch_names_the_finding_that_it_follows_from_and_energies_are_as_exact_as_their_interval()
    {
        var (from, off, to) = (new DateTime(2026, 3, 2), new DateTime(2026, 3, 4, 13, 10, 0), new DateTime(2026, 3, 9));
        _api.Mend = new MendAnswer
        {
            Sequence = 5,
            Mend = new MendSheet
            {
                From = from, To = to, Energy = new MendEnergySheet { RecordedKwh = 430.5505, MendedKwh = 4067.5475, LowKwh = 3968.9388, HighKwh = 4166.1562, Coverage = 0.95 },
                TogetherSays = "The corrections without a figure of their own change the energy by 0.70 kWh together.",
                Notes = [LogQuestions.Stamps],
            },
            Layers =
            [
                new MendLayer("a", new CorrectionSheet { Kind = "lead-open", Channels = ["V3"], From = off, To = to, Basis = "modelled", Says = "Rebuilt." }, true) { CanSwitch = true },
                new MendLayer("b", new CorrectionSheet
                {
                    Kind = "power-from-current", Channels = ["I3"], From = off.AddMinutes(-1), To = to, EventFrom = off, EventTo = to, Basis = "modelled", Says = "Rebuilt.", HoldsChange = true,
                    FollowsFrom = [new GuardSpanSheet { Kind = "lead-open", Channels = ["V3"], From = off, To = to, Says = "Lead V3 was off." }],
                }, true),
            ],
        };
        var page = Render<MendPage>(parameters => parameters.Add(mend => mend.Id, "one"));
        Assert.Equal(
            "Follows from: Lead V3 was off (from Wed 4 Mar 13:10). The row in which it changed was rebuilt as well. Switch that correction off, and this one goes with it.",
            Assert.Single(page.FindAll(".follows")).TextContent);
        Assert.DoesNotContain("13:09", page.Markup, StringComparison.Ordinal);
        Assert.Equal(["431 kWh", "4068 kWh", "3969 to 4166 kWh"], page.FindAll(".figure-value").Select(figure => figure.TextContent));
        Assert.Contains("by 0.70 kWh together", page.Markup, StringComparison.Ordinal);
        Assert.EndsWith("one/columns?recording=week", page.Find("a.answer").GetAttribute("href"), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_either_of_two_ratios_may_be_right_it_is_said_above_the_energy()
    {
        _api.Mend = new MendAnswer { Sequence = 5, Mend = new MendSheet { Unmendable = [new UnmendableSheet { Reason = "ratio-side-open", Says = "Which of the two was right does not show." }] } };
        var headline = Render<MendPage>(parameters => parameters.Add(mend => mend.Id, "one")).Find(".headline").TextContent;
        Assert.Contains("which of the two was right does not show", headline, StringComparison.Ordinal);
    }

    [Fact]
    public void What_to_do_about_a_picked_span_stands_beside_what_it_is()
    {
        _api.Guard = SurveyFake.SampleGuard with { Spans = [SurveyFake.SampleGuard.Spans[0] with { Todo = "Mend puts the readings right." }] };
        var page = Render<GuardPage>(parameters => parameters.Add(guard => guard.Id, "one"));
        Assert.Equal("What to do: Mend puts the readings right.", page.Find(".picture .todo").TextContent);
    }

    [Fact]
    public void What_can_not_be_judged_is_not_called_right()
    {
        _api.Mend = new MendAnswer { Sequence = 5, Mend = new MendSheet { Unjudged = true, Undecided = true } };
        var page = Render<MendPage>(parameters => parameters.Add(mend => mend.Id, "one"));
        Assert.Equal("Nothing was mended.", page.Find("#mend-title").TextContent);
        Assert.Contains("can't be judged", page.Find(".headline .hint").TextContent, StringComparison.Ordinal);
        _api.Mend = _api.Mend with { Mend = new MendSheet() };
        Assert.Equal("There was nothing to mend.", Render<MendPage>(parameters => parameters.Add(mend => mend.Id, "one")).Find("#mend-title").TextContent);
    }

    [Fact]
    public void What_is_to_be_worked_out_is_kept_from_the_study_and_a_refusal_stands_at_its_field()
    {
        var page = Render<StudyPage>(parameters => parameters.Add(study => study.Id, "one"));
        page.Find(".fields input").Change("400");
        Assert.Equal(new WordsChange("study.rating", "400", 5), Assert.Single(_api.Written));
        Assert.Equal(["Fixed by the clock", "block", "sliding"], page.FindAll(".fields option").Select(option => option.TextContent));
        _api.Refusal = new SurveyApiException("--rating: expected a number above zero.");
        page.Find(".fields input").Change("-1");
        Assert.Equal("--rating: expected a number above zero.", page.Find(".fields [role=alert]").TextContent);
        Assert.Single(_api.Written);
    }

    [Fact]
    public void A_sampled_recording_has_its_waves_vectors_and_spectra_at_the_moment()
    {
        _api.Columns = [new("wave-V1", "Wave of V1", "V", "VoltageWave", "Phase1"), new("wave-I1", "Wave of I1", "A", "CurrentWave", "Phase1")];
        var page = Render<StudyPage>(parameters => parameters.Add(study => study.Id, "one"));
        Assert.Single(_api.Moments);
        Assert.Equal(["Waves of the voltages", "Waves of the currents"], page.FindAll(".chart-title").Select(title => title.TextContent));
        Assert.Equal("The voltages come in the order 1, 2, 3.", page.Find(".vectors .hint").TextContent.Trim());
        // V1: rms, distortion, then the orders 2, 3, 5.
        Assert.Equal(["230.4", "2.5", "0.1", "2.2", "1.1"], page.FindAll(".at-moment tbody td").Take(5).Select(cell => cell.TextContent));
        Assert.Empty(page.FindAll("a[href*='table.csv']"));
    }

    [Fact]
    public void A_chart_has_its_numbers_as_text_and_asks_for_a_span_when_it_is_moved()
    {
        JSInterop.SetupModule("./chart/chart.js").SetupModule("create", _ => true);
        ImmutableArray<ChartColumn> columns = [new("V1_rms_V", "Voltage V1", "V1", 0, "circle")];
        var chart = Render<ColumnChart>(parameters => parameters
            .Add(view => view.Title, "Voltages").Add(view => view.Columns, columns)
            .Add(view => view.Source, (names, from, to, width, cancellation) => _api.FrameAsync("one", "week", false, names, from, to, width, cancellation)));
        chart.WaitForElement("tbody tr");
        Assert.Equal(["V", "229.0", "230.0", "231.0", "50 %", "0 %", "0 %", "50 %"], chart.FindAll("tbody td").Select(cell => cell.TextContent));
        chart.InvokeAsync(() => chart.Instance.ShowAsync(500, 1500));
        Assert.Equal([(null, null), (500.0, 1500.0)], _api.Frames.Select(asked => (asked.From, asked.To)));
    }
}
