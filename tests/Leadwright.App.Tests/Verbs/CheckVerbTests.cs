using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Tests.Hookups;

namespace Leadwright.App.Tests.Verbs;

public class CheckVerbTests
{
    private static CommandRun Panels() => new CommandRun()
        .With("right.json", SampleVerdicts.Correct)
        .With("wrong.json", SampleVerdicts.Exchanged)
        .With("thin.json", SampleVerdicts.Undecided);

    // Source of the codes: the command contract: 0 nothing wrong, 10 faults, 11 cannot decide, 1 input unusable, 2 wrong usage.
    [Theory]
    [InlineData("right.json", 0)]
    [InlineData("wrong.json", 10)]
    [InlineData("thin.json", 11)]
    [InlineData("missing.json", 1)]
    public async Task Exit_code_tells_the_verdict(string file, int code) =>
        Assert.Equal(code, await Panels().RunAsync("check", file));

    [Theory]
    [InlineData(new[] { "right.json", "thin.json" }, 11)]
    [InlineData(new[] { "thin.json", "wrong.json" }, 10)]
    [InlineData(new[] { "wrong.json", "missing.json", "right.json" }, 1)]
    public async Task Worst_code_of_several_files_wins(string[] files, int code) =>
        Assert.Equal(code, await Panels().RunAsync(["check", .. files]));

    [Fact]
    public async Task Json_is_one_object_per_usable_file_and_nothing_else_on_standard_output()
    {
        var run = Panels();
        await run.RunAsync("check", "wrong.json", "missing.json", "right.json", "--format", "json");

        var lines = run.Output.Split('\n');
        Assert.Equal(3, lines.Length);
        Assert.Equal("", lines[2]);
        Assert.Equal(["wrong.json", "right.json"], lines[..2].Select(line => JsonDocument.Parse(line).RootElement.GetProperty("file").GetString()));
        Assert.Equal("Cannot read 'missing.json': no such file.\n", run.Error);
    }

    [Fact]
    public async Task Text_begins_with_the_verdict_and_leaves_standard_error_empty()
    {
        var run = Panels();
        await run.RunAsync("check", "wrong.json");

        Assert.StartsWith("FAULTY  Clamp I1 faces the source; clamps I2 and I3 are exchanged.\n", run.Output, StringComparison.Ordinal);
        Assert.Equal("", run.Error);
    }

    [Fact]
    public async Task Unusable_file_leaves_standard_output_empty()
    {
        var run = Panels();

        Assert.Equal(1, await run.RunAsync("check", "missing.json", "--format", "json"));
        Assert.Equal("", run.Output);
    }

    [Theory]
    [InlineData("Name a file: readings (.json)", "check")]
    [InlineData("--service: no service 'star'. Services: wye, delta, delta-two-clamp, high-leg, split, network, single; or auto.", "check", "right.json", "--service", "star")]
    [InlineData("--frequency: '55' is not one of 50, 60.", "check", "right.json", "--frequency", "55")]
    [InlineData("--rotation: 'left' is not one of abc, acb, unknown.", "check", "right.json", "--rotation", "left")]
    [InlineData("--load: 'pumps' is not one of mixed, motors, lighting, drives, unknown.", "check", "right.json", "--load", "pumps")]
    [InlineData("--colours: no scheme 'mars'.", "check", "right.json", "--colours", "mars")]
    [InlineData("'chek'", "chek")]
    public async Task Wrong_usage_exits_2_and_says_what_was_expected(string message, params string[] args)
    {
        var run = Panels();

        Assert.Equal(2, await run.RunAsync(args));
        Assert.Contains(message, run.Error, StringComparison.Ordinal);
        Assert.Contains("--help", run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Output);
    }

