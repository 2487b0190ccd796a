using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

public class NeutralToGroundTests
{
    [Fact]
    public void Next_to_nothing_goes_with_a_right_hook_up()
    {
        var verdict = HookupCheck.Judge(Read(TestPanels.Right, 1.4), new CheckOptions());
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.False(verdict.Has(NoteKind.NeutralFarFromGround));
    }

    [Fact]
    public void A_neutral_far_from_ground_forbids_to_call_it_right()
    {
        var verdict = HookupCheck.Judge(Read(TestPanels.Right, 41), new CheckOptions());
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.True(verdict.Has(NoteKind.NeutralFarFromGround));
    }

    [Fact]
    public void Line_voltage_to_ground_puts_the_neutral_lead_on_a_line_where_sizes_alone_leave_it_open()
    {
        // VN exchanged with V1, sizes alone: 1.0, 1.732, 1.732. To ground VN then reads a line's voltage.
        var hookup = TestPanels.Right.WithLeads((Lead.V1, Conductor.N), (Lead.VN, Conductor.A));
        var verdict = HookupCheck.Judge(Read(hookup, 229), new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(Conductor.A, verdict.Best.Hookup.Leads[Lead.VN]);
        Assert.False(verdict.Has(NoteKind.NeutralFarFromGround));
    }

    private static PanelReadings Read(Hookup hookup, double volts) =>
        TestPanels.Read(TestPanels.Wye(), hookup) with { NeutralToGround = new ChannelReading(volts, null) };
}
