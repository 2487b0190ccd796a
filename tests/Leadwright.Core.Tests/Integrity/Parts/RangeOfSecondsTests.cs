using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Largest readings that pile up in logs of seconds: a load of forty amperes that comes and goes, and a range that ends there.</summary>
public sealed class RangeOfSecondsTests
{
    private const double End = 40;

    [Fact]
    public void A_load_of_one_size_that_comes_and_goes_is_no_end_of_a_range() => Assert.Empty(Find(hidden: 0));

    // Of which the half is shown at the most: the voltage falls by what flows.
    [Theory]
    [InlineData(6)]
    [InlineData(20)]
    public void Where_the_voltage_falls_by_more_than_is_shown_the_range_ends(double hidden)
    {
        var spans = Find(hidden);
        Assert.NotEmpty(spans);
        Assert.All(spans, span => Assert.Equal(Clamp.I1, Assert.Single(span.Clamps)));
    }

    private static List<GuardSpan> Find(double hidden)
    {
        var random = new SeededRandom(9);
        // Twenty seconds in forty at the most or beyond it, between them on one level of five.
        double Load(int row) => row % 40 < 20 ? End + (hidden * (row / 40 % 4) / 4) : 20 + (4.5 * (row / 40 % 5));
        var source = new SourceLog(hasPowers: true, (row, line) => line == 0 ? Load(row) : 15 + (5 * ((row / 13 * (line + 1)) % 3)));
        for (var row = 0; row < SourceLog.Rows; row++)
        {
            if (source.Amperes[0][row] is > End and var amperes) source.Scale(row, 0, End / amperes);
            source.Scale(row, 0, 1 + (0.0005 * random.Gaussian()));
        }

        var frame = source.ToFrame(seconds: 1);
        return [.. IntervalGuard.Judge(frame.Log, frame.Options, TestContext.Current.CancellationToken).Spans.Where(span => span.Kind == SpanKind.OverRange && !span.IsDoubtful)];
    }
}
