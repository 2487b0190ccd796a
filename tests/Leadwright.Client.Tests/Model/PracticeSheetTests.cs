using System.Text;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Formats;
using Leadwright.Reports.Practice;

namespace Leadwright.Client.Tests.Model;

public sealed class PracticeSheetTests
{
    private static readonly ExerciseKey s_fault = new(PracticeForm.NameTheFault, ServiceKind.Wye, null, 1, 12);
    private static readonly ExerciseKey s_neutral = new(PracticeForm.OpenNeutral, null, null, 1, 5);
    private readonly KeptTexts _device = new();
    private int _judged;

    [Fact]
    public async Task An_answer_is_whole_when_every_place_and_the_confidence_are_said()
    {
        var sheet = Make();
        await sheet.BeginAsync(s_fault);
        foreach (var lead in sheet.Exercise!.Expected.Leads) await sheet.ChangeAsync(sheet.Draft with { Leads = sheet.Draft.Leads.SetItem(lead.Key, lead.Value) });
        foreach (var clamp in sheet.Exercise.Expected.Clamps.Keys)
        {
            await sheet.ChangeAsync(sheet.Draft with { Clamps = sheet.Draft.Clamps.SetItem(clamp, new ClampDraft(true, Service.HomeOf(clamp), null, 1)) });
            Assert.False(sheet.Draft.IsPlaced(sheet.Exercise));
            await sheet.ChangeAsync(sheet.Draft with { Clamps = sheet.Draft.Clamps.SetItem(clamp, sheet.Draft.ClampOf(clamp) with { Reversed = false }) });
        }

        Assert.True(sheet.Draft.IsPlaced(sheet.Exercise));
        await sheet.MarkAsync();
        Assert.Null(sheet.Document);
        await sheet.ChangeAsync(sheet.Draft with { ConfidencePercent = 90 });
        await sheet.MarkAsync();
        Assert.Equal(0.9, sheet.Document!.Mark.Answer.Confidence);
    }

    [Fact]
    public async Task The_mark_comes_before_the_check_is_asked_and_the_score_is_kept_once()
    {
        var sheet = await NeutralAnsweredAsync();
        await sheet.MarkAsync();
        await sheet.MarkAsync();
        Assert.Equal((true, 0, ""), (sheet.IsAsking, _judged, sheet.Document!.OpinionSays));
        sheet.Ask();
        sheet.Ask();
        Assert.Equal((false, 1), (sheet.IsAsking, _judged));
        Assert.NotEmpty(sheet.Document.OpinionSays);
        Assert.Single(sheet.Scores);

        var next = Make();
        await next.OpenAsync();
        Assert.Equal(sheet.Scores, next.Scores);
        Assert.Null(next.Exercise);
    }

    [Fact]
    public async Task What_was_taken_and_said_comes_back_after_a_reload()
    {
        var sheet = await NeutralAnsweredAsync();
        var heater = new SettlingAction(SettlingKind.Switched) { AtConductor = Conductor.B };
        await sheet.TakeAsync(heater);
        await sheet.TakeAsync(heater);
        var next = Make();
        await next.OpenAsync();
        Assert.Equal(s_neutral, next.Exercise!.Key);
        Assert.Equal(("sound", 70), (next.Draft.Choice, next.Draft.ConfidencePercent));
        Assert.Equal(heater, Assert.Single(next.Taken).Action);
        Assert.Equal(sheet.Taken[0].Answer, next.Taken[0].Answer);
    }

    [Fact]
    public async Task Places_come_back_after_a_reload()
    {
        var sheet = Make();
        await sheet.BeginAsync(s_fault);
        await sheet.ChangeAsync(sheet.Draft with
        {
            Leads = sheet.Draft.Leads.SetItem(Lead.V2, null).SetItem(Lead.VN, Conductor.N),
            Clamps = sheet.Draft.Clamps.SetItem(Clamp.I1, new ClampDraft(true, Conductor.C, true, 10)).SetItem(Clamp.I3, new ClampDraft(true, null, null, 1)),
        });
        var next = Make();
        await next.OpenAsync();
        Assert.Equal(sheet.Draft.Leads, next.Draft.Leads);
        Assert.Equal(sheet.Draft.Clamps, next.Draft.Clamps);
    }

