using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A week of ten minutes in which a jaw is knocked open at once, or closed at once: it shows seven tenths on one side, by which the voltages answer to it the more.</summary>
public sealed class BrokenGainTests
{
    private const int Rows = 1008;
    private const double Seconds = 600;

    [Theory]
    [InlineData(400, Rows)]
    [InlineData(0, 500)]
    [InlineData(350, 700)]
    public void A_jaw_that_was_open_for_a_part_is_told_for_that_part(int from, int to)
    {
        var made = Made(from, to, 0.65);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.ClampOpen, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        // Loads hide a leap of a third for some hours.
        Assert.InRange((span.From - made.At(from)).TotalHours, -24, 24);
        Assert.InRange((span.To - made.At(to)).TotalHours, -24, 24);
    }

    [Fact]
    public void Loads_that_fall_by_as_much_are_loads()
    {
        var load = ServiceLog.Household(Rows, Seconds);
        var made = new ServiceLog(Rows, Seconds) { Load = (row, line) => line == 1 && row >= 400 ? (0.65 * load(row, line).InPhase, 0.65 * load(row, line).Across) : load(row, line) };
        Assert.Empty(made.Sure());
    }

    private static ServiceLog Made(int from, int to, double gain) => new(Rows, Seconds) { Load = ServiceLog.Household(Rows, Seconds), Shows = (row, clamp) => clamp == 1 && row >= from && row < to ? gain : 1 };
}
