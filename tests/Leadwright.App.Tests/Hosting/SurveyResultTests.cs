using System.Net;
using System.Net.Http.Json;
using Leadwright.App.Tests.Verbs;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;

namespace Leadwright.App.Tests.Hosting;

public sealed class SurveyResultTests(ServedFolder served) : IClassFixture<ServedFolder>, IAsyncLifetime
{
    private string _id = "";

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _id = (await served.MakeAsync("Results")).Id;
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{_id}/recordings", "week.csv", await ServedFolder.WeekCsvAsync())).Problem);
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    [Fact]
    public async Task Rows_of_a_zoom_are_the_recorder_s_values()
    {
        var log = ServedFolder.Week.Log;
        var from = ColumnFrame.MillisecondsOf(log.From.AddDays(1));
        var frame = await FrameAsync(FormattableString.Invariant($"names=V1_rms_V,P2_W&from={from}&to={from + 7_200_000}&width=500"));
        var column = log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1);
        var row = log.Starts.Span.BinarySearch(log.From.AddDays(1).Ticks);
        var at = Array.FindIndex(frame.Times, time => time == from + 300_000);
        Assert.True(at >= 0, "The middle of the first interval of the span is there.");
        for (var index = 0; index < 12; index++) Assert.Equal(log.Values(column)[row + index], frame.Columns[0].Mean[at + index], 0.01);
        Assert.InRange(frame.Times.Length, 12, 16);
        Assert.Equal(["V", "W"], frame.Columns.Select(shown => shown.Unit));
    }

    [Fact]
    public async Task A_wide_view_keeps_every_extreme_within_its_width()
    {
        var log = ServedFolder.Week.Log;
        var frame = await FrameAsync("names=I1_rms_A&width=100");
        var values = log.Values(log.IndexOf(LogQuantity.Current, LogPlace.Phase1)).ToArray();
        Assert.InRange(frame.Times.Length, 50, 102);
        Assert.Equal(values.Max(), frame.Columns[0].High.Max(), 0.01);
        Assert.Equal(values.Min(), frame.Columns[0].Low.Min(), 0.01);
    }

    [Fact]
    public async Task A_column_that_is_not_there_is_said_so()
    {
        using var answer = await served.Http.GetAsync(new Uri($"api/surveys/{_id}/columns?names=V9", UriKind.Relative), Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("V9", (await ServedFolder.ProblemAsync(answer)).Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Mended_columns_carry_their_standings_and_stand_beside_what_was_recorded()
    {
        await served.ResultAsync($"api/surveys/{_id}/mend");
        var frame = await FrameAsync("mended=true&names=P2_W,recorded:P2_W,V3_rms_V&width=2000");
        Assert.Contains((byte)Standing.Mended, frame.Columns[0].Standing);
        Assert.Contains((byte)Standing.Modelled, frame.Columns[2].Standing);
        // The clamp faced the source: the sign alone was changed.
        for (var row = 0; row < frame.Times.Length; row++) Assert.Equal(frame.Columns[0].Mean[row], -frame.Columns[1].Mean[row], 0.01 * Math.Abs(frame.Columns[0].Mean[row]) + 1);
    }

    [Fact]
    public async Task A_correction_is_switched_off_with_a_reason_and_the_energy_follows()
    {
        var before = await MendAsync();
        var layer = before.Layers.Single(layer => layer.Correction.Kind == "clamp-reversed");
        Assert.True(layer is { IsOn: true, CanSwitch: true });

        using var silent = await SwitchAsync(new LayerSwitch(layer.Id, false, " ", before.Sequence));
        Assert.Equal(HttpStatusCode.BadRequest, silent.StatusCode);
        using var switched = await SwitchAsync(new LayerSwitch(layer.Id, false, "The roof feeds back on that phase.", before.Sequence));
        Assert.Equal(HttpStatusCode.NoContent, switched.StatusCode);

        var after = await MendAsync();
        Assert.False(after.Layers.Single(other => other.Id == layer.Id).IsOn);
        Assert.Equal("The roof feeds back on that phase.", after.Layers.Single(other => other.Id == layer.Id).Why);
        // What phase 2 is taken to have drawn changes its sign, and nothing else: 2 W2 less.
        Assert.Equal(-before.Mend.After!.PhaseKwh[1], after.Mend.After!.PhaseKwh[1], 0.01 * Math.Abs(before.Mend.After.PhaseKwh[1]));
        Assert.DoesNotContain(after.Mend.Corrections, correction => correction.Kind == "clamp-reversed");

        using var late = await SwitchAsync(new LayerSwitch(layer.Id, true, "From a tab that was left open.", before.Sequence));
        Assert.Equal(HttpStatusCode.Conflict, late.StatusCode);
        Assert.Contains("Someone else changed this survey", (await ServedFolder.ProblemAsync(late)).Detail, StringComparison.Ordinal);
        using var back = await SwitchAsync(new LayerSwitch(layer.Id, true, "There is no generation after all.", after.Sequence));
        Assert.Equal(HttpStatusCode.NoContent, back.StatusCode);
        Assert.Equal(before.Mend.Energy, (await MendAsync()).Mend.Energy);
    }

    [Fact]
    public async Task The_screens_write_the_tables_that_the_verbs_write_byte_for_byte_layers_and_all()
    {
        var folder = Path.Combine(served.Folder, _id);
        await served.ResultAsync($"api/surveys/{_id}/guard");
        var all = await MendAsync();
        var (spans, mended) = (Table("spans"), Table("mended"));
        Assert.Equal((spans, mended), await ByVerbsAsync());

        var layer = all.Layers.Single(one => one.Correction.Kind == "clamp-reversed");
        using var off = await SwitchAsync(new LayerSwitch(layer.Id, false, "Not so.", (await MendAsync()).Sequence));
        Assert.Equal(HttpStatusCode.NoContent, off.StatusCode);
        await MendAsync();
        var without = Table("mended");
        Assert.NotEqual(mended, without);
        Assert.Equal((spans, without), await ByVerbsAsync());

        // Switched on again everything is known, and the table follows all the same.
        using var on = await SwitchAsync(new LayerSwitch(layer.Id, true, "It is.", (await MendAsync()).Sequence));
        Assert.Equal(HttpStatusCode.NoContent, on.StatusCode);
        await MendAsync();
        Assert.Equal(mended, Table("mended"));

        string Table(string kind) => Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(
            File.ReadAllBytes(Assert.Single(Directory.EnumerateFiles(Path.Combine(folder, "tables", kind), "part-0.parquet", SearchOption.AllDirectories)))));

        async Task<(string Spans, string Mended)> ByVerbsAsync()
        {
            foreach (var kind in new[] { "spans", "mended" }) Directory.Delete(Path.Combine(folder, "tables", kind), recursive: true);
            var run = new CommandRun();
            await run.RunAsync("guard", folder, "--keep");
            await run.RunAsync("mend", folder, "--keep");
            return (Table("spans"), Table("mended"));
        }
    }

    [Fact]
    public async Task The_study_is_of_the_mended_values_and_its_plots_can_be_had()
    {
        var answer = await served.ResultAsync($"api/surveys/{_id}/study?limits=en-50160");
        var mend = await MendAsync();
        var study = answer.GetProperty("study");
        Assert.True(answer.GetProperty("is_mended").GetBoolean());
        Assert.Equal(mend.Mend.Energy!.MendedKwh!.Value, study.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 0.01 * mend.Mend.Energy.MendedKwh.Value);
        Assert.Contains(study.GetProperty("limits").EnumerateArray(), line => line.GetProperty("table").GetString() == "en-50160");
        foreach (var plot in answer.GetProperty("plots").EnumerateArray())
        {
            var svg = await served.Http.GetStringAsync(new Uri($"api/surveys/{_id}/study/{plot.GetString()}?limits=en-50160", UriKind.Relative), Cancellation);
            Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
        }

        using var outside = await served.Http.GetAsync(new Uri($"api/surveys/{_id}/study/..%2Fsurvey.json?limits=en-50160", UriKind.Relative), Cancellation);
        Assert.Equal(HttpStatusCode.NotFound, outside.StatusCode);
    }

    [Fact]
    public async Task The_vectors_of_an_interval_are_drawn_from_its_values()
    {
        var at = ColumnFrame.MillisecondsOf(ServedFolder.Week.Log.From.AddDays(1).AddMinutes(605));
        var sheet = await served.Http.GetFromJsonAsync(FormattableString.Invariant($"api/surveys/{_id}/vectors?at={at}"), SurveyJson.Default.VectorSheet, Cancellation);
        Assert.Equal(ServedFolder.Week.Log.From.AddDays(1).AddMinutes(600), sheet!.At);
        Assert.Contains("The voltages come in the order 1, 2, 3.", sheet.Says, StringComparison.Ordinal);
        Assert.Contains("no angles", sheet.Note, StringComparison.Ordinal);
        Assert.StartsWith("<svg", sheet.Svg, StringComparison.Ordinal);
    }

    private async Task<ColumnFrame> FrameAsync(string query) =>
        ColumnFrame.Read(await served.Http.GetByteArrayAsync(new Uri($"api/surveys/{_id}/columns?{query}", UriKind.Relative), Cancellation));

    private async Task<MendAnswer> MendAsync() =>
        System.Text.Json.JsonSerializer.Deserialize((await served.ResultAsync($"api/surveys/{_id}/mend")).GetRawText(), SurveyJson.Default.MendAnswer)!;

    private Task<HttpResponseMessage> SwitchAsync(LayerSwitch layer) => served.Http.PostAsJsonAsync($"api/surveys/{_id}/corrections", layer, SurveyJson.Default.LayerSwitch, Cancellation);
}
