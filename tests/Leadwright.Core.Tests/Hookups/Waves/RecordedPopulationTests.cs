using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups.Waves;

/// <summary>A guard on what bench/Leadwright.Populations --seconds measures at length: recordings with a load switched on every line.</summary>
public sealed class RecordedPopulationTests
{
    private const int Count = 24;

    [Theory]
    [InlineData(ServiceKind.Wye, LoadFamily.Export, Count - 1)]
    [InlineData(ServiceKind.Wye, LoadFamily.Leading, Count - 1)]
    [InlineData(ServiceKind.Wye, LoadFamily.Unbalanced, Count - 1)]
    [InlineData(ServiceKind.Delta, LoadFamily.Export, Count - 1)]
    [InlineData(ServiceKind.DeltaTwoClamp, LoadFamily.Motors, Count - 1)]
    [InlineData(ServiceKind.Split, LoadFamily.Export, Count - 1)]
    [InlineData(ServiceKind.Single, LoadFamily.Ordinary, Count - 2)] // A dead voltage has several causes that read alike.
    public void Recordings_name_the_hookup_without_a_guess_about_the_load(ServiceKind service, LoadFamily family, int least)
    {
        var population = new PanelPopulation { Service = service, Family = family, Seed = 11 };
        var (named, surelyWrong, falseAlarms) = (0, 0, 0);
        var options = new ParallelOptions { CancellationToken = TestContext.Current.CancellationToken };
        Parallel.For(0, Count, options, index =>
        {
            var drawn = population.Case(index);
            var readings = RecordedPanel.Readings(drawn, 5, 7);
            var verdict = HookupCheck.Judge(readings, drawn.Options);
            var isNamed = ReadsAlike.Check(readings, drawn.Truth, drawn.Rotation, verdict.Best.Hookup, verdict.Best.Rotation);
            if (isNamed) Interlocked.Increment(ref named);
            else if (verdict.Best.Probability > 0.95) Interlocked.Increment(ref surelyWrong);
            if (drawn.Truth.IsRight && drawn.Rotation == Rotation.Abc && verdict.Verdict == Verdict.Faulty) Interlocked.Increment(ref falseAlarms);
        });

        Assert.Equal(0, falseAlarms);
        Assert.Equal(0, surelyWrong);
        Assert.InRange(named, least, Count);
    }

    [Fact]
    public void A_leg_with_a_twentieth_of_the_other_s_load_that_stands_still_at_most_steps_is_no_clamp_on_nothing()
    {
        // A clamp that picks up nothing of the changes does not pick up 29 A of the other leg's 566.
        var drawn = new PanelPopulation { Service = ServiceKind.Split, Family = LoadFamily.Unbalanced, Faults = FaultStyle.None, Seed = 8 }.Case(12);
        var history = new SupplyHistory([new SupplyChange(3.1, 0.008)], 1.5e-4, 0.2);
        var readings = RecordedPanel.Readings(drawn.Samples(new SamplingPlan(3200, 6), 9, history, onEveryBranch: true), drawn.Panel.Service, drawn.Panel.Source.Nominal);
        Assert.Equal(Verdict.Correct, HookupCheck.Judge(readings, drawn.Options).Verdict);
    }
}
