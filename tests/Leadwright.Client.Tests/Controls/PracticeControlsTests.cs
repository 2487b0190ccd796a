using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Practice;

namespace Leadwright.Client.Tests.Controls;

public sealed class PracticeControlsTests : ScreenContext
{
    private static readonly Exercise s_fault = Exercise.Of(new ExerciseKey(PracticeForm.NameTheFault, ServiceKind.Wye, null, 1, 12));
    private static readonly ColourScheme s_scheme = ConductorColours.All[0];

    [Fact]
    public void Every_lead_and_clamp_is_asked_for_and_a_clamps_direction_once_it_has_a_conductor()
    {
        PracticeDraft? said = null;
        var places = Render<PlaceQuestions>(parameters => parameters.Add(view => view.Exercise, s_fault).Add(view => view.Scheme, s_scheme)
            .Add(view => view.Draft, new PracticeDraft()).Add(view => view.Changed, draft => said = draft));
        Assert.Equal(7, places.FindAll("fieldset.place").Count);
        Assert.Empty(places.FindAll(".faces"));
        places.FindAll("input[name=place-I2]")[2].Change("on");
        Assert.Equal(new ClampDraft(true, Conductor.C, null, 1), said!.ClampOf(Clamp.I2));
        places.Render(parameters => parameters.Add(view => view.Draft, said));
        places.FindAll("input[name=way-I2]")[1].Change("on");
        Assert.Equal(new ClampPlace(Conductor.C, true, 1), said.ClampOf(Clamp.I2).Place);
    }

    [Fact]
    public void An_action_with_one_place_is_done_at_once_and_one_that_was_taken_is_not_offered_again()
    {
        var exercise = Exercise.Of(new ExerciseKey(PracticeForm.Panel, ServiceKind.Wye, null, 1, 3));
        var chosen = new List<SettlingAction>();
        var taken = exercise.Take(exercise.Actions.First(action => action.Kind == SettlingKind.HandClamp));
        var view = Render<FurtherReadings>(parameters => parameters.Add(view => view.Actions, exercise.Actions)
            .Add(view => view.Taken, [taken]).Add(view => view.Chosen, chosen.Add));
        view.FindAll(".kinds button").First(button => button.TextContent == "Rotation indicator").Click();
        Assert.Equal(SettlingKind.Rotation, Assert.Single(chosen).Kind);
        view.FindAll(".kinds button").First(button => button.TextContent == "Hand clamp").Click();
        var places = view.FindAll(".where button");
        Assert.Equal(["A", "B", "C", "N"], places.Select(button => button.TextContent));
        Assert.True(places[0].HasAttribute("disabled"));
        Assert.False(places[1].HasAttribute("disabled"));
        Assert.Contains("It shows", view.Find(".found li").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mark_tells_right_from_wrong_by_word_and_sign()
    {
        var answer = new PracticeAnswer { Hookup = s_fault.Expected with { Leads = s_fault.Expected.Leads.SetItem(Lead.V1, null) }, Confidence = 0.8 };
        var view = Render<MarkView>(parameters => parameters.Add(view => view.Document, MarkDocument.Of(Marking.Mark(s_fault, answer)))
            .Add(view => view.Naming, ConductorNaming.Letters).Add(view => view.IsAsking, true));
        Assert.Equal("Not right", view.Find(".verdict-plate .word").TextContent);
        var first = view.FindAll(".devices li")[0];
        Assert.Contains("✕ wrong", first.TextContent, StringComparison.Ordinal);
        Assert.Contains("You said in the air.", first.TextContent, StringComparison.Ordinal);
        Assert.Equal("status", view.Find(".asking").GetAttribute("role"));
    }

    [Fact]
    public void A_strip_has_a_table_with_every_value()
    {
        var exercise = Exercise.Of(new ExerciseKey(PracticeForm.LeadOrSupply, null, null, 1, 2));
        var view = Render<StripChart>(parameters => parameters.Add(view => view.Strip, exercise.Strip!));
        Assert.Equal(3, view.FindAll("svg[role=img]").Count);
        Assert.Equal(exercise.Strip!.Count * exercise.Strip.Values.Count, view.FindAll("tbody td").Count);
        Assert.Equal(3, view.FindAll("svg")[0].QuerySelectorAll("polyline").Select(line => line.GetAttribute("stroke-dasharray")).Distinct().Count());
    }

    [Fact]
    public void Questions_that_can_not_be_answered_yet_are_no_links()
    {
        var tabs = Render<StepTabs>(parameters => parameters.Add(view => view.Root, "plan").Add(view => view.Names, ["One", "Two", "Three"])
            .Add(view => view.Here, 0).Add(view => view.Reached, 1));
        Assert.Equal(["plan/one", "plan/two"], tabs.FindAll("a").Select(link => link.GetAttribute("href")));
        Assert.Equal("step", tabs.FindAll("a")[0].GetAttribute("aria-current"));
    }
}
