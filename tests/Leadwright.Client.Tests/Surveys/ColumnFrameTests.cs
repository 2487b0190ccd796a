using Leadwright.Client.Model.Charts;

namespace Leadwright.Client.Tests.Surveys;

public sealed class ColumnFrameTests
{
    private static readonly ColumnFrame s_frame = new()
    {
        From = 1000, To = 4000, WholeFrom = 0, WholeTo = 9000, Step = 1000, Times = [1500, 2500, 3500],
        Columns =
        [
            new FrameColumn("V1_rms_V", "V") { Mean = [230, 231.5f, float.NaN], Low = [229, 231, float.NaN], High = [231, 232, float.NaN], Standing = [0, 1, 3] },
            new FrameColumn("PF", "") { Mean = [0.9f, 0.8f, 0.7f], Low = [0.9f, 0.8f, 0.7f], High = [0.9f, 0.8f, 0.7f], Standing = [2, 2, 2] },
        ],
    };

    [Fact]
    public void A_frame_comes_back_from_its_bytes()
    {
        var read = ColumnFrame.Read(s_frame.ToBytes());
        Assert.Equal((s_frame.From, s_frame.To, s_frame.WholeFrom, s_frame.WholeTo, s_frame.Step), (read.From, read.To, read.WholeFrom, read.WholeTo, read.Step));
        Assert.Equal(s_frame.Times, read.Times);
        Assert.Equal(["V1_rms_V", "PF"], read.Columns.Select(column => column.Name));
        for (var column = 0; column < 2; column++)
        {
            Assert.Equal(s_frame.Columns[column].Mean, read.Columns[column].Mean);
            Assert.Equal(s_frame.Columns[column].Low, read.Columns[column].Low);
            Assert.Equal(s_frame.Columns[column].High, read.Columns[column].High);
            Assert.Equal(s_frame.Columns[column].Standing, read.Columns[column].Standing);
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(40)]
    [InlineData(-1)]
    public void Bytes_that_end_early_are_refused(int length)
    {
        var bytes = s_frame.ToBytes();
        Assert.Throws<FormatException>(() => ColumnFrame.Read(bytes.AsSpan(0, length < 0 ? bytes.Length - 9 : length)));
    }

    [Fact]
    public void Numbers_stand_on_bounds_of_eight_bytes()
    {
        var bytes = s_frame.ToBytes();
        Assert.Equal(0, bytes.Length % 8);
        Assert.Equal(0, (4 + BitConverter.ToInt32(bytes)) % 8);
    }

    [Fact]
    public void A_summary_counts_what_is_there_and_says_what_is_lost()
    {
        var summary = s_frame.Columns[0].Summary();
        Assert.Equal((229.0, 232.0), (summary.Least, summary.Most));
        Assert.Equal(230.75, summary.Mean, 6);
        Assert.Equal((1 / 3.0, 1 / 3.0, 0.0, 1 / 3.0), (summary.Measured, summary.Mended, summary.Modelled, summary.Lost));
    }

    [Fact]
    public void Times_go_there_and_back_to_the_hundredth_of_a_microsecond()
    {
        var time = new DateTime(2026, 3, 4, 13, 10, 0).AddTicks(1234567);
        Assert.Equal(time.Ticks, ColumnFrame.TimeOf(ColumnFrame.MillisecondsOf(time)).Ticks, 1e3);
    }
}
