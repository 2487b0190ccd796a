using Leadwright.Client.Devices;
using Leadwright.Client.Model.Shown;

namespace Leadwright.Client.Tests.Model.Shown;

public sealed class ShownTextTests
{
    private readonly KeptTexts _device = new();

    [Theory]
    [InlineData("de-CH", ".", TradeWords.Iec, false)]
    [InlineData("de-DE", ",", TradeWords.Iec, true)]
    [InlineData("en-GB", ".", TradeWords.Iec, false)]
    [InlineData("en-US", ".", TradeWords.Ieee, false)]
    [InlineData("fr-CA", ",", TradeWords.Ieee, true)]
    [InlineData("en", ".", TradeWords.Ieee, false)]
    [InlineData("zh-Hans-CN", ".", TradeWords.Iec, false)]
    public async Task A_device_starts_with_the_words_of_its_region_and_the_mark_of_its_language(string language, string mark, TradeWords words, bool hasComma)
    {
        _device.Language = new DeviceLanguage(language, mark);
        var shown = new ShownText(_device);
        await shown.OpenAsync();
        Assert.Equal(new DisplaySettings { Words = words, HasDecimalComma = hasComma }, shown.Settings);
    }

    [Fact]
    public void What_is_shown_as_nothing_has_no_sign_and_a_length_no_empty_part()
    {
        var shown = new ShownText(_device);
        Assert.Equal(("0", "0.00", "−0.01"), (shown.Number(-0.0), shown.Number(-0.001, "0.00"), shown.Number(-0.01, "0.00")));
        Assert.Equal(("7 days", "2 days 3 h", "1 h", "1 h 27 min"), (shown.Length(TimeSpan.FromDays(7)), shown.Length(TimeSpan.FromHours(51)), shown.Length(TimeSpan.FromHours(1)), shown.Length(TimeSpan.FromMinutes(87))));
    }

    [Fact]
    public async Task What_was_chosen_is_kept_and_goes_over_what_the_device_says()
    {
        var chosen = new DisplaySettings { Words = TradeWords.Ieee, HasDecimalComma = true, CallsVoltagesU = true };
        await new ShownText(_device).ChangeAsync(chosen);
        var again = new ShownText(_device);
        await again.OpenAsync();
        Assert.Equal(chosen, again.Settings);
    }

    [Fact]
    public void Times_in_a_record_of_seconds_are_told_apart()
    {
        var shown = new ShownText(_device);
        var time = new DateTime(2026, 3, 2, 19, 45, 25, 603);
        Assert.Equal("Mon 2 Mar 2026 19:45:25.603", shown.Moment(time, TimeSpan.FromSeconds(1.57)));
        Assert.Equal("19:45:25.603", shown.ShortMoment(time, TimeSpan.FromSeconds(1.57)));
        Assert.Equal("Mon 2 Mar 2026 19:45", shown.Moment(time, TimeSpan.FromDays(7)));
        Assert.Equal("Mon 2 Mar 19:45", shown.ShortMoment(time, TimeSpan.FromDays(7)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("iec")]
    [InlineData("iec point W")]
    [InlineData("ansi point V")]
    public void A_text_that_is_no_setting_is_none(string text) => Assert.Null(DisplaySettings.OfKept(text));

    [Theory]
    [InlineData(230.44, "230,4")]
    [InlineData(-0.5, "\u22120,5")]
    [InlineData(41.256, "41,26")]
    [InlineData(12345.6, "12346")]
    [InlineData(double.NaN, "–")]
    public async Task Numbers_have_the_mark_that_was_chosen_and_none_between_thousands(double value, string text) =>
        Assert.Equal(text, (await CommaAsync()).Number(value));

    [Theory]
    [InlineData("I1 lags by 19.5° at 230 V.", "I1 lags by 19,5° at 230 V.")]
    [InlineData("This leaves no room (110,000 to 1 for the report).", "This leaves no room (110\u202f000 to 1 for the report).")]
    [InlineData("More than 1,250,000 to 1.", "More than 1\u202f250\u202f000 to 1.")]
    [InlineData("IEC 61000-4-30 clause 5.4, table 3.27 and 4.2.2.1.", "IEC 61000-4-30 clause 5.4, table 3.27 and 4.2.2.1.")]
    [InlineData("Room by NEC 220.87; ANSI C84.1 allows 5.8 %.", "Room by NEC 220.87; ANSI C84.1 allows 5,8 %.")]
    [InlineData("Recording 'week1.2.csv' and week.5s are names.", "Recording 'week1.2.csv' and week.5s are names.")]
    [InlineData("Up to 0.5, then 1.", "Up to 0,5, then 1.")]
    public async Task Sentences_get_the_mark_in_numbers_and_not_in_what_standards_and_files_are_called(string says, string shown) =>
        Assert.Equal(shown, (await CommaAsync()).Says(says));

    [Fact]
    public async Task A_dip_is_a_sag_where_the_words_are_those_of_IEEE_and_nothing_else_changes()
    {
        var shown = new ShownText(_device);
        await shown.ChangeAsync(new DisplaySettings { Words = TradeWords.Ieee });
        Assert.Equal("Sag on V2; three sags, one swell, a diplexer.", shown.Says("Dip on V2; three dips, one swell, a diplexer."));
        await shown.ChangeAsync(new DisplaySettings());
        Assert.Equal("Dip on V2.", shown.Says("Dip on V2."));
    }

    [Fact]
    public async Task Leads_are_called_U_in_words_and_drawings_where_that_was_chosen()
    {
        var shown = new ShownText(_device);
        await shown.ChangeAsync(new DisplaySettings { CallsVoltagesU = true });
        Assert.Equal("Lead U1, UN and U12; I1, V4 and PV1 stay.", shown.Words("Lead V1, VN and V12; I1, V4 and PV1 stay."));
        Assert.Equal("<g data-lead=\"V1\"><text>U1</text></g>", shown.Drawing("<g data-lead=\"V1\"><text>V1</text></g>"));
    }

    [Fact]
    public async Task A_drawing_keeps_its_coordinates()
    {
        var shown = await CommaAsync();
        Assert.Equal("<path d=\"M1.5 2\"/><text x=\"3.5\">19,5°</text>", shown.Drawing("<path d=\"M1.5 2\"/><text x=\"3.5\">19.5°</text>"));
    }

    private async Task<ShownText> CommaAsync()
    {
        var shown = new ShownText(_device);
        await shown.ChangeAsync(new DisplaySettings { HasDecimalComma = true });
        return shown;
    }
}