    [Fact]
    public async Task Help_names_the_services_and_exit_codes_and_exits_0()
    {
        var run = Panels();

        Assert.Equal(0, await run.RunAsync("check", "--help"));
        Assert.Contains("wye, delta, delta-two-clamp, high-leg, split, network, single", run.Output, StringComparison.Ordinal);
        Assert.Contains("11 cannot decide", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Options_reach_the_reader_and_the_engine()
    {
        var run = Panels();
        await run.RunAsync(
            "check", "right.json", "--service", "delta", "--nominal", "480", "--frequency", "60", "--load", "motors", "--export",
            "--rotation", "acb", "--channels", "V1=UL1", "--scaling", "primary", "--angles", "lag-positive");

        Assert.Equal(
            new CheckRequest
            {
                Service = Service.Of(ServiceKind.Delta),
                Nominal = "480",
                FrequencyHertz = 60,
                Channels = "V1=UL1",
                Scaling = Scaling.Primary,
                AngleSign = AngleSign.LagPositive,
            },
            run.Request);
        Assert.Equal(new CheckOptions { Load = LoadKind.Motors, MayExport = true, ToldRotation = Rotation.Acb }, run.Known);
    }

    [Theory]
    [InlineData("high-leg", ServiceKind.HighLeg)]
    [InlineData("network", ServiceKind.Network)]
    public async Task Every_service_can_be_stated(string name, ServiceKind kind)
    {
        var run = Panels();
        await run.RunAsync("check", "right.json", "--service", name);

        Assert.Equal(kind, run.Request!.Service!.Kind);
    }

    [Fact]
    public async Task What_was_told_reaches_the_engine()
    {
        var run = Panels();
        await run.RunAsync("check", "right.json", "--told", "switched:A=I2,up", "--told", "Rotation=ACB");

        Assert.Equal(["switched:A=I2,up", "rotation=acb"], run.Known!.Told.Select(told => told.ToString()));
    }

    [Theory]
    [InlineData("arrow:I1=up", "--told: 'up' is no answer to arrow:I1. Write load or source.")]
    [InlineData("nonsense", "--told: 'nonsense' is not ACTION=ANSWER")]
    public async Task What_is_no_answer_exits_2_with_what_to_write(string told, string says)
    {
        var run = Panels();
        Assert.Equal(2, await run.RunAsync("check", "right.json", "--told", told));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_action_that_is_answered_in_two_ways_exits_2()
    {
        var run = Panels();
        Assert.Equal(2, await run.RunAsync("check", "right.json", "--told", "motor=up", "--told", "motor=down"));
        Assert.Contains("motor is answered both up and down", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Shipped_priors_are_printed_without_a_file_and_exit_0()
    {
        var run = Panels();
        Assert.Equal(0, await run.RunAsync("check", "--show-priors"));
        Assert.Contains("\"clamp_reversed\": 0.035", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Priors_that_are_not_there_exit_1_and_say_where_to_start()
    {
        var run = Panels();
        Assert.Equal(1, await run.RunAsync("check", "right.json", "--priors", "no-such-priors.json"));
        Assert.Contains("--show-priors", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Options_left_out_mean_that_nothing_is_known()
    {
        var run = Panels();
        await run.RunAsync("check", "right.json");

        Assert.Equal(new CheckRequest(), run.Request);
        Assert.Equal(new CheckOptions(), run.Known);
    }

    [Fact]
    public async Task Colours_are_named_in_the_remedies()
    {
        var run = Panels();
        await run.RunAsync("check", "wrong.json", "--colours", "us-277-480", "--format", "json");

        var remedy = JsonDocument.Parse(run.Output).RootElement.GetProperty("faults")[1].GetProperty("remedy").GetString();
        Assert.Equal("Move clamp I2 to conductor B (orange). Move clamp I3 to conductor C (yellow).", remedy);
    }

    [Fact]
    public async Task Data_file_beside_its_given_configuration_is_not_checked_twice()
    {
        var run = new CommandRun().With("panel.cfg", SampleVerdicts.Correct);

        Assert.Equal(0, await run.RunAsync("check", "panel.cfg", "panel.DAT", "panel.cfg", "--format", "json"));
        Assert.Single(run.Output.TrimEnd('\n').Split('\n'));
    }
}
