using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;

namespace Leadwright.Core.Tests.Practice;

public sealed class PanelFormTests
{
    [Theory]
    [InlineData(PracticeForm.Panel)]
    [InlineData(PracticeForm.NameTheFault)]
    [InlineData(PracticeForm.WhatNext)]
    [InlineData(PracticeForm.HeaterTest)]
    [InlineData(PracticeForm.PlausibleTotal)]
    [InlineData(PracticeForm.LeadOrSupply)]
    [InlineData(PracticeForm.CornerOrOpen)]
    [InlineData(PracticeForm.OpenNeutral)]
    [InlineData(PracticeForm.StillSaved)]
    public void The_same_key_makes_the_same_exercise_and_another_seed_another(PracticeForm form)
    {
        string Made(ulong seed)
        {
            var exercise = Exercise.Of(new ExerciseKey(form, null, null, 2, seed));
            return string.Join(' ', exercise.Readings?.Channels.Select(entry => entry.ToString()) ?? [])
                + string.Join(' ', exercise.Strip?.Values.SelectMany(entry => entry.Value) ?? []) + exercise.Recorded
                + string.Join(' ', exercise.Actions.Select(action => exercise.Take(action).Answer));
        }

        Assert.Equal(Made(41), Made(41));
        Assert.True(Enumerable.Range(0, 12).Select(seed => Made((ulong)seed)).Distinct().Count() > 5);
    }

