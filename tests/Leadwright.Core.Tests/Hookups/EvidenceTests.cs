using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Kinds of evidence, each where it decides. Derived for this project: docs/methods/hook-up-evidence.md.</summary>
public class EvidenceTests
{
    [Theory]
    [InlineData(Clamp.I1)]
    [InlineData(Clamp.I2)]
    [InlineData(Clamp.I3)]
    [InlineData(Clamp.IN)]
    public void Sum_of_the_currents_names_a_reversed_clamp_beside_a_neutral_clamp(Clamp clamp)
    {
        var right = TestPanels.RightWithNeutralClamp;
        var wrong = right.WithClamps((clamp, right.Clamps[clamp].On, true));
        var verdict = Judge(wrong);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(wrong, verdict.Best.Hookup);
        Assert.Contains(verdict.Evidence, entry => entry.Kind == EvidenceKind.Kirchhoff && entry.LogOdds > 2);
    }

    // On this panel the neutral's current happens to be one that line B might carry: clamp 2 is left out.
    [Theory]
    [InlineData(Clamp.I1)]
    [InlineData(Clamp.I3)]
    public void Neutral_clamp_exchanged_with_a_line_clamp_is_named(Clamp clamp)
    {
        var right = TestPanels.RightWithNeutralClamp;
        var wrong = right.WithClamps((clamp, Conductor.N, false), (Clamp.IN, Service.HomeOf(clamp), false));
        var verdict = Judge(wrong);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(wrong, verdict.Best.Hookup);
        Assert.Equal(FaultKind.ClampOnNeutral, verdict.Best.Faults.Single().Kind);
    }

    [Fact]
    public void Two_clamps_on_one_conductor_are_named()
    {
        var wrong = TestPanels.Right.WithClamps((Clamp.I3, Conductor.B, false));
        var verdict = HookupCheck.Judge(TestPanels.Read(TestPanels.Wye(), wrong), new CheckOptions());
        Assert.Equal(wrong, verdict.Best.Hookup);
        Assert.Contains(verdict.Best.Faults, fault => fault.Kind == FaultKind.ClampsOnSameConductor);
    }

    [Fact]
    public void Untold_reversed_supply_is_right_and_said_and_told_it_is_right_without_a_word()
    {
        var readings = TestPanels.Read(TestPanels.Wye(Rotation.Acb), TestPanels.Right);
        var untold = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal((Verdict.Correct, Rotation.Acb), (untold.Verdict, untold.Best.Rotation));
        Assert.True(untold.Has(NoteKind.RotationReadsReversed));

        var told = HookupCheck.Judge(readings, new CheckOptions { ToldRotation = Rotation.Acb });
        Assert.Equal((Verdict.Correct, Rotation.Acb), (told.Verdict, told.Best.Rotation));
        Assert.False(told.Has(NoteKind.RotationReadsReversed));
    }

    [Fact]
    public void Told_rotation_that_the_voltages_contradict_is_an_exchange_or_a_sign_of_angles()
    {
        var readings = TestPanels.Read(TestPanels.Wye(Rotation.Acb), TestPanels.Right);
        var verdict = HookupCheck.Judge(readings, new CheckOptions { ToldRotation = Rotation.Abc });
        Assert.NotEqual(Verdict.Correct, verdict.Verdict);
        Assert.Contains(verdict.Named(), answer => answer.Faults.Any(fault => fault.Kind == FaultKind.RotationReversed));
        if (verdict.Best.Hookup.IsRight) Assert.True(verdict.Has(NoteKind.AnglesFitLagPositive));
    }

    [Fact]
    public void Replayed_voltage_still_names_a_reversed_and_an_exchanged_clamp_where_the_rotation_is_told()
    {
        var options = new CheckOptions { ToldRotation = Rotation.Abc };
        foreach (var hookup in new[]
        {
            TestPanels.RightReplayed,
            TestPanels.RightReplayed.WithClamps((Clamp.I2, Conductor.B, true)),
            TestPanels.RightReplayed.WithClamps((Clamp.I2, Conductor.C, false), (Clamp.I3, Conductor.B, false)),
        })
        {
            var readings = TestPanels.Read(TestPanels.Wye(), hookup, replays: true);
            Assert.True(readings.IsReplayed);
            var verdict = HookupCheck.Judge(readings, options);
            Assert.Equal(hookup, verdict.Best.Hookup);
            Assert.Equal(hookup.IsRight ? Verdict.Correct : Verdict.Faulty, verdict.Verdict);
        }
    }

    [Fact]
    public void Log_odds_of_the_ledger_add_up_to_those_of_the_answers()
    {
        // A fault that reads like no other, so that the answer is one arrangement in one convention.
        var wrong = TestPanels.Right.WithClamps((Clamp.I1, Conductor.A, true));
        var verdict = HookupCheck.Judge(TestPanels.Read(TestPanels.Wye(), wrong), new CheckOptions());
        Assert.All(verdict.Evidence, entry => Assert.True(entry.Rival.IsRight));
        Assert.Equal(
            Math.Log(verdict.Best.Probability / verdict.ProbabilityCorrect), verdict.Evidence.Sum(entry => entry.LogOdds), 0.5);
    }

    private static HookupVerdict Judge(Hookup hookup) =>
        HookupCheck.Judge(TestPanels.Read(TestPanels.Wye(), hookup), new CheckOptions());
}
