using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A clamp whose waves are cut at the end of its range: what it shows, and that the voltage tells it from a load that ends there.</summary>
public sealed class CutWaveTests
{
    private const double End = 20;

    // The rms of a sine cut at √2, by ten thousand points of a quarter of it.
    [Theory]
    [InlineData(0.4)]
    [InlineData(1)]
    [InlineData(1.1)]
    [InlineData(2)]
    [InlineData(6)]
    public void What_is_shown_is_the_rms_of_a_sine_that_is_cut(double current)
    {
        double sum = 0;
        const int Points = 10000;
        for (var point = 0; point < Points; point++)
        {
            var value = Math.Min(Math.Sqrt(2), current * Math.Sqrt(2) * Math.Sin((point + 0.5) * Math.PI / 2 / Points));
            sum += value * value;
        }

        Assert.Equal(Math.Sqrt(sum / Points), CutWave.Shown(current), 1e-6);
        Assert.Equal(current, CutWave.Current(CutWave.Shown(current)), 0.005 * current);
    }

    [Fact]
    public void A_square_wave_is_the_most_that_is_shown()
    {
        Assert.InRange(CutWave.Shown(1e6), 0.999999 * Math.Sqrt(2), Math.Sqrt(2));
        Assert.Equal(8, CutWave.Current(1.41), 0.01);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_voltage_that_falls_on_while_the_current_hardly_rises_shows_where_the_waves_are_cut(bool hasPowers)
    {
        var log = Log(hasPowers, whole => whole);
        Assert.Empty(Find(log));
        var whole = (double[])log.Amperes[1].Clone();
        for (var row = 0; row < SourceLog.Rows; row++) log.Scale(row, 1, End * CutWave.Shown(whole[row] / End) / whole[row]);
        var spans = Find(log);
        // The end to two percent; every row that lies well above it, and none below.
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, Clamp.I2, SpanRelation.VoltageFallsOn, false), (span.Kind, span.Clamps.Single(), span.Finding.Relation, span.IsDoubtful)));
        Assert.All(spans, span => Assert.InRange(span.Finding.Within, 0.98 * End, 1.02 * End));
        var frame = log.ToFrame();
        for (var row = 0; row < SourceLog.Rows; row++)
        {
            var isSaid = spans.Exists(span => span.From <= frame.From(row) && span.To >= frame.To(row));
            if (whole[row] > 1.1 * End || whole[row] < 0.98 * End) Assert.Equal(whole[row] > End, isSaid);
        }
    }

    // The very currents that a cut wave shows, drawn by a load.
    [Fact]
    public void A_load_that_ends_there_and_is_answered_is_at_no_end() => Assert.Empty(Find(Log(true, whole => End * CutWave.Shown(whole / End))));

    [Fact]
    public void Where_the_lead_was_wrong_nothing_is_told()
    {
        var log = Log(true, whole => whole);
        for (var row = 0; row < SourceLog.Rows; row++) log.Scale(row, 1, End * CutWave.Shown(log.Amperes[1][row] / End) / log.Amperes[1][row]);
        var frame = log.ToFrame();
        List<GuardSpan> spans = [new(SpanKind.LeadOpen, [Lead.V2], [], frame.From(0), frame.To(SourceLog.Rows - 1), 0.9, new SpanFinding(SpanRelation.VoltageProportions, 20))];
        CutWaveFinder.Find(frame, spans, TestContext.Current.CancellationToken);
        Assert.Single(spans);
    }

    /// <summary>Line 2 draws anything from 4 A to more than twice the end, the others as ever.</summary>
    private static SourceLog Log(bool hasPowers, Func<double, double> drawn)
    {
        var random = new SeededRandom(9);
        return new SourceLog(hasPowers, (_, line) => line == 1 ? drawn(random.Uniform(4, 2.2 * End)) : random.Uniform(10, 30));
    }

    private static List<GuardSpan> Find(SourceLog log)
    {
        var spans = new List<GuardSpan>();
        CutWaveFinder.Find(log.ToFrame(), spans, TestContext.Current.CancellationToken);
        return spans;
    }
}