    [Fact]
    public void A_level_says_how_many_faults_there_may_be()
    {
        int[] Slips(int level) => [.. Seeds(40).Select(seed =>
            Exercise.Of(new ExerciseKey(PracticeForm.Panel, ServiceKind.Wye, null, level, seed))).Select(Wrong)];
        Assert.InRange(Slips(1).Count(count => count == 0), 1, 14);
        Assert.True(Slips(3).Average() > Slips(1).Average());
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    [InlineData(ServiceKind.HighLeg)]
    [InlineData(ServiceKind.Network)]
    public void Each_service_can_be_chosen_and_each_action_be_taken(ServiceKind service)
    {
        var exercise = Exercise.Of(new ExerciseKey(PracticeForm.Panel, service, null, 2, 5));
        Assert.Equal(service, exercise.Service);
        Assert.NotEmpty(exercise.Actions);
        foreach (var action in exercise.Actions)
        {
            var taken = exercise.Take(action);
            Assert.True(ToldAnswer.TryParse(taken.Told.ToString(), out _, out var problem), problem);
            Assert.Equal(action.Kind is SettlingKind.Switched or SettlingKind.Motor, taken.After is not null);
        }
    }

    [Fact]
    public void The_truth_gets_all_points_and_names_its_faults_by_the_kinds_of_the_check()
    {
        foreach (var seed in Seeds(20))
        {
            var exercise = Exercise.Of(new ExerciseKey(PracticeForm.NameTheFault, null, null, 2, seed));
            var mark = Marking.Mark(exercise, new PracticeAnswer { Hookup = exercise.Truth, Confidence = 1 });
            Assert.True(mark.IsRight);
            Assert.Equal(100, mark.Points, 1e-9);
            Assert.Empty(mark.Missed);
            Assert.Empty(mark.Invented);
            Assert.Equal(exercise.Truth!.IsRight, mark.Faults.IsEmpty);
        }
    }

    [Fact]
    public void A_missed_fault_is_named_and_sureness_in_it_costs()
    {
        var exercise = Seeds(60).Select(seed => Exercise.Of(new ExerciseKey(PracticeForm.Panel, ServiceKind.Wye, null, 1, seed)))
            .First(drawn => drawn.Truth!.Clamps.Values.Count(place => place is { On: not null, Reversed: true }) == 1 && Wrong(drawn) == 1);
        var right = exercise.Expected;
        var sure = Marking.Mark(exercise, new PracticeAnswer { Hookup = right, Confidence = 1 });
        Assert.False(sure.IsRight);
        Assert.Equal([FaultKind.ClampReversed], sure.Missed);
        Assert.Equal((60 * 6.0 / 7) - 120, sure.Points, 1e-9);
        var unsure = Marking.Mark(exercise, new PracticeAnswer { Hookup = right, Confidence = 0.5 });
        Assert.Equal(60 * 6.0 / 7, unsure.Points, 1e-9);
    }

    [Fact]
    public void Each_action_costs_two_points()
    {
        var exercise = Exercise.Of(new ExerciseKey(PracticeForm.Panel, ServiceKind.Wye, null, 1, 3));
        var answer = new PracticeAnswer { Hookup = exercise.Truth, Confidence = 1, Taken = [exercise.Actions[0], exercise.Actions[^1]] };
        Assert.Equal(96, Marking.Mark(exercise, answer).Points, 1e-9);
    }

    // A cyclic relabelling of leads and clamps together is invisible and harmless to totals (derived: docs/methods/hook-up-evidence.md).
    [Fact]
    public void What_no_reading_can_tell_from_the_truth_counts_as_right()
    {
        var exercise = Seeds(60).Select(seed => Exercise.Of(new ExerciseKey(PracticeForm.NameTheFault, ServiceKind.Wye, null, 1, seed)))
            .First(drawn => drawn.Truth!.IsRight);
        var moved = new Hookup(
            exercise.Truth!.Leads.SetItem(Lead.V1, Conductor.B).SetItem(Lead.V2, Conductor.C).SetItem(Lead.V3, Conductor.A),
            exercise.Truth.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.B)).SetItem(Clamp.I2, ClampPlace.Right(Conductor.C))
                .SetItem(Clamp.I3, ClampPlace.Right(Conductor.A)));
        var mark = Marking.Mark(exercise, new PracticeAnswer { Hookup = moved, Confidence = 0.9 });
        Assert.True(mark.IsRight);
        Assert.True(mark.ReadsAlike);
        Assert.Equal(60, mark.PlacePoints, 1e-9);
    }

    [Fact]
    public void The_second_opinion_names_a_plain_fault_and_owns_up_where_it_can_not()
    {
        var opinions = Seeds(16).Select(seed => Exercise.Of(new ExerciseKey(PracticeForm.NameTheFault, ServiceKind.Wye, null, 1, seed)))
            .Select(drawn => Marking.Ask(
                Marking.Mark(drawn, new PracticeAnswer { Hookup = drawn.Truth, Confidence = 0.8 }), HookupCheck.Judge)!).ToList();

        // The accuracy table has 0.96 for ordinary loads on a wye (docs/methods/hook-up-accuracy.md): of 16, fewer than 13 is a chance of one in 300.
        Assert.True(opinions.Count(opinion => opinion.NamesTruth) >= 13);
        Assert.All(opinions, opinion => Assert.True(!opinion.CouldBeKnown || opinion.NamesTruth));
    }

    [Fact]
    public void Answers_that_do_not_answer_are_refused()
    {
        var panel = Exercise.Of(new ExerciseKey(PracticeForm.NameTheFault, ServiceKind.Wye, null, 1, 3));
        var choice = Exercise.Of(new ExerciseKey(PracticeForm.OpenNeutral, null, null, 1, 3));
        Refuses("where the leads and clamps are", panel, new PracticeAnswer { Confidence = 0.5, Choice = "sound" });
        Refuses("must place V1, V2, V3, VN and I1, I2, I3", panel, new PracticeAnswer
        {
            Confidence = 0.5, Hookup = new Hookup(panel.Truth!.Leads.Remove(Lead.VN), panel.Truth.Clamps),
        });
        Refuses("must be one of sound, neutral-lead-open, supply-neutral-open", choice, new PracticeAnswer { Confidence = 0.5, Choice = "dead" });
        Refuses("can't be done", panel, new PracticeAnswer { Confidence = 0.5, Hookup = panel.Truth, Taken = [new SettlingAction(SettlingKind.Motor)] });
        Refuses("from 0 to 1", choice, new PracticeAnswer { Confidence = 70, Choice = "sound" });
    }

    private static void Refuses(string message, Exercise exercise, PracticeAnswer answer) => Assert.Contains(
        message, Assert.ThrowsAny<ArgumentException>(() => Marking.Mark(exercise, answer)).Message, StringComparison.Ordinal);

    private static int Wrong(Exercise exercise) =>
        exercise.Truth!.Leads.Count(lead => lead.Value != Service.HomeOf(lead.Key))
        + exercise.Truth.Clamps.Count(clamp => clamp.Value != ClampPlace.Right(Service.HomeOf(clamp.Key)));

    private static IEnumerable<ulong> Seeds(int count) => Enumerable.Range(1, count).Select(seed => (ulong)seed);
}
