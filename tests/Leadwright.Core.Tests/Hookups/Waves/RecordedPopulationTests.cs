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
}
