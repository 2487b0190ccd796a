using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Whatever number stands in one place of the readings, the answer is a verdict with probabilities, and the other channels still count.</summary>
public sealed class UnusualNumbersTests
{
    private static readonly double[] s_numbers =
        [double.NaN, double.PositiveInfinity, double.NegativeInfinity, 0, -0.0, double.Epsilon, -double.Epsilon, 1e-300, double.MaxValue, -1];

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void Any_number_in_any_place_leads_to_a_verdict(ServiceKind service)
    {
        var drawn = new PanelPopulation { Service = service, Seed = 3 }.Case(2);
        foreach (var channel in drawn.Readings.Channels.Keys)
        {
            foreach (var number in s_numbers)
            {
                var reading = drawn.Readings.Channels[channel];
                Require(drawn.Options, drawn.Readings with { Channels = drawn.Readings.Channels.SetItem(channel, reading with { Rms = number }) }, $"{channel} rms {number}");
                Require(drawn.Options, drawn.Readings with { Channels = drawn.Readings.Channels.SetItem(channel, reading with { AngleDegrees = number }) }, $"{channel} angle {number}");
            }
        }

        foreach (var (phase, power) in drawn.Readings.Phases)
        {
            foreach (var number in s_numbers)
            {
                Require(drawn.Options, drawn.Readings with { Phases = drawn.Readings.Phases.SetItem(phase, power with { Watts = number }) }, $"watts {phase} {number}");
                Require(drawn.Options, drawn.Readings with { Phases = drawn.Readings.Phases.SetItem(phase, power with { Vars = number }) }, $"vars {phase} {number}");
                Require(drawn.Options, drawn.Readings with { Phases = drawn.Readings.Phases.SetItem(phase, power with { PowerFactor = number }) }, $"power factor {phase} {number}");
            }
        }
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Split)]
    public void Nothing_but_unusual_numbers_is_undecided(ServiceKind service)
    {
        var drawn = new PanelPopulation { Service = service, Seed = 3 }.Case(2);
        foreach (var number in (double[])[double.NaN, 0, -0.0, double.Epsilon])
        {
            var readings = drawn.Readings with
            {
                Channels = drawn.Readings.Channels.ToImmutableSortedDictionary(
                    channel => channel.Key, channel => channel.Value with { Rms = number, AngleDegrees = number }),
                Phases = ImmutableSortedDictionary<int, PhasePower>.Empty,
                LineToLineVolts = ImmutableSortedDictionary<Channel, double>.Empty,
            };
            Assert.NotEqual(Verdict.Correct, Require(drawn.Options, readings, $"all {number}")?.Verdict);
        }
    }

    private static HookupVerdict? Require(CheckOptions options, PanelReadings readings, string what)
    {
        HookupVerdict verdict;
        try
        {
            verdict = HookupCheck.Judge(readings, options);
        }
        catch (ArgumentException refusal)
        {
            // A clear refusal will do; a crash will not.
            Assert.False(string.IsNullOrWhiteSpace(refusal.Message), what);
            return null;
        }

        Assert.InRange(verdict.Best.Probability, 0, 1);
        Assert.All(verdict.Alternatives, rival => Assert.InRange(rival.Probability, 0, 1));
        Assert.True(verdict.Best.Probability + verdict.Alternatives.Sum(rival => rival.Probability) < 1.000001, what);
        return verdict;
    }
}
