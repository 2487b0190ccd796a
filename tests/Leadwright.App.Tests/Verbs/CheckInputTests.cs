using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.Verbs;

public class CheckInputTests
{
    private const string Readings =
        """{"service":"wye","nominal":"230/400","channels":{"V1":{"rms":231.2,"angle":0},"I1":{"rms":41.2,"angle":161.0}}}""";

    // The recording of a substation, from the open data under tests/data/comtrade (its licence stands beside it).
    private const string Recording = "comtrade/substation/xtz";

    private static readonly CheckRequest s_wye = new() { Service = Service.Of(ServiceKind.Wye) };

    [Fact]
    public async Task Readings_are_taken_as_they_are_written()
    {
        using var folder = new TestFolder();
        var subject = await Read(folder.Write("panel7.json", Readings));

        Assert.Equal(ServiceKind.Wye, subject.Readings.Service);
        Assert.Equal(400, subject.Readings.Nominal!.LineToLineVolts);
        Assert.Equal(new ChannelReading(41.2, 161.0), subject.Readings.Channels[Channel.I1]);
        Assert.Empty(subject.Channels);
    }

    [Fact]
    public async Task Command_line_goes_over_the_file_but_for_the_sign_of_angles_that_the_file_states()
    {
        using var folder = new TestFolder();
        var path = folder.Write("panel7.json", Readings.Replace("\"nominal\"", "\"angles\":\"lead-positive\",\"nominal\"", StringComparison.Ordinal));
        var subject = await Read(path, new CheckRequest
        {
            Service = Service.Of(ServiceKind.Delta), Nominal = "480", FrequencyHertz = 60, AngleSign = AngleSign.LagPositive,
        });

        Assert.Equal(ServiceKind.Delta, subject.Readings.Service);
        Assert.Equal(480, subject.Readings.Nominal!.LineToLineVolts);
        Assert.Equal(60, subject.Readings.FrequencyHertz);
        Assert.Equal(AngleSign.LeadPositive, subject.Readings.AngleSign);
    }

    [Fact]
    public async Task Sign_of_angles_fills_in_what_readings_leave_open()
    {
        using var folder = new TestFolder();
        var subject = await Read(folder.Write("panel7.json", Readings), new CheckRequest { AngleSign = AngleSign.LagPositive });

        Assert.Equal(AngleSign.LagPositive, subject.Readings.AngleSign);
    }

