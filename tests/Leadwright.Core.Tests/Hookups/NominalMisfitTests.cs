using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>What voltages read, held against what was stated: a wrong nameplate is told, a lead in the wrong place is not taken for one.</summary>
public sealed class NominalMisfitTests
{
    [Theory]
    [InlineData(ServiceKind.Wye, "999", "V1=230 V2=229 V3=231", 577, "230/400", NominalMisfitCause.Open)]
    [InlineData(ServiceKind.Wye, "480", "V1=230 V2=229 V3=231", 277, "230/400", NominalMisfitCause.Open)]
    [InlineData(ServiceKind.Wye, "230/400", "V12=480 V23=481 V31=479", 400, "277/480", NominalMisfitCause.Open)]
    [InlineData(ServiceKind.Delta, "400", "V12=480 V23=481 V31=479", 400, "277.1/480", NominalMisfitCause.Open)]
    [InlineData(ServiceKind.Wye, "230", "V1=230 V2=229 V3=231", 133, "230/400", NominalMisfitCause.LineRatioAbove)]
    [InlineData(ServiceKind.Wye, "400/690", "V1=230 V2=229 V3=231", 400, "230/400", NominalMisfitCause.LineRatioBelow)]
    [InlineData(ServiceKind.Single, "400", "V1=230", 400, "230/230", NominalMisfitCause.LineRatioBelow)]
    [InlineData(ServiceKind.Single, "240", "V1=120", 240, "120/120", NominalMisfitCause.LineRatioBelow)]
    [InlineData(ServiceKind.Wye, "6350/11000", "V1=63.5 V2=63.6 V3=63.4", 6350, null, NominalMisfitCause.Transformer)]
    // One lead in the air does not hide it.
    [InlineData(ServiceKind.Wye, "277/480", "V1=120 V2=119 V3=4", 277, "120/208", NominalMisfitCause.Open)]
    public void A_wrong_nameplate_is_told_with_the_right_one(ServiceKind service, string stated, string read, double expected, string? nearest, NominalMisfitCause cause)
    {
        var misfit = NominalMisfit.Find(Usual(read), service, Nominal(stated, service));
        Assert.NotNull(misfit);
        Assert.Equal(expected, misfit.ExpectedVolts, 1.0);
        Assert.Equal((nearest, cause), (misfit.Nearest?.ToString(), misfit.Cause));
    }

    [Theory]
    [InlineData(ServiceKind.Wye, "230/400", "V1=212 V2=214 V3=213")]
    [InlineData(ServiceKind.Wye, "230/400", "V1=230 V2=4 V3=5")]
    // VN on line C.
    [InlineData(ServiceKind.Wye, "230/400", "V1=400 V2=400 V3=0")]
    [InlineData(ServiceKind.Split, "120/240", "V1=240 V2=0")]
    // A lead of three wires in the air.
    [InlineData(ServiceKind.Delta, "480", "V12=240 V23=240 V31=480")]
    [InlineData(ServiceKind.HighLeg, "120/240", "V1=120 V2=208 V3=120")]
    [InlineData(ServiceKind.Single, "230", "V1=7")]
    [InlineData(ServiceKind.Single, "230", "V1=99.5")]
    [InlineData(ServiceKind.Wye, "230/400", "V1=2 V2=2 V3=2")]
    public void Voltages_that_fit_or_are_lost_tell_nothing(ServiceKind service, string stated, string read) => Assert.Null(NominalMisfit.Find(Usual(read), service, Nominal(stated, service)));

    [Fact]
    public void Outages_and_rows_without_values_do_not_count()
    {
        double[] volts = [.. Enumerable.Range(0, 100).Select(row => row < 40 ? row % 2 == 0 ? 0 : double.NaN : 230)];
        var log = new IntervalLog([new("V1", LogQuantity.Voltage, LogPlace.Phase1)], [.. Enumerable.Range(0, 100).Select(row => row * 600 * TimeSpan.TicksPerSecond)], [volts], 600);
        Assert.Null(NominalMisfit.Find(log, ServiceKind.Single, new(230, 230)));
        Assert.Equal(230, NominalMisfit.Find(log, ServiceKind.Single, new(120, 120))!.ReadVolts);
    }

    [Fact]
    public void No_mishap_of_a_virtual_week_is_taken_for_a_wrong_nameplate()
    {
        foreach (var service in (ServiceKind[])[ServiceKind.Wye, ServiceKind.Delta, ServiceKind.Split, ServiceKind.HighLeg, ServiceKind.Single])
        {
            var weeks = new WeekPopulation { Seed = 71, IntervalSeconds = 900, Service = service };
            for (var index = 0; index < 24; index++)
            {
                var week = weeks.Week(index);
                Assert.Null(NominalMisfit.Find(week.Log, service, week.Recipe.Nominal));
            }
        }
    }

    private static ImmutableDictionary<Channel, double> Usual(string read) =>
        read.Split(' ').Select(part => part.Split('=')).ToImmutableDictionary(part => Enum.Parse<Channel>(part[0]), part => double.Parse(part[1], System.Globalization.CultureInfo.InvariantCulture));

    private static NominalVoltage? Nominal(string text, ServiceKind service) => NominalVoltage.TryParse(text, service, out var nominal) ? nominal : null;
}
