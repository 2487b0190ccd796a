using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Days of minutes on a street whose neighbours move the voltages more than the recorded loads do, and loads of each minute that hide what all clamps show ten times between two hours.</summary>
public sealed class BrokenRatioTests
{
    private const int Rows = 4320, From = 1640, To = 2390;
    private const double Seconds = 60;

    [Fact]
    public void A_ratio_of_ten_on_all_clamps_is_told_with_its_edges_though_neighbours_move_the_voltages()
    {
        var made = Made(row => row is >= From and < To ? 10 : 1);
        var spans = made.Sure();
        Assert.Equal([Clamp.I1, Clamp.I2, Clamp.I3], spans.Select(span => Assert.Single(span.Clamps)).Order());
        Assert.All(spans, span => Assert.Equal((SpanKind.RatioWrong, made.At(From), made.At(To)), (span.Kind, span.From, span.To)));
    }

    [Fact]
    public void Of_neighbours_alone_nothing_is_said() => Assert.Empty(Made(_ => 1).Sure());

    // Loads that are ten times as large are answered ten times as much.
    [Fact]
    public void Loads_that_grow_tenfold_are_loads() => Assert.Empty(Made(_ => 1, row => row is >= From and < To ? 10 : 1).Sure());

    private static ServiceLog Made(Func<int, double> shows, Func<int, double>? times = null)
    {
        SeededRandom random = new(23), ofLoads = new(4);
        var load = new (double InPhase, double Across)[Rows, 3];
        var neighbours = new double[Rows, 3];
        for (var line = 0; line < 3; line++)
        {
            double level = 0;
            for (var row = 0; row < Rows; row++)
            {
                // Four times as much in one minute as in the next: no leap of a clamp's own by ten stands out for itself.
                load[row, line] = (ofLoads.Uniform(4, 18), ofLoads.Uniform(0, 5));
                // Some volts at a time, each line's for itself; the loads' own ten amperes make 1.5 V.
                if (random.Chance(0.3)) level = 0.016 * random.Gaussian();
                neighbours[row, line] = level;
            }
        }

        return new ServiceLog(Rows, Seconds)
        {
            Load = (row, line) => times is null ? load[row, line] : (times(row) * load[row, line].InPhase, times(row) * load[row, line].Across),
            Lift = (row, line) => neighbours[row, line],
            Shows = (row, _) => shows(row),
        };
    }
}
