using System.Text;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;
using Leadwright.Formats;

namespace Leadwright.Client.Tests.Model;

public sealed class HookupSheetTests
{
    private readonly KeptTexts _device = new();
    private readonly List<(PanelReadings Readings, CheckOptions Options)> _judged = [];
    private readonly HookupSheet _sheet;

    public HookupSheetTests() => _sheet = NewSheet();

    [Fact]
    public async Task What_was_typed_survives_a_reload()
    {
        await _sheet.OpenAsync();
        await _sheet.ChooseServiceAsync(ServiceKind.Split);
        await _sheet.TypeAsync("V1.rms", "121,2");

        var again = NewSheet();
        await again.OpenAsync();
        Assert.Equal(ServiceKind.Split, again.Draft.Service);
        Assert.Equal("121,2", again.Draft.TextOf("V1.rms"));
        Assert.Equal(121.2, again.Answer!.Readings.Channels[Channel.V1].Rms);
    }

    [Fact]
    public async Task Options_reach_the_check()
    {
        await _sheet.ChooseServiceAsync(ServiceKind.Wye);
        await _sheet.ChangeAsync(_sheet.Draft with { Load = LoadKind.Motors, MayExport = true, ToldRotation = Rotation.Acb });
        await _sheet.TypeAsync("V1.rms", "231");
        _sheet.Judge();
        Assert.Equal(new CheckOptions { Load = LoadKind.Motors, MayExport = true, ToldRotation = Rotation.Acb }, _judged[^1].Options);
    }

    [Fact]
    public async Task What_was_told_reaches_the_check_survives_a_reload_and_can_be_withdrawn()
    {
        await _sheet.ChooseServiceAsync(ServiceKind.Wye);
        await _sheet.TypeAsync("V1.rms", "231");
        await _sheet.TellAsync(Told("arrow:I1=load"));
        await _sheet.TellAsync(Told("motor=up"));
        await _sheet.TellAsync(Told("arrow:I1=source"));
        _sheet.Judge();
        Assert.Equal(["motor=up", "arrow:I1=source"], _judged[^1].Options.Told.Select(told => told.ToString()));

        var again = NewSheet();
        await again.OpenAsync();
        await again.WithdrawAsync(Told("motor=up"));
        again.Judge();
        Assert.Equal(["arrow:I1=source"], _judged[^1].Options.Told.Select(told => told.ToString()));
        await again.ClearAsync();
        Assert.Empty(again.Draft.Told);
    }

