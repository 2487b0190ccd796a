using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Planning;

namespace Leadwright.Client.Tests.Model;

public sealed class PlanBoardTests
{
    private readonly KeptTexts _device = new();

    [Fact]
    public async Task A_board_says_what_is_missing_until_the_plan_is_there()
    {
        var board = new PlanBoard(_device);
        await board.OpenAsync();
        Assert.Equal("Choose the service first.", board.Wanted);
        await board.ChooseServiceAsync(ServiceKind.Wye);
        Assert.Equal("State the nominal voltage of the service.", board.Wanted);
        await board.ChangeAsync(board.Draft with { Nominal = "230/400", Purposes = [] });
        Assert.Equal("Say what is to be learnt.", board.Wanted);
        await board.ChangeAsync(board.Draft with { Purposes = [SurveyPurpose.Voltage] });
        Assert.Equal("", board.Wanted);
        Assert.Equal(600, board.Sheet!.IntervalSeconds);
    }

    [Theory]
    [InlineData("kw", "0")]
    [InlineData("kw", "-3")]
    [InlineData("peak", "0.9")]
    [InlineData("range", "1.000,5")]
    [InlineData("memory", "much")]
    public async Task A_figure_that_can_not_be_used_keeps_the_plan_back(string key, string text)
    {
        var board = await ReadyAsync();
        await board.ChangeAsync(board.Draft with { Texts = board.Draft.Texts.SetItem(key, text) });
        Assert.Null(board.Sheet);
        Assert.Contains("marked fields", board.Wanted, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Figures_are_read_with_a_comma_and_left_out_ones_have_their_usual_value()
    {
        var board = await ReadyAsync();
        await board.ChangeAsync(board.Draft with { Texts = board.Draft.Texts.SetItem("kw", "36,5").SetItem("range", "200").SetItem("memory", "8") });
        var plan = board.Sheet!.Plan;
        Assert.Equal(36_500, plan.ExpectedWatts!.Value, 1e-6);
        Assert.Equal(new ClampFigures(200, 1, 0.1, 1), plan.Clamp);
        Assert.Equal((12, 3, 4.0, 8e6), (plan.Recorder!.Quantities, plan.Recorder.Statistics, plan.Recorder.BytesPerValue, plan.Recorder.MemoryBytes!.Value));
        Assert.Equal(1.5, plan.PeakFactor);
    }

    [Fact]
    public async Task Nothing_is_assumed_of_a_recorder_of_which_nothing_is_known() => Assert.Null((await ReadyAsync()).Sheet!.Memory);

    [Fact]
    public async Task Another_service_forgets_a_voltage_that_is_none_of_it()
    {
        var board = await ReadyAsync();
        await board.ChooseServiceAsync(ServiceKind.Split);
        Assert.Equal("", board.Draft.Nominal);
    }

    [Fact]
    public async Task A_draft_comes_back_after_a_reload()
    {
        var board = await ReadyAsync();
        await board.ChangeAsync(board.Draft with
        {
            Site = "Mill = old\nnorth",
            MayExport = true,
            FrequencyHertz = 60,
            ColourSchemeId = "canada",
            Purposes = [SurveyPurpose.Harmonics, SurveyPurpose.Load],
            Texts = board.Draft.Texts.SetItem("amps", "12,5"),
        });
        var next = new PlanBoard(_device);
        await next.OpenAsync();
        Assert.Equal("Mill = old north", next.Draft.Site);
        Assert.Equal(board.Draft.Purposes, next.Draft.Purposes);
        Assert.Equal(board.Draft.Texts, next.Draft.Texts);
        Assert.Equal((true, 60, "canada", ServiceKind.Wye), (next.Draft.MayExport, next.Draft.FrequencyHertz, next.Draft.ColourSchemeId, next.Draft.Service));
    }

    private async Task<PlanBoard> ReadyAsync()
    {
        var board = new PlanBoard(_device);
        await board.OpenAsync();
        await board.ChooseServiceAsync(ServiceKind.Wye);
        await board.ChangeAsync(board.Draft with { Nominal = "230/400" });
        return board;
    }
}