    [Theory]
    [InlineData("rubbish")]
    [InlineData("LW1-00\n\n\n\n\n")]
    public async Task What_can_not_be_read_back_begins_anew(string kept)
    {
        _device.Kept["leadwright.practice"] = kept;
        _device.Kept["leadwright.practice.scores"] = kept;
        var sheet = Make();
        await sheet.OpenAsync();
        Assert.Null(sheet.Exercise);
        Assert.Empty(sheet.Scores);
    }

    [Theory]
    [InlineData(ServiceKind.HighLeg, "us-high-leg")]
    [InlineData(ServiceKind.Split, "us-120-240")]
    public async Task An_exercise_has_the_colours_of_its_service(ServiceKind service, string scheme)
    {
        var sheet = Make();
        await sheet.BeginAsync(s_fault with { Service = service });
        Assert.Equal(scheme, sheet.SchemeId);
        Assert.NotNull(ConductorColours.WithId(scheme));
    }

    private async Task<PracticeSheet> NeutralAnsweredAsync()
    {
        var sheet = Make();
        await sheet.BeginAsync(s_neutral);
        await sheet.ChangeAsync(sheet.Draft with { Choice = "sound", ConfidencePercent = 70 });
        return sheet;
    }

    // A name with a comma, a quotation mark and a sign that a spreadsheet would work out comes back as it was typed.
    [Fact]
    public async Task Scores_of_other_devices_come_together_and_none_counts_twice()
    {
        ClassEntry[] here = [new("A. Sample", s_fault, true, 0.9, 0.01, 1, 81.25)], there = [.. here, new("=B, \"Ester\"", s_neutral, false, 1.0 / 3, 1.0 / 9, 0, -12.345), new("=B, \"Ester\"", s_neutral, false, 1.0 / 3, 1.0 / 9, 0, -12.345)];
        var sheet = Make();
        Assert.Equal(1, await sheet.GatherAsync([SheetOf("here.csv", here)]));
        Assert.Equal(2, await sheet.GatherAsync([SheetOf("there.csv", there)]));
        Assert.Equal(0, await sheet.GatherAsync([SheetOf("there.csv", there), SheetOf("here.csv", here)]));
        Assert.Equal(["A. Sample", "=B, \"Ester\"", "=B, \"Ester\""], sheet.Scores.Select(score => score.Trainee));
        Assert.Equal([s_fault, s_neutral, s_neutral], sheet.Scores.Select(score => score.Exercise));
        var again = Make();
        await again.OpenAsync();
        Assert.Equal(sheet.Scores, again.Scores);
    }

    [Theory]
    [InlineData("name,points\n", "first line")]
    [InlineData("{head}A,name-the-fault,1,{seal},perhaps,0.9,0.01,1,81\n", "line 2")]
    [InlineData("{head}A,name-the-fault,1,{seal},yes,1.9,0.01,1,81\n", "from 0 to 1")]
    [InlineData("{head}A,name-the-fault,1,broken,yes,0.9,0.01,1,81\n", "sealed key")]
    public async Task A_sheet_that_is_none_is_named_and_adds_nothing(string text, string named)
    {
        var sheet = Make();
        var whole = text.Replace("{head}", ClassSheetCsv.Of(new ClassSheet([])), StringComparison.Ordinal).Replace("{seal}", ExerciseSeal.Close(s_fault), StringComparison.Ordinal);
        var file = new InputFile("class.csv", Encoding.UTF8.GetBytes(whole));
        Assert.Contains(named, (await Assert.ThrowsAsync<FormatReadException>(() => sheet.GatherAsync([SheetOf("good.csv", [new("A", s_fault, true, 0.9, 0.01, 1, 81)]), file]))).Message, StringComparison.Ordinal);
        Assert.Empty(sheet.Scores);
    }

    private static InputFile SheetOf(string name, ClassEntry[] entries) => new(name, Encoding.UTF8.GetBytes(ClassSheetCsv.Of(new ClassSheet([.. entries]))));

    private PracticeSheet Make() => new(_device, (readings, known) =>
    {
        _judged++;
        return HookupCheck.Judge(readings, known);
    });
}
