using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What two lines say of the third, where all three carry one load: three, four and five parts of it.</summary>
public sealed class CourseOfOthersTests
{
    private const int Count = 400, None = -1;
    private static readonly double s_ratio = Math.Log(2);

    [Fact]
    public void Lines_that_keep_their_proportions_predict_each_other_exactly()
    {
        var (own, one, other) = Lines();
        var course = CourseOfOthers.Predict(own, one, other, 0, None);
        Assert.NotNull(course);
        for (var row = 0; row < Count; row++) Assert.Equal(own[row], course[row], 1e-9);
    }

    [Fact]
    public void A_ratio_on_the_line_itself_moves_its_rest_by_all_of_it_and_one_on_another_by_half_the_other_way()
    {
        var (own, one, other) = Lines();
        for (var row = 100; row < 150; row++) own[row] += s_ratio;
        for (var row = 200; row < 250; row++) one[row] += s_ratio;
        // 250 rows of 400 are as ever: the medians of classes are theirs, but the ratio on the other line has rows of its own above all sizes that were ever there.
        var course = CourseOfOthers.Predict(own, one, other, 100, 249)!;
        for (var row = 100; row < 150; row++) Assert.Equal(s_ratio, own[row] - course[row], 1e-9);
        for (var row = 200; row < 250; row++) Assert.Equal(-0.5 * s_ratio, own[row] - course[row], 1e-9);
        Assert.Equal(own[99], course[99], 1e-9);
        Assert.Equal(own[250], course[250], 1e-9);
    }

    [Fact]
    public void A_few_rows_at_another_ratio_do_not_teach_though_they_are_not_left_out()
    {
        var (own, one, other) = Lines();
        for (var row = 100; row < 120; row++) own[row] += s_ratio;
        var course = CourseOfOthers.Predict(own, one, other, 0, None)!;
        for (var row = 100; row < 120; row++) Assert.Equal(s_ratio, own[row] - course[row], 0.05);
    }

    [Fact]
    public void Between_what_was_seen_a_line_that_grows_twice_as_fast_is_followed_and_beyond_it_in_one_proportion()
    {
        // The logarithm of the own current is twice that of the others.
        var (own, one, other) = (new double[1600], new double[1600], new double[1600]);
        for (var row = 0; row < own.Length; row++)
        {
            one[row] = other[row] = row / 1600.0;
            own[row] = 2 * one[row];
        }

        var course = CourseOfOthers.Predict(own, one, other, 0, None)!;
        // Sixteen classes of a hundred rows; the lower middle of the first is row 49, that of the last row 1549.
        Assert.Equal(own[800], course[800], 1e-9);
        Assert.Equal(own[49] + one[0] - one[49], course[0], 1e-9);
        Assert.Equal(own[1549] + one[1599] - one[1549], course[1599], 1e-9);
    }

    [Fact]
    public void Where_another_line_reads_nothing_there_is_no_prediction_and_rows_without_it_teach_nothing()
    {
        var (own, one, other) = Lines();
        (one[7], other[9]) = (double.NaN, double.NaN);
        var course = CourseOfOthers.Predict(own, one, other, 0, None)!;
        Assert.Equal([7, 9], Enumerable.Range(0, Count).Where(row => double.IsNaN(course[row])));
        Assert.Equal(own[8], course[8], 1e-9);
    }

    [Fact]
    public void Fewer_than_eighty_rows_teach_nothing_and_both_ends_of_what_is_left_out_count()
    {
        var (own, one, other) = Lines();
        Assert.NotNull(CourseOfOthers.Predict(own, one, other, 80, Count - 1));
        Assert.Null(CourseOfOthers.Predict(own, one, other, 79, Count - 1));
        Assert.NotNull(CourseOfOthers.Predict(own, one, other, 0, Count - 81));
        Assert.Null(CourseOfOthers.Predict(own, one, other, 0, Count - 80));
    }

    private static (double[] Own, double[] One, double[] Other) Lines()
    {
        var random = new SeededRandom(9);
        var load = PartLog.Rows(Count, _ => random.Uniform(0, 0.6));
        return (Array.ConvertAll(load, value => value + Math.Log(3)), Array.ConvertAll(load, value => value + Math.Log(4)), Array.ConvertAll(load, value => value + Math.Log(5)));
    }
}