    [Fact]
    public async Task A_file_of_readings_brings_what_was_told_and_what_its_reader_put_up_with()
    {
        var file = new InputFile("panel.json", """
            {"service":"wye","told":["arrow:I2=load"],"weather":"rain","channels":{"V1":{"rms":231,"angle":0},"I1":{"rms":4,"angle":-20}}}
            """u8.ToArray());
        await _sheet.TakeAsync(OpenedFile.Of([file], null));
        _sheet.Judge();
        Assert.Equal("arrow:I2=load", Assert.Single(_judged[^1].Options.Told).ToString());
        Assert.Contains(_sheet.Answer!.Document.Notes, note => note.Contains("'$.weather' is not known", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_verdict_goes_when_a_field_can_not_be_read_any_more()
    {
        await _sheet.ChooseServiceAsync(ServiceKind.Wye);
        await _sheet.TypeAsync("V1.rms", "231");
        _sheet.Judge();
        Assert.NotNull(_sheet.Answer);
        await _sheet.TypeAsync("V1.rms", "231x");
        Assert.True(_sheet.IsStale);
        _sheet.Judge();
        Assert.Null(_sheet.Answer);
        Assert.Equal("One field can't be read: it is marked.", _sheet.Wanted);
    }

    [Fact]
    public async Task Another_service_forgets_a_nominal_voltage_that_does_not_belong_to_it()
    {
        await _sheet.ChooseServiceAsync(ServiceKind.Split);
        await _sheet.ChangeAsync(_sheet.Draft with { Nominal = "120/240" });
        await _sheet.ChooseServiceAsync(ServiceKind.Wye);
        Assert.Equal("", _sheet.Draft.Nominal);
    }

    [Fact]
    public async Task An_invented_panel_is_marked_as_one_until_its_readings_are_cleared()
    {
        var panel = DemoPanels.Named("bakery")!;
        await _sheet.TakeAsync(panel.Readings, panel.Options, panel.Name, true);
        Assert.True(_sheet.Draft.IsInvented);
        await _sheet.ClearAsync();
        Assert.False(_sheet.Draft.IsInvented);
        Assert.Equal(ServiceKind.Wye, _sheet.Draft.Service);
        Assert.Empty(_sheet.Draft.Texts);
    }

    [Fact]
    public async Task A_recording_is_measured_and_matched_when_the_service_is_chosen()
    {
        await _sheet.TakeAsync(OpenedFile.Of([SampledTable()], null));
        Assert.Null(_sheet.Answer);
        await _sheet.ChooseServiceAsync(ServiceKind.Single);
        _sheet.Judge();
        var read = _judged[^1].Readings.Channels;

        // Closed form: a sine of amplitude √2·X has the rms X.
        Assert.Equal(230, read[Channel.V1].Rms!.Value, 0.01);
        Assert.Equal(10, read[Channel.I1].Rms!.Value, 0.001);
        Assert.Equal(-30, read[Channel.I1].AngleDegrees!.Value - read[Channel.V1].AngleDegrees!.Value, 0.01);
        Assert.Equal(["V1", "I1"], _sheet.Answer!.Document.Channels.Select(channel => channel.Channel));
    }

    [Fact]
    public async Task Another_match_of_a_channel_counts_at_once_and_leaves_the_earlier_owner_without()
    {
        await _sheet.ChooseServiceAsync(ServiceKind.Single);
        await _sheet.TakeAsync(OpenedFile.Of([SampledTable()], ServiceKind.Single));
        await _sheet.TakeAsync(_sheet.Recording!.WithMatch(Channel.IN, _sheet.Recording.Match[Channel.I1].SourceIndex));
        _sheet.Judge();
        Assert.Equal([Channel.V1, Channel.IN], _judged[^1].Readings.Channels.Keys);
    }

    [Theory]
    [InlineData("half.cfg", "choose its .dat file together with it")]
    [InlineData("half.dat", "choose its .cfg file together with it")]
    [InlineData("photo.png", "found the ending '.png'")]
    [InlineData("broken.json", "Cannot read 'broken.json'")]
    public void A_file_that_can_not_be_used_says_what_to_do(string name, string says)
    {
        var opened = OpenedFile.Of([new InputFile(name, "x"u8.ToArray())], null);
        Assert.Contains(says, opened.Problem, StringComparison.Ordinal);
        Assert.Null(opened.Readings);
        Assert.Null(opened.Recording);
    }

    [Fact]
    public void A_log_of_intervals_is_sent_to_the_surveys()
    {
        var rows = string.Concat(Enumerable.Range(0, 30).Select(row => $"02.03.2026;10:{row:00};230,{row % 10};41,{row % 7}\n"));
        var opened = OpenedFile.Of([new InputFile("week.csv", System.Text.Encoding.UTF8.GetBytes("Meter;Hall 2\n\nDatum;Uhrzeit;Spannung L1 [V];Strom L1 [A]\n" + rows))], null);
        Assert.StartsWith("'week.csv' is a log of intervals. Drop it under Surveys", opened.Problem, StringComparison.Ordinal);
    }

    private static InputFile SampledTable()
    {
        var text = new StringBuilder("time (s),V1 (V),I1 (A)\n");
        for (var index = 0; index < 2000; index++)
        {
            var time = index / 5000.0;
            var angle = 2 * Math.PI * 50 * time;
            text.Append(System.Globalization.CultureInfo.InvariantCulture,
                $"{time:0.0000},{Math.Sqrt(2) * 230 * Math.Cos(angle):0.0000},{Math.Sqrt(2) * 10 * Math.Cos(angle - (Math.PI / 6)):0.00000}\n");
        }

        return new InputFile("table.csv", Encoding.UTF8.GetBytes(text.ToString()));
    }

    private static ToldAnswer Told(string text) =>
        ToldAnswer.TryParse(text, out var told, out var problem) ? told! : throw new ArgumentException(problem, nameof(text));

    private HookupSheet NewSheet() => new(
        _device,
        (readings, options) =>
        {
            _judged.Add((readings, options));
            return HookupCheck.Judge(readings, options);
        },
        TimeProvider.System);
}
