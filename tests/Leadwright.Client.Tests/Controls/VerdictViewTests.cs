using System.Collections.Immutable;
using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Tests.Controls;

public sealed class VerdictViewTests : ScreenContext
{
    [Theory]
    [InlineData(Verdict.Correct, "Correct", "circle")]
    [InlineData(Verdict.Faulty, "Faulty", "path")]
    [InlineData(Verdict.Undecided, "Cannot tell yet", "path")]
    public void A_plate_tells_the_verdict_by_word_and_by_shape(Verdict verdict, string word, string shape)
    {
        var plate = Render<VerdictPlate>(parameters => parameters.Add(plate => plate.Verdict, verdict));
        Assert.Equal(word, plate.Find(".word").TextContent);
        Assert.Equal(shape, plate.Find(".shape").LocalName);
    }

    [Fact]
    public void The_three_plates_have_three_shapes()
    {
        var shapes = Enum.GetValues<Verdict>()
            .Select(verdict => Render<VerdictPlate>(parameters => parameters.Add(plate => plate.Verdict, verdict)).Find("svg").InnerHtml).ToArray();
        Assert.Equal(3, shapes.Distinct().Count());
    }

    [Fact]
    public void A_faulty_verdict_lists_its_movements_in_order_with_the_caution()
    {
        var view = Render<VerdictView>(parameters => parameters.Add(view => view.Answer, Answer(Verdict.Faulty)));
        Assert.Equal(
            ["Turn clamp I1 round: its arrow must point to the load.", "Move clamp I2 to conductor B (black)."],
            view.FindAll(".moves li").Select(step => step.TextContent.Trim()));
        Assert.Contains(Cautions.Line, view.Find(".caution").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_verdict_is_announced_to_those_who_listen() => Assert.Equal(
        "polite",
        Render<VerdictView>(parameters => parameters.Add(view => view.Answer, Answer(Verdict.Faulty))).Find(".headline").GetAttribute("aria-live"));

    [Fact]
    public void An_undecided_verdict_asks_nobody_to_move_anything() =>
        Assert.Empty(Render<VerdictView>(parameters => parameters.Add(view => view.Answer, Answer(Verdict.Undecided))).FindAll(".moves"));

    private static HookupAnswer Answer(Verdict kind)
    {
        var service = Service.Of(ServiceKind.Wye);
        var hookup = Hookup.Expected(service.Leads, service.Clamps);
        hookup = hookup with
        {
            Clamps = hookup.Clamps.SetItem(Clamp.I1, new(Conductor.A, true, 1)).SetItem(Clamp.I2, new(null, false, 1)),
        };
        ImmutableArray<Fault> faults =
        [
            new(FaultKind.ClampReversed, [], [Clamp.I1], [new TurnClamp(Clamp.I1, Conductor.A)]),
            new(FaultKind.ClampsExchanged, [], [Clamp.I2], [new MoveClamp(Clamp.I2, Conductor.C, Conductor.B, false)]),
        ];
        var verdict = new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = kind,
            Best = new Answer(hookup, Rotation.Abc, 0.97, faults, []),
            ProbabilityCorrect = 0.01,
            Alternatives = [],
            Evidence = [],
            Notes = [],
            Phasors = ImmutableSortedDictionary<Channel, Phasor>.Empty,
        };
        var naming = ConductorNaming.Iec60445;
        return new(new PanelReadings { Service = ServiceKind.Wye }, CheckDocument.Of("test", verdict, naming), naming, TimeSpan.FromMilliseconds(3));
    }
}
