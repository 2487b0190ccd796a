using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Mending;

public sealed class WithdrawnFindingTests
{
    private static readonly NominalVoltage s_nominal = NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal) ? nominal! : throw new InvalidOperationException();

    private static readonly VirtualWeek s_week = VirtualWeek.Make(new WeekRecipe
    {
        Service = ServiceKind.Wye, Nominal = s_nominal, Site = SiteKind.Workshop, Seed = 7,
        Mishaps = [new Mishap(MishapKind.ClampReversed, 0, 7 * 86400, 1), new Mishap(MishapKind.LeadOff, 2.5 * 86400, 7 * 86400, 2) { Size = 0.03, Detail = 40 }],
    });

    private static readonly GuardReport s_guard = IntervalGuard.Judge(
        s_week.Log, new GuardOptions { Service = ServiceKind.Wye, Nominal = s_nominal, FrequencyHertz = 50 }, TestContext.Current.CancellationToken);

    [Fact]
    public void Without_the_turned_clamp_its_power_keeps_the_sign_that_was_recorded()
    {
        var whole = Mend(s_guard);
        var turned = whole.Corrections.Single(correction => correction.Kind == CorrectionKind.ClampReversed);
        var without = Mend(TakeOut(turned));
        Assert.DoesNotContain(without.Corrections, correction => correction.Kind == CorrectionKind.ClampReversed);
        Assert.Equal(-whole.After.PhaseWattHours[1], without.After.PhaseWattHours[1], 1e-6 * Math.Abs(whole.After.PhaseWattHours[1]));
        Assert.Equal(whole.After.PhaseWattHours[0], without.After.PhaseWattHours[0], 1e-6 * whole.After.PhaseWattHours[0]);
    }

    [Fact]
    public void Without_the_lead_that_fell_off_nothing_is_rebuilt_in_its_place()
    {
        var lead = Mend(s_guard).Corrections.Single(correction => correction.Kind == CorrectionKind.LeadOpen);
        var without = Mend(TakeOut(lead));
        Assert.DoesNotContain(without.Corrections, correction => correction.Kind is CorrectionKind.LeadOpen or CorrectionKind.PowerFromCurrent);
        Assert.Contains(without.Corrections, correction => correction.Kind == CorrectionKind.ClampReversed);
        // The recorder's own sum of phase 3, ghost voltage and all.
        Assert.Equal(Mend(s_guard).Before.PhaseWattHours[2], without.After.PhaseWattHours[2], 0.01 * Math.Abs(without.After.PhaseWattHours[2]));
    }

    [Fact]
    public void A_finding_at_another_time_takes_nothing_out()
    {
        var other = new WithdrawnFinding(CorrectionKind.ClampReversed, [], [Clamp.I2], s_guard.To, s_guard.To.AddDays(1));
        var same = WithdrawnFinding.TakeOut(s_guard, [other]);
        Assert.Equal(s_guard.Timeline, same.Timeline);
        Assert.Equal(s_guard.Spans, same.Spans);
    }

    [Fact]
    public void What_follows_from_another_finding_or_from_missing_rows_can_t_be_withdrawn_by_itself()
    {
        Assert.True(WithdrawnFinding.CanBe(CorrectionKind.ClampReversed));
        Assert.All(
            new[] { CorrectionKind.NoData, CorrectionKind.ClockJump, CorrectionKind.PowerFromCurrent, CorrectionKind.PowerFromShare, CorrectionKind.CurrentFromOthers },
            kind => Assert.False(WithdrawnFinding.CanBe(kind)));
    }

    private static GuardReport TakeOut(Correction correction) =>
        WithdrawnFinding.TakeOut(s_guard, [new WithdrawnFinding(correction.Kind, correction.Leads, correction.Clamps, correction.From, correction.To)]);

    private static MendReport Mend(GuardReport guard) =>
        IntervalMender.Mend(s_week.Log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = s_nominal }, TestContext.Current.CancellationToken);
}
