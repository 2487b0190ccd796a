using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>The neutral lead in the air from row 300 to row 419: every voltage then answers to all currents with a fourth of what it did.</summary>
public sealed class NeutralLeadChainTests
{
    private const int From = 300, End = 420;

    [Fact]
    public void While_every_phase_answers_less_and_no_current_leaps_the_neutral_lead_is_in_the_air()
    {
        var (history, states) = Find(Made());
        var rows = Enumerable.Range(0, history.Length).Where(row => history[row] != 0).ToArray();
        Assert.All(rows, row => Assert.Equal((VoltageStateKind.Leads, 3, -1), (states[history[row]].Kind, states[history[row]].Line, states[history[row]].Leads[3])));
        // The first row tells by what the standing currents let go of: to a row or two.
        Assert.InRange(rows[0], From - 2, From + 2);
        Assert.InRange(rows[^1], End - 3, End + 1);
        Assert.Equal(rows[^1] - rows[0] + 1, rows.Length);
    }

    [Fact]
    public void A_sound_recording_keeps_its_neutral_lead() => Assert.All(Find(new SourceLog(true)).History, state => Assert.Equal(0, state));

    [Fact]
    public void A_clamp_at_another_ratio_tells_nothing_of_the_neutral_while_it_is()
    {
        // All of the stretch in which the answers fell is one in which the first clamp is known to read otherwise.
        var made = Made();
        var scales = new byte[SourceLog.Rows];
        Array.Fill(scales, (byte)2, From - 5, End - From + 10);
        Assert.All(Find(made, scales).History, state => Assert.Equal(0, state));
    }

    [Fact]
    public void One_phase_that_answers_as_ever_speaks_against_it()
    {
        var made = new SourceLog(true);
        Weaken(made, 1);
        Assert.All(Find(made).History, state => Assert.Equal(0, state));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void What_comes_and_goes_three_times_is_a_load_that_the_answers_do_not_fit(int times)
    {
        var made = new SourceLog(true);
        int[] starts = [100, From, 500];
        foreach (var from in starts.Take(times)) Weaken(made, 3, from, from + 120);
        var (history, _) = Find(made);
        // In the middle of each stretch.
        Assert.Equal(starts.Select((_, index) => times == 2 && index < 2), starts.Select(from => history[from + 60] != 0));
    }

    // The first half of the rows hold steps, the second none, but two percent of noise that a clamp reads and no voltage answers to.
    [Fact]
    public void Where_no_current_steps_its_noise_says_nothing_of_the_neutral_lead_in_rows_of_seconds()
    {
        var random = new SeededRandom(3);
        var made = new SourceLog(false, (row, line) => row < 400 ? 20 + (10 * ((row + (13 * line)) / 20 % 2)) : 25, _ => 1);
        for (var row = 0; row < SourceLog.Rows; row++)
        {
            for (var line = 0; line < 3; line++) made.Scale(row, line, 1 + (0.02 * random.Gaussian()));
        }

        Assert.All(Find(made, seconds: 1).History, state => Assert.Equal(0, state));
    }

    private static SourceLog Made()
    {
        var made = new SourceLog(true);
        Weaken(made, 3);
        return made;
    }

    // What all lines together have in common is the supply's, and stays.
    private static void Weaken(SourceLog made, int lines, int from = From, int end = End)
    {
        for (var row = from; row < end; row++)
        {
            var mean = (made.Volts[0][row] + made.Volts[1][row] + made.Volts[2][row]) / 3;
            for (var line = 0; line < lines; line++) made.Volts[line][row] = mean + (0.25 * (made.Volts[line][row] - mean));
        }
    }

    private static (byte[] History, VoltageState[] States) Find(SourceLog made, byte[]? scales = null, double seconds = 60)
    {
        var frame = made.ToFrame(seconds: seconds);
        var voltages = PartLog.Sound(frame);
        VoltageAnswer[] answers = [.. Enumerable.Range(0, 4).Select(index => VoltageAnswer.Learn(frame, voltages, index))];
        var currents = Enumerable.Range(0, 4).Select(index => index > 2 ? null : new CurrentHistory([1, 0, 10], index == 0 && scales is not null ? scales : new byte[frame.Count], answers[index]) { Unproved = [] }).ToArray();
        var found = NeutralLeadChain.Override(frame, voltages, answers, new AngleHistory?[3], currents, TestContext.Current.CancellationToken);
        return (found.Rows, found.States);
    }
}
