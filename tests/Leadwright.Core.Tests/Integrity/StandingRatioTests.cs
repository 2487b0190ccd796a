using System.Numerics;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A week of ten minutes behind conductors of one kind: a clamp is held against how the voltages answer to the others'.</summary>
public sealed class StandingRatioTests
{
    private const int Rows = 1008;
    private const double Seconds = 600;

    // V falls by z·I and by zn·ΣI: a clamp that shows twice what flows has answers of half, the line's own and those the neutral's turns onto the others (derivation).
    [Theory]
    [InlineData(0, 2)]
    [InlineData(2, 2)]
    [InlineData(1, 0.5)]
    public void A_ratio_from_first_to_last_is_told_by_how_the_voltages_answer(int clamp, double gain)
    {
        var made = Made(shows: (_, at) => at == clamp ? gain : 1);
        var report = made.Judge();
        var span = Assert.Single(report.Spans.Where(span => !span.IsDoubtful));
        Assert.Equal((SpanKind.RatioWrong, (Clamp)clamp, made.At(0), made.At(Rows)), (span.Kind, Assert.Single(span.Clamps), span.From, span.To));
        Assert.All(report.Timeline.Pieces, piece => Assert.Equal(gain, piece.Hookup.Clamps[(Clamp)clamp].Scale));
    }

    [Fact]
    public void Clamps_that_show_what_flows_are_left_alone() => Assert.Empty(Made().Sure());

    // The line's own answer is then z'+1.5·zn, 3.5 of the others' 2.5, as of a clamp that shows seven tenths; what the neutral turns onto the others is as theirs: no gain fits both (derivation).
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void A_line_with_a_longer_conductor_is_no_clamp_that_shows_too_little(int line) => Assert.Empty(Made(line: line, times: 2).Sure());

    // Half the conductor: 2 of 2.5.
    [Fact]
    public void A_line_with_a_shorter_conductor_is_no_clamp_that_shows_too_much() => Assert.Empty(Made(line: 1, times: 0.5).Sure());

    // What leaps tells that there were two ratios; the voltages tell which is the wrong one, even if it held for longer.
    [Theory]
    [InlineData(10)]
    [InlineData(0.1)]
    public void Of_two_ratios_the_one_for_longer_is_wrong_where_the_voltages_say_so(double ratio)
    {
        const int From = 150, To = 850;
        var made = Made(shows: (row, at) => at == 1 && row is >= From and < To ? ratio : 1);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.RatioWrong, Clamp.I2, made.At(From), made.At(To)), (span.Kind, Assert.Single(span.Clamps), span.From, span.To));
    }

    private static ServiceLog Made(Func<int, int, double>? shows = null, int line = 0, double times = 1)
    {
        Complex each = new(0.06, 0.02);
        return new ServiceLog(Rows, Seconds)
        {
            Load = ServiceLog.Household(Rows, Seconds),
            Lines = [.. Enumerable.Range(0, 3).Select(at => at == line ? times * each : each)],
            Neutral = each,
            Shows = shows ?? ((_, _) => 1),
        };
    }
}
