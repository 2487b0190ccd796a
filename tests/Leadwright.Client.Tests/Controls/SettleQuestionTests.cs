using System.Collections.Immutable;
using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Tests.Controls;

public sealed class SettleQuestionTests : ScreenContext
{
    [Fact]
    public void Each_answer_is_a_button_that_tells_it()
    {
        var told = new List<ToldAnswer>();
        var view = Render<SettleQuestion>(parameters => parameters
            .Add(view => view.Document, Document(Asked(), []))
            .Add(view => view.Told, told.Add));
        Assert.Equal(["To the load", "To the source"], view.FindAll("button.answer").Select(button => button.TextContent));
        view.FindAll("button.answer")[1].Click();
        Assert.Equal("arrow:I1=source", Assert.Single(told).ToString());
    }

    [Fact]
    public void The_answers_are_grouped_under_the_question()
    {
        var view = Render<SettleQuestion>(parameters => parameters.Add(view => view.Document, Document(Asked(), [])));
        var group = view.Find("[role=group]");
        Assert.Contains("arrow of clamp I1", view.Find($"#{group.GetAttribute("aria-labelledby")}").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_told_can_be_withdrawn_by_a_button_that_says_what_it_withdraws()
    {
        var withdrawn = new List<ToldAnswer>();
        Assert.True(ToldAnswer.TryParse("motor=down", out var answer, out _));
        var view = Render<SettleQuestion>(parameters => parameters
            .Add(view => view.Document, Document(null, [new WeighedTold(answer!, ToldStanding.Contradicts)]))
            .Add(view => view.Withdrawn, withdrawn.Add));
        Assert.Contains("speaks against the verdict", view.Find(".told li").TextContent, StringComparison.Ordinal);
        var button = view.Find(".told button");
        Assert.Equal("Withdraw: Motor started, powers: all fall", button.GetAttribute("aria-label"));
        button.Click();
        Assert.Equal(answer, Assert.Single(withdrawn));
        Assert.Empty(view.FindAll(".settle-ask"));
    }

    private static Settlement Asked() => new(
        new SettlingAction(SettlingKind.Arrow) { AtClamp = Clamp.I1 },
        [new SettlingOutcome("load", 0.6, 0.97, 0.03), new SettlingOutcome("source", 0.4, 0.03, 0.97)], 0.7);

    private static CheckDocument Document(Settlement? settle, ImmutableArray<WeighedTold> told)
    {
        var service = Service.Of(ServiceKind.Wye);
        return CheckDocument.Of("test", new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = Verdict.Undecided,
            Best = new Answer(Hookup.Expected(service.Leads, service.Clamps), Rotation.Abc, 0.6, [], []),
            ProbabilityCorrect = 0.6,
            Alternatives = [],
            Evidence = [],
            Notes = [],
            Phasors = ImmutableSortedDictionary<Channel, Phasor>.Empty,
            Settle = settle,
            Told = told,
        });
    }
}
