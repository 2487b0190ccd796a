using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What a phase's voltage against the others does when a current changes, from a source that is known (see <see cref="SourceLog"/>).</summary>
public sealed class VoltageAnswerTests
{
    private const int Count = SourceLog.Rows;
    private const double Ohms = SourceLog.Ohms, Reactance = SourceLog.Reactance, Unit = SourceLog.Unit;

    [Fact]
    public void An_ampere_moves_its_phase_against_the_others_by_one_and_a_half_times_the_sources_resistance()
    {
        var answer = Learn(Made(hasPowers: false));
        Assert.True(answer.IsKnown && answer.IsSharp && answer.IsTelling);
        Assert.Equal(-1.5 * Ohms / Unit, answer.PerAmpere, 0.01 * Ohms / Unit);
    }

    [Fact]
    public void Of_powers_what_is_in_phase_and_what_is_across_is_learned_for_every_clamp()
    {
        var answer = Learn(Made(hasPowers: true));
        Assert.Equal(3, answer.Weights.Length);
        for (var clamp = 0; clamp < 3; clamp++)
        {
            var share = clamp == 0 ? -1.5 : 0.75;
            Assert.Equal(share * Ohms / Unit, answer.Weights[clamp].InPhase, 0.02 * Ohms / Unit);
            Assert.Equal(share * Reactance / Unit, answer.Weights[clamp].Across, 0.02 * Ohms / Unit);
        }
    }

    [Theory]
    [InlineData(1, 2, true)]
    [InlineData(1, 70, false)]
    [InlineData(60, 2, false)]
    public void In_rows_of_seconds_a_dip_of_less_than_a_minute_is_no_change_that_a_current_made(double seconds, int rows, bool isDip)
    {
        var made = Made(hasPowers: true);
        for (var row = 300; row < 300 + rows; row++) made.Volts[1][row] *= 0.85;
        var frame = made.ToFrame(seconds: seconds);
        var answer = VoltageAnswer.Learn(frame, PartLog.Sound(frame), 0);
        // Within it.
        Assert.Equal(isDip, double.IsNaN(answer.Change(301 + (rows > 2 ? 20 : 0))));
        // As it comes and goes, however long it lasts.
        Assert.All((int[])[300, 300 + rows], row => Assert.Equal(seconds < 60, double.IsNaN(answer.Change(row))));
        Assert.False(double.IsNaN(answer.Change(299)) || double.IsNaN(answer.Change(302 + rows)));
    }

    // What a steady wave reads moves from row to row by the window, its amperes with it: no current did that. A load of ten amperes steps once in forty rows.
    [Fact]
    public void In_rows_of_seconds_steps_alone_teach_and_not_what_volts_and_amperes_do_together()
    {
        var random = new SeededRandom(7);
        var made = new SourceLog(hasPowers: false, (row, line) => 20 + (10 * ((row + (13 * line)) / 40 % 2)));
        for (var row = 0; row < Count; row++)
        {
            var noise = 0.001 * random.Gaussian();
            made.Volts[0][row] *= 1 + noise;
            made.Scale(row, 0, 1 + (20 * noise));
        }

        var frame = made.ToFrame(seconds: 1);
        Assert.Equal(-1.5 * Ohms / Unit, VoltageAnswer.Learn(frame, PartLog.Sound(frame), 0).PerAmpere, 0.3 * Ohms / Unit);
    }

    [Fact]
    public void What_the_own_current_does_and_what_the_others_do_are_kept_apart()
    {
        var made = Made(hasPowers: false);
        var answer = Learn(made);
        Assert.Equal(-1.5 * Ohms / Unit * made.Amperes[0][300], answer.Own(300), 2e-4);
        var others = made.Amperes[1][300] + made.Amperes[2][300] - made.Amperes[1][299] - made.Amperes[2][299];
        Assert.Equal(0.75 * Ohms / Unit * others, answer.Others(300), 2e-4);
        Assert.Equal(answer.Own(300) - answer.Own(299) + answer.Others(300), answer.Standing(300) - answer.Standing(299), 1e-12);
    }

    [Fact]
    public void A_step_that_the_voltage_followed_is_likelier_to_have_been_and_one_that_it_ignored_not_to_have_been()
    {
        var made = Made(hasPowers: false);
        // A load of forty amperes comes in row 400; in row 500 the clamp alone shows as much.
        for (var row = 400; row < 450; row++) made.Draw(row, 0, 40);
        for (var row = 500; row < 550; row++) made.Amperes[0][row] += 40;
        var answer = Learn(made);
        double came = answer.Own(400) - answer.Own(399), seemed = answer.Own(500) - answer.Own(499);
        Assert.True(answer.Say(400, came) - answer.Say(400, 0) > 8);
        Assert.True(answer.Say(500, seemed - (40 * answer.PerAmpere)) - answer.Say(500, seemed) > 8);
    }

