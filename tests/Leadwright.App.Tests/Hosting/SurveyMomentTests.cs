using System.Globalization;
using System.Net.Http.Json;
using System.Text;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Hosting;

/// <summary>A sampled recording in a survey: its waves as columns, and one moment of it.</summary>
public sealed class SurveyMomentTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    private const double Rate = 3200;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Samples_are_drawn_as_waves_and_a_moment_of_them_is_measured()
    {
        var id = (await served.MakeAsync("Moments")).Id;
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{id}/recordings", "waves.csv", Encoding.UTF8.GetBytes(Samples()))).Problem);

        var columns = (await served.Http.GetFromJsonAsync($"api/surveys/{id}/columns", SurveyJson.Default.ImmutableArrayColumnCard, Cancellation))!;
        Assert.Equal(["I1", "I2", "I3", "V1", "V2", "V3"], columns.Where(column => column.Quantity is "VoltageWave" or "CurrentWave").Select(column => column.Name["wave-".Length..]).Order(StringComparer.Ordinal));
        var frame = ColumnFrame.Read(await served.Http.GetByteArrayAsync(new Uri($"api/surveys/{id}/columns?names=wave-V1&width=100", UriKind.Relative), Cancellation));
        Assert.InRange(frame.Columns[0].High.Max(), 325, 332);
        Assert.InRange(frame.Columns[0].Low.Min(), -332, -325);

        var at = (frame.WholeFrom + frame.WholeTo) / 2;
        var moment = (await served.Http.GetFromJsonAsync(string.Create(CultureInfo.InvariantCulture, $"api/surveys/{id}/moment?at={at}"), SurveyJson.Default.MomentSheet, Cancellation))!;
        Assert.Equal("", moment.Note);
        Assert.NotNull(moment.Vectors);
        Assert.Contains("look-1", moment.WaveSvg, StringComparison.Ordinal);
        var voltage = Assert.Single(moment.Spectra, row => row.Channel == "V1");
        Assert.Equal(325 / Math.Sqrt(2), voltage.Rms, 0.5);
        // What was put in: 4 % of the 5th.
        Assert.Equal(4, voltage.Percent[4], 0.1);
    }

    [Fact]
    public async Task A_channel_that_the_file_holds_the_other_way_round_is_turned_in_charts_and_moments_from_the_table()
    {
        var id = (await served.MakeAsync("Turned")).Id;
        var text = new StringBuilder("# rate_hz: 3200\nV21 (V),V23 (V),V31 (V),I1 (A),I2 (A),I3 (A)\n");
        for (var index = 0; index < 2 * Rate; index++)
        {
            for (var channel = 0; channel < 6; channel++)
            {
                var angle = (2 * Math.PI * 50 * index / Rate) - (channel % 3 * 2 * Math.PI / 3);
                // A direct part shows the sign.
                var wave = channel == 0 ? -(560 * Math.Cos(angle)) - 40 : channel < 3 ? 560 * Math.Cos(angle) : 60 * Math.Cos(angle - 0.9);
                text.Append(CultureInfo.InvariantCulture, $"{(channel == 0 ? "" : ",")}{wave:0.000}");
            }

            text.Append('\n');
        }

        Assert.Equal("", (await served.UploadAsync($"api/surveys/{id}/recordings", "waves.csv", Encoding.UTF8.GetBytes(text.ToString()))).Problem);
        var frame = ColumnFrame.Read(await served.Http.GetByteArrayAsync(new Uri($"api/surveys/{id}/columns?names=wave-V12&width=100", UriKind.Relative), Cancellation));
        Assert.InRange(frame.Columns[0].High.Max(), 599, 601);
        Assert.InRange(frame.Columns[0].Low.Min(), -521, -519);

        // At both edges there are as many cycles as elsewhere.
        foreach (var at in (double[])[frame.WholeFrom, frame.WholeTo])
        {
            var moment = (await served.Http.GetFromJsonAsync(string.Create(CultureInfo.InvariantCulture, $"api/surveys/{id}/moment?at={at}"), SurveyJson.Default.MomentSheet, Cancellation))!;
            Assert.Equal("", moment.Note);
            Assert.NotNull(moment.Vectors);
            Assert.Equal(Math.Sqrt((560 * 560 / 2.0) + (40 * 40)), Assert.Single(moment.Spectra, row => row.Channel == "V12").Rms, 1.0);
        }
    }

    private static string Samples()
    {
        var text = new StringBuilder("# rate_hz: 3200\nV1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A)\n");
        for (var index = 0; index < 2 * Rate; index++)
        {
            for (var channel = 0; channel < 6; channel++)
            {
                var angle = (2 * Math.PI * 50 * index / Rate) - (channel % 3 * 2 * Math.PI / 3) - (channel < 3 ? 0 : 0.4);
                var wave = channel < 3 ? 325 * (Math.Cos(angle) + (0.04 * Math.Sin(5 * angle))) : 60 * Math.Cos(angle);
                text.Append(CultureInfo.InvariantCulture, $"{(channel == 0 ? "" : ",")}{wave:0.000}");
            }

            text.Append('\n');
        }

        return text.ToString();
    }
}
