using System.Globalization;
using FsCheck.Xunit;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Logs;

public sealed class RecordTimeTests
{
    [Theory]
    [InlineData(0, "+0:00:00", "PT0S")]
    [InlineData(12.5, "+0:00:12.5", "PT12.5S")]
    [InlineData(0.0002, "+0:00:00", "PT0.0002S")]
    [InlineData(59.9996, "+0:01:00", "PT59.9996S")]
    [InlineData(184503.02, "+51:15:03.02", "PT184503.02S")]
    public void A_time_without_a_date_is_the_time_since_the_start(double seconds, string text, string iso)
    {
        var time = new DateTime((long)Math.Round(seconds * TimeSpan.TicksPerSecond));
        Assert.False(RecordTime.IsDated(time));
        Assert.Equal(text, RecordTime.Text(time, "yyyy-MM-dd HH:mm"));
        Assert.Equal(iso, RecordTime.Iso(time, "yyyy-MM-ddTHH:mm:ss"));
        Assert.Equal(seconds, System.Xml.XmlConvert.ToTimeSpan(iso).TotalSeconds, 9);
    }

    [Fact]
    public void A_date_is_written_as_ever()
    {
        var time = new DateTime(2026, 3, 2, 10, 15, 0);
        Assert.Equal("2026-03-02 10:15", RecordTime.Text(time, "yyyy-MM-dd HH:mm"));
        Assert.Equal("2026-03-02T10:15:00", RecordTime.Iso(time, "yyyy-MM-ddTHH:mm:ss"));
    }

    [Property]
    public void What_is_written_for_programs_reads_back(uint milliseconds, bool isDated)
    {
        var time = new DateTime(isDated ? 2026 : 1, 1, 1).AddMilliseconds(milliseconds % 31_000_000_000);
        Assert.True(RecordTime.TryReadIso(RecordTime.Iso(time, "yyyy-MM-ddTHH:mm:ss.fff"), out var read));
        Assert.Equal(time, read);
    }

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("PTS")]
    [InlineData("PT-1S")]
    [InlineData("PT1e9S")]
    [InlineData("PT99999999999S")]
    [InlineData("soon")]
    public void What_is_no_time_is_none(string? text) => Assert.False(RecordTime.TryReadIso(text, out _), text?.ToString(CultureInfo.InvariantCulture));
}
