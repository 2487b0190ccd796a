using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A clamp on nothing against a line that draws nothing. Derivation: docs/methods/guard.md, "A line that draws nothing, and a clamp on nothing".</summary>
public sealed class HiddenStepsTests
{
    private const int From = 600;

    [Fact]
    public void Loads_that_a_clamp_does_not_show_still_move_their_lines_voltage()
    {
        var made = new SourceLog(true);
        for (var row = From; row < SourceLog.Rows; row++) made.Scale(row, 1, 0);
        Assert.InRange(Odds(made), 10, 20);
    }

    [Fact]
    public void A_line_that_draws_nothing_moves_nothing()
    {
        var made = new SourceLog(true, (row, line) => line == 1 && row >= From ? 0 : 10 + (((row * 7) + (line * 3)) % 20));
        for (var row = From; row < SourceLog.Rows; row++)
        {
            // Neither in phase nor across.
            made.Volts[1][row] += SourceLog.Reactance * made.Across[1][row];
            for (var other = 0; other < 3; other += 2) made.Volts[other][row] -= 0.5 * SourceLog.Reactance * made.Across[1][row];
            made.Scale(row, 1, 0);
        }

        Assert.Equal(0, Odds(made));
    }

    [Fact]
    public void A_neighbour_moves_one_line_as_often_as_another()
    {
        var made = new SourceLog(true, (row, line) => line == 1 && row >= From ? 0 : 10 + (((row * 7) + (line * 3)) % 20));
        for (var row = From; row < SourceLog.Rows; row++)
        {
            made.Volts[1][row] += SourceLog.Reactance * made.Across[1][row];
            for (var other = 0; other < 3; other += 2) made.Volts[other][row] -= 0.5 * SourceLog.Reactance * made.Across[1][row];
            made.Scale(row, 1, 0);
            if (row % 9 == 0) made.Volts[row / 9 % 3][row] -= 2;
        }

        Assert.Equal(0, Odds(made));
    }

    private static double Odds(SourceLog made)
    {
        var frame = made.ToFrame();
        var voltages = PartLog.Sound(frame);
        VoltageAnswer[] answers = [.. Enumerable.Range(0, 3).Select(line => VoltageAnswer.Learn(frame, voltages, line))];
        return HiddenSteps.Odds(answers, frame.Amperes[1]!, 0.3, 1, From, SourceLog.Rows - 1);
    }
}
