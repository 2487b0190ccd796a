using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class ColumnsPageTests : ScreenContext
{
    private readonly SurveyFake _api = new();

    public ColumnsPageTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        JSInterop.Mode = JSRuntimeMode.Loose;
        _api.Match = new ColumnMatchSheet
        {
            Sequence = 5,
            How = "cells parted by semicolons; decimal comma",
            Stamps = "start",
            AsksStamps = true,
            Questions = [LogQuestions.Stamps, "In which unit is column 'P'?"],
            Warnings = ["Column 'Note' holds words and is left out: 'ok'."],
            IsRemembered = true,
            Columns =
            [
                new(1, "Time", new ColumnEntry("1")) { Why = "it states times", First = ["10:00"] },
                new(2, "V1", new ColumnEntry("2") { Quantity = "voltage", Place = "1", Unit = "V" }) { IsValue = true, Confidence = 0.95, Why = "name (voltage) and unit V", First = ["230,1", "229,8"] },
                new(3, "x", new ColumnEntry("3") { Unit = "kW" }) { IsValue = true, IsUnsure = true, Confidence = 0.2, Why = "kept under its own name: neither name nor unit says what it is", First = ["26,2", "25,9"] },
                new(4, "Note", new ColumnEntry("4")) { Why = "it holds words", First = ["ok"] },
            ],
        };
    }

    [Fact]
    public void A_column_that_is_not_sure_shows_its_first_values_its_reason_and_labelled_fields()
    {
        var page = Page();
        Assert.Equal("One column is not sure", page.Find("#columns-title").TextContent);
        var column = Assert.Single(page.FindAll("fieldset.column"));
        Assert.Contains("26,2", column.TextContent, StringComparison.Ordinal);
        Assert.Contains("Not sure. Kept under its own name: neither name nor unit says what it is.", column.TextContent, StringComparison.Ordinal);
        foreach (var field in column.QuerySelectorAll("select, input[type=text]")) Assert.NotNull(column.QuerySelector($"label[for='{field.Id}']"));
        // What was not understood stands below, and what holds no numbers.
        Assert.Contains("holds words and is left out", page.Markup, StringComparison.Ordinal);
        Assert.Contains("it states times", page.Markup, StringComparison.Ordinal);
        // The question of the stamps has its own field; the other one is shown.
        Assert.Equal("In which unit is column 'P'?", Assert.Single(page.FindAll("#asked-title + ul li")).TextContent);
        page.Find("label.all input").Change(true);
        Assert.Equal(2, page.FindAll("fieldset.column").Count);
    }

    [Fact]
    public void Confirming_sends_every_column_of_numbers_as_it_was_said()
    {
        var page = Page();
        page.Find("#column-3-quantity").Change("active-power");
        page.Find("#column-3-place").Change("1");
        page.FindAll(".times input[type=radio]")[1].Change(true);
        _api.Sheet = _api.Sheet with { Sequence = 6 };
        page.Find("form").Submit();
        var sent = Assert.Single(_api.Confirmed);
        Assert.Equal((5L, "end"), (sent.Sequence, sent.Stamps));
        Assert.Equal(["2 voltage 1 mean V", "3 active-power 1 mean kW"], sent.Columns.Select(entry => $"{entry.Column} {entry.Quantity} {entry.Place} {entry.Statistic} {entry.Unit}"));
        Assert.Contains("Confirmed.", page.Find("[role=status]").TextContent, StringComparison.Ordinal);
        Assert.Equal("surveys/one/guard", page.Find(".done a").GetAttribute("href"));
    }

    [Fact]
    public void A_unit_that_does_not_go_with_the_quantity_is_told_beside_its_field_and_nothing_is_sent()
    {
        var page = Page();
        page.Find("#column-3-quantity").Change("voltage");
        // The heading's kW is no voltage: the field went over to V, until the person writes something else.
        Assert.Equal("V", page.Find("#column-3-unit").GetAttribute("value"));
        page.Find("#column-3-unit").Change("kWh");
        page.Find("form").Submit();
        Assert.Empty(_api.Confirmed);
        Assert.Equal("true", page.Find("#column-3-unit").GetAttribute("aria-invalid"));
        Assert.Equal("column-3-unit-problem", page.Find("#column-3-unit").GetAttribute("aria-describedby"));
        Assert.Contains("Write V", page.Find("#column-3-unit-problem").TextContent, StringComparison.Ordinal);
        Assert.Contains("column 3 'x'", page.Find("[role=alert] .error").TextContent, StringComparison.Ordinal);
        page.Find("#column-3-unit").Change("mV");
        Assert.Empty(page.FindAll("#column-3-unit-problem"));
        page.Find("form").Submit();
        Assert.Single(_api.Confirmed);
    }

    [Fact]
    public void A_column_can_be_left_out_and_an_energy_is_an_amount_or_a_counter()
    {
        var page = Page();
        page.Find("#column-3-quantity").Change("active-energy");
        Assert.Equal("kWh", KindOf(page, "kWh"));
        page.Find("fieldset.column .check:last-of-type input").Change(true);
        Assert.True(page.Find("#column-3-quantity").HasAttribute("disabled"));
        page.Find("form").Submit();
        Assert.True(Assert.Single(_api.Confirmed).Columns[1].IsLeftOut);

        static string KindOf(IRenderedComponent<ColumnsPage> page, string unit)
        {
            // A power's unit is none of an energy: the base unit takes its place, and the statistic one that goes with energies.
            Assert.Equal("Wh", page.Find("#column-3-unit").GetAttribute("value"));
            Assert.True(page.Find("#column-3-statistic option[value=amount]").HasAttribute("selected"));
            page.Find("#column-3-unit").Change(unit);
            return page.Find("#column-3-unit").GetAttribute("value")!;
        }
    }

    [Fact]
    public void A_refusal_keeps_what_was_said()
    {
        var page = Page();
        page.Find("#column-3-quantity").Change("current");
        _api.Refusal = new SurveyApiException("Someone else confirmed these columns meanwhile.");
        page.Find("form").Submit();
        Assert.Contains("meanwhile", page.Find("[role=alert] .error").TextContent, StringComparison.Ordinal);
        Assert.True(page.Find("#column-3-quantity option[value=current]").HasAttribute("selected"));
    }

    [Fact]
    public void An_import_whose_columns_are_not_sure_leads_here_and_others_do_not()
    {
        var imported = 0;
        _api.Sheet = _api.Sheet with { Recordings = [new RecordingCard("week", "week.csv") { AsksColumns = true }] };
        Drop();
        Assert.EndsWith("surveys/one/columns", Services.GetRequiredService<NavigationManager>().Uri, StringComparison.Ordinal);
        Assert.Equal(0, imported);
        _api.Sheet = _api.Sheet with { Recordings = [new RecordingCard("week", "week.csv")] };
        Drop();
        Assert.Equal(1, imported);

        void Drop()
        {
            var drop = Render<RecordingDrop>(parameters => parameters.Add(one => one.Id, "one").Add(one => one.Imported, _ => imported++));
            drop.FindComponent<Microsoft.AspNetCore.Components.Forms.InputFile>().UploadFiles(InputFileContent.CreateFromText("Time;x", "week.csv"));
        }
    }

    [Fact]
    public void Where_files_are_dropped_the_writing_of_letters_and_the_start_can_be_said_first()
    {
        var drop = Render<RecordingDrop>(parameters => parameters.Add(one => one.Id, "one"));
        Assert.Equal("What the file does not say itself", drop.Find("details.reading summary").TextContent);
        foreach (var field in drop.FindAll("details.reading select, details.reading input"))
        {
            Assert.NotNull(drop.Find($"label[for='{field.Id}']"));
            Assert.NotNull(drop.Find($"#{field.GetAttribute("aria-describedby")}"));
        }

        Assert.Equal(["", "utf-8", "utf-16", "utf-16be", "windows-1252", "gb18030"], drop.FindAll("#import-encoding option").Take(6).Select(option => option.GetAttribute("value")!));
        drop.Find("#import-encoding").Change("gb18030");
        drop.Find("#import-start").Change("2026-03-02T08:00");
        drop.FindComponent<Microsoft.AspNetCore.Components.Forms.InputFile>().UploadFiles(InputFileContent.CreateFromText("Time;x", "week.csv"));
        Assert.Equal(new SaidReading { Encoding = "gb18030", Start = "2026-03-02T08:00" }, Assert.Single(_api.Said));
    }

    [Fact]
    public void How_the_file_is_read_is_shown_anew_before_it_is_confirmed()
    {
        _api.Match = _api.Match with { TakesEncoding = true, TakesStart = true };
        var page = Page();
        var again = page.Find("details.reading button");
        Assert.True(again.HasAttribute("disabled"));
        page.Find("#match-encoding").Change("windows-1250");
        page.Find("#match-start").Change("2026-03-02T08:00:00");
        // What was looked at is not what would be kept.
        page.Find("form.match").Submit();
        Assert.Empty(_api.Confirmed);
        Assert.Contains("Press 'Show it read so' first", page.Find(".confirm [role=alert]").TextContent, StringComparison.Ordinal);
        page.Find("details.reading button").Click();
        page.Find("form.match").Submit();
        Assert.Equal(new SaidReading { Encoding = "windows-1250", Start = "2026-03-02T08:00:00" }, Assert.Single(_api.Confirmed).Said);
    }

    [Fact]
    public void A_table_that_has_dates_and_says_its_letters_asks_for_neither()
    {
        Assert.Empty(Page().FindAll("details.reading"));
        _api.Match = _api.Match with { TakesStart = true };
        var page = Page();
        Assert.Empty(page.FindAll("#match-encoding"));
        Assert.NotNull(page.Find("#match-start"));
    }

    [Fact]
    public void The_head_of_the_other_screens_says_that_columns_are_not_sure_with_a_sign_beside_its_words()
    {
        _api.Sheet = _api.Sheet with { Recordings = [new RecordingCard("week", "week.csv") { AsksColumns = true }] };
        var page = Render<GuardPage>(parameters => parameters.Add(guard => guard.Id, "one"));
        var link = page.Find(".columns-of a");
        Assert.Equal("surveys/one/columns", link.GetAttribute("href"));
        Assert.Contains("△", link.TextContent, StringComparison.Ordinal);
        Assert.Contains("not sure what some columns hold", link.TextContent, StringComparison.Ordinal);
    }

    private IRenderedComponent<ColumnsPage> Page() => Render<ColumnsPage>(parameters => parameters.Add(columns => columns.Id, "one"));
}
