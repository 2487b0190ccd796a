using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Maps;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Mending;

/// <summary>Loads whose angle goes from 12 degrees ahead to 20 behind, with and without distortion in their vars.</summary>
public sealed class NonactiveVarsTests
{
    private const int Count = 600;
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1]);

    // By IEEE Std 1459: N² = S² − P² = Q1² + D², with a third of the fundamental's current as distortion here.
    [Theory]
    [InlineData(0.33, true)]
    [InlineData(0, false)]
    public void Vars_that_leap_over_zero_hold_distortion(double distortion, bool are) => Assert.Equal(are, Are(distortion, -12));

    [Fact]
    public void Vars_of_one_sign_say_nothing_of_it() => Assert.False(Are(0.33, 2));

    private static bool Are(double distortion, double least)
    {
        var random = new SeededRandom(8);
        double[] volts = new double[Count], amperes = new double[Count], watts = new double[Count], vars = new double[Count];
        for (var row = 0; row < Count; row++)
        {
            double radians = (least + ((20 - least) * random.NextUnit())) * Math.PI / 180, size = 2000 + (500 * random.NextUnit()), across = size * Math.Sin(radians);
            (volts[row], amperes[row], watts[row]) = (230, size * Math.Sqrt(1 + (distortion * distortion)) / 230, size * Math.Cos(radians));
            vars[row] = distortion > 0 ? Math.Sign(across) * Math.Sqrt((across * across) + (distortion * size * distortion * size)) : across;
        }

        LogColumn[] columns = [new("V", LogQuantity.Voltage, LogPlace.Phase1), new("I", LogQuantity.Current, LogPlace.Phase1), new("P", LogQuantity.ActivePower, LogPlace.Phase1), new("Q", LogQuantity.ReactivePower, LogPlace.Phase1)];
        var log = new IntervalLog([.. columns], [.. Enumerable.Range(0, Count).Select(row => new DateTime(2026, 3, 2).AddMinutes(10 * row).Ticks)], [volts, amperes, watts, vars], 600);
        return NonactiveVars.Are(new RawSeries(log, new SlotGrid(log, GuardAnswer.Of(log, s_right)), ServiceKind.Single), (_, _) => true);
    }
}