    [Fact]
    public async Task Recording_is_measured_and_tells_which_channel_was_taken_for_which()
    {
        var subject = await Read(TestFolder.Data(Recording + ".cfg"), s_wye);

        Assert.Equal(["V1", "V2", "V3", "I1", "I2", "I3"], subject.Channels.Select(channel => channel.Channel));
        Assert.Equal(6, subject.Readings.Channels.Count);
        Assert.Equal(0, subject.Readings.Channels[Channel.V1].AngleDegrees!.Value, 6);
        Assert.Contains(subject.Notes, note => note.Contains("--channels", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Configuration_and_data_find_each_other_whatever_the_case_of_their_endings()
    {
        using var folder = new TestFolder();
        var configuration = folder.Copy(Recording + ".cfg", "Bay.CFG");
        var data = folder.Copy(Recording + ".dat", "Bay.Dat");

        var first = await Read(configuration, s_wye);
        var second = await Read(data, s_wye);
        Assert.Equal(first.Readings.Channels, second.Readings.Channels);
    }

    [Fact]
    public async Task Told_channels_win_over_names()
    {
        var subject = await Read(TestFolder.Data(Recording + ".cfg"), s_wye with { Channels = "I1=13,I2=14,I3=15" });

        Assert.StartsWith("220kVxyx_213", subject.Channels.Single(channel => channel.Channel == "I1").Name, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--nominal: '230/500' is no nominal voltage of a wye service", null, "230/500", null)]
    [InlineData("--nominal: '230/500' is no nominal voltage of a wye service", "wye", "230/500", null)]
    [InlineData("--channels", "wye", null, "V1=no such channel")]
    public async Task Recording_with_a_missing_or_unfitting_option_is_wrong_usage(string message, string? service, string? nominal, string? channels)
    {
        var refusal = await Refused(
            TestFolder.Data(Recording + ".cfg"),
            new CheckRequest { Service = Service.Named(service), Nominal = nominal, Channels = channels });

        Assert.Equal(ExitCode.WrongUsage, refusal.ExitCode);
        Assert.Contains(message, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Recording_without_a_service_is_read_by_its_channels_and_leaves_the_service_to_the_check()
    {
        var subject = await Read(TestFolder.Data(Recording + ".cfg"), new CheckRequest());

        Assert.True(subject.Readings.IsServiceOpen);
        Assert.Equal(6, subject.Readings.Channels.Count);
    }

    [Theory]
    [InlineData("{\"channels\":{\"V1\":{\"rms\":120}}}")]
    [InlineData("{\"service\":\"auto\",\"nominal\":\"120/240\",\"channels\":{\"V1\":{\"rms\":120}}}")]
    public async Task Readings_without_a_service_leave_it_to_the_check_unless_one_is_given(string json)
    {
        using var folder = new TestFolder();
        var file = folder.Write("panel.json", json);

        Assert.True((await Read(file, new CheckRequest())).Readings.IsServiceOpen);
        var given = (await Read(file, new CheckRequest { Service = Service.Named("high-leg") })).Readings;
        Assert.Equal((ServiceKind.HighLeg, false), (given.Service, given.IsServiceOpen));
    }

    [Fact]
    public async Task File_that_is_not_there_says_so()
    {
        using var folder = new TestFolder();
        var refusal = await Refused(Path.Combine(Path.GetDirectoryName(folder.Write("a", ""))!, "panel8.json"), s_wye);

        Assert.Equal(ExitCode.InputUnusable, refusal.ExitCode);
        Assert.EndsWith("panel8.json': there is no such file. Look at its name and folder.", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lone_half_of_a_recording_names_the_missing_half()
    {
        using var folder = new TestFolder();
        var refusal = await Refused(folder.Copy(Recording + ".cfg", "lonely.cfg"), s_wye);

        Assert.Equal(ExitCode.InputUnusable, refusal.ExitCode);
        Assert.Contains("'lonely.dat' is not beside it", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("panel.json", "{", "line 1")]
    [InlineData("panel.xyz", "?", "")]
    [InlineData("panel.csv", "", "")]
    [InlineData("panel.cfg", "not a configuration", "")]
    public async Task Bad_content_is_unusable_input_that_names_file_and_place(string name, string text, string place)
    {
        using var folder = new TestFolder();
        if (name.EndsWith(".cfg", StringComparison.Ordinal)) folder.Write("panel.dat", "");
        var refusal = await Refused(folder.Write(name, text), s_wye);

        Assert.Equal(ExitCode.InputUnusable, refusal.ExitCode);
        Assert.Contains(name, refusal.Message, StringComparison.Ordinal);
        Assert.Contains(place, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Recording_too_short_to_measure_says_what_it_takes()
    {
        using var folder = new TestFolder();
        var rows = string.Concat(Enumerable.Range(0, 20).Select(index => string.Create(
            System.Globalization.CultureInfo.InvariantCulture, $"{index * 0.0001:0.0000},{100 * Math.Sin(index * 0.0314):0.000}\n")));
        var refusal = await Refused(folder.Write("short.csv", "time (s),V1 (V)\n" + rows), new CheckRequest { Service = Service.Of(ServiceKind.Single) });

        Assert.Equal(ExitCode.InputUnusable, refusal.ExitCode);
        Assert.Contains("a snapshot needs at least one whole cycle", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Table_without_times_and_headings_is_read_with_those_given()
    {
        using var folder = new TestFolder();
        var rows = string.Concat(Enumerable.Range(0, 2000).Select(index => string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"{325 * Math.Cos(2 * Math.PI * 50 * index / 10000):0.000},{10 * Math.Cos((2 * Math.PI * 50 * index / 10000) - 0.5236):0.0000}\n")));
        var subject = await Read(
            folder.Write("table.csv", rows),
            new CheckRequest { Service = Service.Of(ServiceKind.Single), RateHertz = 10000, Columns = "V1 (V),I1 (A)" });

        // Peak over √2, and 0.5236 rad = 30 degrees behind.
        Assert.Equal(229.81, subject.Readings.Channels[Channel.V1].Rms!.Value, 0.05);
        Assert.Equal(-30, subject.Readings.Channels[Channel.I1].AngleDegrees!.Value, 0.02);
    }

    [Fact]
    public async Task Whole_program_answers_readings_on_standard_output_with_a_code_of_the_contract()
    {
        using var folder = new TestFolder();
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await LeadwrightCommand.RunAsync(
            ["check", folder.Write("panel7.json", Readings), "--format", "json"], output, error, TestContext.Current.CancellationToken);

        Assert.Contains(code, (int[])[0, 10, 11]);
        Assert.StartsWith("{\"schema\":\"leadwright.check/1\"", output.ToString(), StringComparison.Ordinal);
        Assert.Equal("", error.ToString());
    }

    private static Task<CheckSubject> Read(string path, CheckRequest? request = null) =>
        new CheckInput().ReadAsync(path, request ?? new CheckRequest(), TestContext.Current.CancellationToken);

    private static Task<InputRefusedException> Refused(string path, CheckRequest request) =>
        Assert.ThrowsAsync<InputRefusedException>(() => Read(path, request));
}