    [Fact]
    public void Across_one_row_is_as_into_it_and_across_more_what_all_of_them_moved()
    {
        var made = Made(hasPowers: false);
        for (var row = 400; row < 450; row++) made.Draw(row, 0, row == 400 ? 17 : 40);
        var answer = Learn(made);
        Assert.Equal(answer.Say(400, -0.004), answer.SayAcross(399, 400, -0.004), 1e-12);
        // The load came within row 400: from 399 to 401 all of it is answered.
        var whole = answer.Own(401) - answer.Own(399);
        Assert.True(answer.SayAcross(399, 401, whole) - answer.SayAcross(399, 401, 0) > 8);
        Assert.True(answer.SayAcross(399, 401, whole) - answer.SayAcross(399, 401, 0.5 * whole) > 2);
    }

    [Fact]
    public void A_row_whose_voltage_is_missing_says_nothing_and_neither_does_the_one_behind_it()
    {
        var made = Made(hasPowers: false);
        made.Volts[2][200] = double.NaN;
        var answer = Learn(made);
        foreach (var row in (int[])[200, 201]) Assert.True(double.IsNaN(answer.Change(row)) && answer.Say(row, -0.01) == 0);
        Assert.False(double.IsNaN(answer.Change(202)));
        Assert.Equal(0, answer.SayAcross(199, 202, -0.01));
    }

    [Fact]
    public void A_row_behind_a_gap_is_no_change_from_the_row_before_it()
    {
        var answer = Learn(Made(hasPowers: false), row => row == 200);
        Assert.True(double.IsNaN(answer.Change(200)));
        Assert.False(double.IsNaN(answer.Change(199)) || double.IsNaN(answer.Change(201)));
    }

    [Fact]
    public void Without_vars_a_load_of_factor_one_is_all_of_its_amperes_in_phase_however_high_the_voltage_stands()
    {
        // All three voltages go up and down together by a tenth, and the watts with them; watts over nominal volts would be up to a tenth more than the amperes.
        var random = new SeededRandom(5);
        var made = Made(hasPowers: false, lift: _ => random.Uniform(1, 1.1));
        var answer = Learn(made, hasWattsAlone: true);
        Assert.Equal(-1.5 * Ohms / Unit, answer.PerAmpere, 0.01 * Ohms / Unit);
        Assert.Equal(answer.PerAmpere * made.Amperes[0][77], answer.Own(77), 1e-9);
    }

    [Fact]
    public void Rows_that_are_left_out_do_not_teach()
    {
        // A third of the rows at half the current: as a whole they would teach an answer that is too strong.
        var made = Made(hasPowers: false);
        for (var row = 0; row < Count; row++) made.Amperes[0][row] *= row < 550 ? 0.5 : 1;
        var isLeftOut = PartLog.Rows(Count, row => row < 550 ? 1 : 0).Select(value => value > 0).ToArray();
        Assert.Equal(-1.5 * Ohms / Unit, Learn(made, isLeftOut: isLeftOut).PerAmpere, 0.01 * Ohms / Unit);
        Assert.Equal(-3 * Ohms / Unit, Learn(made, isLeftOut: Array.ConvertAll(isLeftOut, left => !left)).PerAmpere, 0.02 * Ohms / Unit);
    }

    [Fact]
    public void A_voltage_that_never_answers_teaches_nothing_of_its_current()
    {
        var made = Made(hasPowers: false);
        var random = new SeededRandom(6);
        for (var row = 0; row < Count; row++) made.Amperes[0][row] = random.Uniform(10, 40);
        var answer = Learn(made);
        Assert.False(answer.IsSharp);
        Assert.Equal(0, answer.IsKnown ? 0 : answer.Say(300, -0.01));
    }

    private static VoltageAnswer Learn(SourceLog made, Func<int, bool>? isMissing = null, bool hasWattsAlone = false, bool[]? isLeftOut = null)
    {
        var frame = made.ToFrame(isMissing, hasWattsAlone);
        return VoltageAnswer.Learn(frame, PartLog.Sound(frame), 0, isLeftOut);
    }

    private static SourceLog Made(bool hasPowers, Func<int, double>? lift = null) => new(hasPowers, lift: lift);
}
