using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>The same panel on instruments with other signs and references.</summary>
public class ConventionTests
{
    private static readonly CheckOptions s_told = new() { ToldRotation = Rotation.Abc };

    private static readonly Dictionary<string, InstrumentDisplay> s_displays = new()
    {
        ["lagging positive"] = InstrumentDisplay.NoPowers with { AngleSign = AngleSign.LagPositive },
        ["from own voltage"] = InstrumentDisplay.NoPowers with { CurrentAngleReference = CurrentAngleReference.OwnVoltage },
        ["lagging positive from own voltage"] = InstrumentDisplay.NoPowers with
        {
            AngleSign = AngleSign.LagPositive,
            CurrentAngleReference = CurrentAngleReference.OwnVoltage,
        },
    };

    private static readonly Hookup s_exchanged = TestPanels.Right.WithClamps((Clamp.I2, Conductor.C, false), (Clamp.I3, Conductor.B, true));

    public static TheoryData<string, bool> Displays =>
        [.. s_displays.Keys.SelectMany(name => new[] { (name, true), (name, false) })];

    [Theory]
    [MemberData(nameof(Displays))]
    public void Stated_convention_gives_the_verdict_of_the_usual_one(string display, bool isRight)
    {
        var hookup = isRight ? TestPanels.Right : s_exchanged;
        var usual = Judge(hookup, InstrumentDisplay.NoPowers);
        var other = Judge(hookup, s_displays[display]);
        Assert.Equal(usual.Verdict, other.Verdict);
        Assert.Equal(usual.Best.Hookup, other.Best.Hookup);
        Assert.Equal(hookup, other.Best.Hookup);
        Assert.Equal(usual.Best.Probability, other.Best.Probability, 0.02);
        Assert.Empty(other.Notes);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Power_counted_negative_for_load_gives_the_same_verdict_when_it_is_stated(bool isRight)
    {
        var hookup = isRight ? TestPanels.Right : s_exchanged;
        var usual = Judge(hookup, InstrumentDisplay.NoAngles);
        var other = Judge(hookup, InstrumentDisplay.NoAngles with { PowerSign = PowerSign.LoadNegative });
        Assert.Equal(usual.Verdict, other.Verdict);
        Assert.Equal(hookup, other.Best.Hookup);
        Assert.Equal(usual.Best.Probability, other.Best.Probability, 0.02);
    }

    [Fact]
    public void Angles_stated_with_the_wrong_sign_are_noticed_where_the_rotation_was_told()
    {
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, s_displays["lagging positive"])
            with
        { AngleSign = AngleSign.LeadPositive };
        var verdict = HookupCheck.Judge(readings, s_told);
        Assert.True(verdict.Has(NoteKind.AnglesFitLagPositive));
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);

        var other = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, InstrumentDisplay.NoPowers) with { AngleSign = AngleSign.LagPositive };
        Assert.True(HookupCheck.Judge(other, s_told).Has(NoteKind.AnglesFitLeadPositive));
    }

    [Fact]
    public void Unstated_sign_of_angles_is_found()
    {
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, s_displays["lagging positive"])
            with
        { AngleSign = AngleSign.NotStated };
        var verdict = HookupCheck.Judge(readings, s_told);
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.True(verdict.Has(NoteKind.AnglesFitLagPositive));
    }

    [Theory]
    [InlineData(CurrentAngleReference.Common)]
    [InlineData(CurrentAngleReference.NotStated)]
    public void Current_angles_from_their_own_voltage_are_noticed(CurrentAngleReference stated)
    {
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, s_displays["from own voltage"])
            with
        { CurrentAngleReference = stated };
        var verdict = HookupCheck.Judge(readings, s_told);
        Assert.True(verdict.Has(NoteKind.CurrentAnglesFitOwnVoltage));
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
    }

    [Fact]
    public void Power_that_contradicts_the_angles_in_every_phase_is_a_sign_of_power_not_a_fault()
    {
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, InstrumentDisplay.Everything with { PowerSign = PowerSign.LoadNegative })
            with
        { PowerSign = PowerSign.LoadPositive };
        var verdict = HookupCheck.Judge(readings, s_told);
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.True(verdict.Has(NoteKind.PowerFitsLoadNegative));
        Assert.False(verdict.Has(NoteKind.PowerContradictsAngles));
    }

    [Fact]
    public void Power_that_contradicts_the_angles_of_one_phase_is_said_of_that_phase()
    {
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right);
        readings = readings with { Phases = readings.Phases.SetItem(2, readings.Phases[2] with { Watts = -1.7 * readings.Phases[2].Watts }) };
        var verdict = HookupCheck.Judge(readings, s_told);
        Assert.Equal([Channel.I2], verdict.Notes.Single(note => note.Kind == NoteKind.PowerContradictsAngles).Channels);
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
    }

    [Fact]
    public void Watts_above_volts_times_amperes_are_called_impossible_and_left_out()
    {
        // Common practice, no source: active power can't exceed apparent power.
        var readings = TestPanels.Read(TestPanels.Wye(), TestPanels.Right, InstrumentDisplay.NoAngles);
        var apparent = readings.Channels[Channel.V1].Rms!.Value * readings.Channels[Channel.I1].Rms!.Value;
        readings = readings with { Phases = readings.Phases.SetItem(1, new PhasePower(-9 * apparent, null, null, null)) };
        var verdict = HookupCheck.Judge(readings, s_told);
        var note = verdict.Notes.Single(note => note.Kind == NoteKind.PowerImpossible);
        Assert.Equal([Channel.I1], note.Channels);
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.True(verdict.Best.Hookup.IsRight);
    }

    private static HookupVerdict Judge(Hookup hookup, InstrumentDisplay display) =>
        HookupCheck.Judge(TestPanels.Read(TestPanels.Wye(), hookup, display), s_told);
}
