using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Mishaps on sites and recorders made another way than the weeks the guard was tuned on.</summary>
public sealed class OtherSiteTests
{
    [Theory]
    [InlineData(OtherLoad.Factory)]
    [InlineData(OtherLoad.EmptyHouse)]
    [InlineData(OtherLoad.Welding)]
    [InlineData(OtherLoad.MotorPlant)]
    [InlineData(OtherLoad.SolarHouse)]
    public void Nothing_is_found_where_nothing_happened(OtherLoad load)
    {
        foreach (var columns in new[] { OtherColumns.All, OtherColumns.NoVars, OtherColumns.VoltsAmperes, OtherColumns.Totals })
            Assert.DoesNotContain(Guard(load, columns, 600, 7).Spans, span => !span.IsDoubtful);
        Assert.DoesNotContain(Guard(load, OtherColumns.All, 60, 3).Spans, span => !span.IsDoubtful);
        Assert.DoesNotContain(Guard(load, OtherColumns.All, 900, 7).Spans, span => !span.IsDoubtful);
    }

    private static GuardReport Guard(OtherLoad load, OtherColumns columns, int seconds, double days, Func<double, OtherSite.Hung>? hung = null) =>
        Judge(load, new OtherSite(load, 5, days, seconds >= 300 ? 60 : 20).Record(columns, seconds, hung));

    private static GuardReport Judge(OtherLoad load, IntervalLog log)
    {
        Assert.True(NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal));
        return IntervalGuard.Judge(
            log, new GuardOptions { Service = ServiceKind.Wye, Nominal = nominal, Check = new CheckOptions { MayExport = load == OtherLoad.SolarHouse } }, TestContext.Current.CancellationToken);
    }
}
