using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A jaw that opens slowly, from row 130 on, and is closed before row 306: half way through one of the windows of two hours that the fall is fitted to.</summary>
public sealed class DriftFinderTests
{
    private const int From = 130, Closed = 306;

    [Fact]
    public void A_clamp_that_shows_less_and_less_while_the_voltage_answers_as_ever_is_open_up_to_the_row_in_which_it_was_closed()
    {
        var span = Assert.Single(Find(Falling(0.35)));
        Assert.Equal((SpanKind.ClampOpen, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal(MadeLog.At(Closed), span.To);
        // Its onset is told to a window or two of two hours, and the gain at the end to a tenth or so.
        Assert.InRange((span.From - MadeLog.At(From)).TotalHours, -6, 6);
        Assert.Equal([span.From, span.To], span.Gain.Select(point => point.At));
        Assert.Equal(1, span.Gain[0].Factor);
        Assert.InRange(span.Gain[1].Factor, 0.25, 0.45);
    }

    [Fact]
    public void A_load_that_falls_as_slowly_is_answered_and_is_none()
    {
        var made = new MadeLog();
        for (var row = From; row < Closed; row++)
        {
            var gone = made.Amperes[1][row] * (1 - Gain(row, 0.35));
            for (var line = 0; line < 3; line++) made.Volts[line][row] += (line == 1 ? 1 : -0.5) * 0.06 * gone;
        }

        Fall(made, 0.35);
        Assert.Empty(Find(made));
    }

    [Fact]
    public void A_ratio_that_is_off_by_a_step_is_no_drift() => Assert.Empty(Find(new MadeLog().WithAmperes(From, Closed, 1, 0.5)));

    [Fact]
    public void A_sound_recording_has_none() => Assert.Empty(Find(new MadeLog()));

    private static double Gain(int row, double rest) => 1 - ((1 - rest) * (row + 0.5 - From) / (Closed - From));

    private static MadeLog Falling(double rest)
    {
        var made = new MadeLog();
        Fall(made, rest);
        return made;
    }

    private static void Fall(MadeLog made, double rest)
    {
        for (var row = From; row < Closed; row++) made.WithAmperes(row, row + 1, 1, Gain(row, rest));
    }

    private static List<GuardSpan> Find(MadeLog made)
    {
        var frame = GuardFrame.Of(made.ToLog(), new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) });
        var chained = Chained.Of(frame, TestContext.Current.CancellationToken);
        var spans = new List<GuardSpan>();
        DriftFinder.Find(chained, chained.Pieces(), spans, TestContext.Current.CancellationToken);
        return spans;
    }
}
