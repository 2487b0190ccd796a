using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Guarding;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Signals;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Tables;

namespace Leadwright.App.Tests.Verbs;

/// <summary>A recording gone through part by part is judged as the same recording held as a whole, whatever its format.</summary>
public sealed class LongSamplesTests : IDisposable
{
    private const double Rate = 800;
    private const int Count = (int)(130 * Rate);
    private const double OffFrom = 70.003, OffTo = 75.006;
    private static readonly string[] s_names = ["V1", "V2", "V3", "I1", "I2", "I3"];
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-long-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("binary")]
    [InlineData("text")]
    [InlineData("combined")]
    [InlineData("csv")]
    [InlineData("pqdif")]
    [InlineData("parquet")]
    public async Task A_check_part_by_part_sees_what_a_check_of_the_whole_sees(string format)
    {
        var path = await WriteAsync(format);
        var request = new CheckRequest { Service = Service.Of(ServiceKind.Wye), Nominal = "230/400" };
        var whole = await new CheckInput().ReadAsync(path, request, TestContext.Current.CancellationToken);
        var parts = await new CheckInput().ReadAsync(path, request with { StreamedFromBytes = 0 }, TestContext.Current.CancellationToken);
        Assert.Contains(parts.Notes, note => note.Contains("The recording of 2.2 min is judged as one hook-up", StringComparison.Ordinal));
        Assert.DoesNotContain(whole.Notes, note => note.Contains("judged as one hook-up", StringComparison.Ordinal));
        foreach (var (channel, reading) in whole.Readings.Channels)
        {
            Assert.Equal(reading.Rms!.Value, parts.Readings.Channels[channel].Rms!.Value, 1e-5 * reading.Rms.Value);
            Assert.Equal(reading.AngleDegrees!.Value, parts.Readings.Channels[channel].AngleDegrees!.Value, 1e-3);
        }

        Assert.Equal(whole.Readings.Steps!.Channels, parts.Readings.Steps!.Channels);
        var (held, gathered) = (whole.Readings.Steps.Steps, parts.Readings.Steps.Steps);
        Assert.Equal(held.Seconds, gathered.Seconds, 1e-9);
        Assert.Equal(3, held.Steps.Length);
        foreach (var (one, other) in held.Steps.Zip(gathered.Steps, (one, other) => (one, other)))
        {
            Assert.Equal(one.Seconds, other.Seconds, 1e-9);
            for (var channel = 0; channel < one.Changes.Length; channel++) Assert.True((one.Changes[channel] - other.Changes[channel]).Magnitude < 0.01);
        }

        Assert.Equal(held.Steps.Length, gathered.Steps.Length);
    }

    [Theory]
    [InlineData("binary")]
    [InlineData("csv")]
    [InlineData("parquet")]
    public async Task A_guard_part_by_part_tells_what_a_guard_of_the_whole_tells(string format)
    {
        var path = await WriteAsync(format);
        var request = new GuardRequest(new RecordingRequest { Service = Service.Of(ServiceKind.Wye), Nominal = "230/400" }, new());
        var whole = GuardRun.Judge(path, request, TestContext.Current.CancellationToken).Report;
        var parts = GuardRun.Judge(path, request with { Recording = request.Recording with { StreamedFromBytes = 0 } }, TestContext.Current.CancellationToken).Report;
        Assert.Equal((whole.From, whole.To), (parts.From, parts.To));
        Assert.Equal(whole.Spans.Select(span => (span.Kind, span.From, span.To)), parts.Spans.Select(span => (span.Kind, span.From, span.To)));
        var off = Assert.Single(parts.Spans, span => span.Kind == SpanKind.LeadOpen);
        Assert.Equal(Lead.V2, Assert.Single(off.Leads));
        Assert.InRange((off.From - parts.From).TotalSeconds, OffFrom - 0.0201, OffFrom + 0.0101);
    }

    [Fact]
    public async Task Samples_that_lack_their_other_half_or_are_cut_short_are_refused_alike()
    {
        var path = await WriteAsync("binary");
        File.Delete(Path.ChangeExtension(path, ".dat"));
        var request = new CheckRequest { Service = Service.Of(ServiceKind.Wye), StreamedFromBytes = 0 };
        var refusal = await Assert.ThrowsAsync<InputRefusedException>(() => new CheckInput().ReadAsync(path, request, TestContext.Current.CancellationToken));
        Assert.Contains(".dat", refusal.Message, StringComparison.Ordinal);
        var missing = await Assert.ThrowsAsync<InputRefusedException>(() => new CheckInput().ReadAsync(Path.Combine(_folder, "nothing.cfg"), request, TestContext.Current.CancellationToken));
        Assert.Contains("there is no such file", missing.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recording_that_is_changed_while_it_is_read_is_refused_with_what_to_do()
    {
        var path = await WriteAsync("binary");
        var samples = LongSamples.Open(path, new RecordingRequest { StreamedFromBytes = 0 }, prefersSamples: true, TestContext.Current.CancellationToken)!;
        var chosen = LongSamples.ChosenOf(Formats.Matching.ChannelMatcher.Match(samples.Recording, ServiceKind.Wye, null, path));
        var refusal = Assert.Throws<Formats.FormatReadException>(() =>
        {
            var parts = 0;
            foreach (var _ in samples.Parts(chosen, TestContext.Current.CancellationToken))
            {
                if (parts++ == 0) File.AppendAllText(Path.ChangeExtension(path, ".dat"), new string('x', 20));
            }
        });
        Assert.Contains("one that was changed meanwhile", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("copy it and give the copy", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_read_row_by_row_is_guarded_as_one_held()
    {
        var path = TestFolder.Data("interval/household-1min-2007-02-01.csv");
        var request = new GuardRequest(new RecordingRequest { Service = Service.Of(ServiceKind.Single), Nominal = "240" }, new());
        var whole = GuardRun.Judge(path, request, TestContext.Current.CancellationToken);
        var rows = GuardRun.Judge(path, request with { Recording = request.Recording with { StreamedFromBytes = 0 } }, TestContext.Current.CancellationToken);
        Assert.Equal(whole.Report.Spans.Select(span => (span.Kind, span.From, span.To)), rows.Report.Spans.Select(span => (span.Kind, span.From, span.To)));
        Assert.Equal(whole.Notes.All, rows.Notes.All);
    }

    [Fact]
    public async Task A_log_of_more_rows_than_are_wanted_is_guarded_by_joined_ones_with_the_same_answer_and_checked_by_its_beginning()
    {
        // Six hours of seconds; lead V2 is off from 02:00:00 to 04:00:00.
        var path = Path.Combine(_folder, "hours.csv");
        using (var text = new StreamWriter(path))
        {
            text.WriteLine("time," + string.Join(',', s_names.Select(name => $"{name} ({(name[0] == 'V' ? "V" : "A")})")));
            for (var second = 0; second < 21_600; second++)
            {
                var load = 12 + (6 * Math.Sin(second / 4000.0)) + (second / 900 % 3);
                text.WriteLine(new DateTime(2026, 3, 2).AddSeconds(second).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture) + string.Concat(Enumerable.Range(0, 6).Select(channel =>
                {
                    var noise = Math.Sin((second + 1) * 12.9898 * (channel + 1)) * 43758.5453;
                    noise -= Math.Floor(noise) + 0.5;
                    var value = channel >= 3 ? load + (channel - 3) + (0.3 * noise) : (channel == 1 && second is >= 7200 and < 14_400 ? 0.02 : 1) * (231 - (0.1 * load) + (0.4 * noise));
                    return string.Create(CultureInfo.InvariantCulture, $",{value:0.00}");
                })));
            }
        }

        var request = new GuardRequest(new RecordingRequest { Service = Service.Of(ServiceKind.Wye), Nominal = "230/400" }, new());
        var whole = GuardRun.Judge(path, request, TestContext.Current.CancellationToken);
        var rows = GuardRun.Judge(path, request with { Recording = request.Recording with { StreamedFromBytes = 0 }, MostLogRows = 5_000 }, TestContext.Current.CancellationToken);
        var (wanted, found) = (Assert.Single(whole.Report.Spans), Assert.Single(rows.Report.Spans));
        Assert.Equal(SpanKind.LeadOpen, wanted.Kind);
        Assert.Equal((wanted.Kind, wanted.Leads[0]), (found.Kind, Assert.Single(found.Leads)));
        Assert.InRange((found.From - wanted.From).Duration().TotalSeconds, 0, 5);
        Assert.InRange((found.To - wanted.To).Duration().TotalSeconds, 0, 5);
        Assert.Contains(rows.Notes.All, note => note.Contains("rows of 5 s were made, 5 of its own in each", StringComparison.Ordinal));

        // A check judges the hook-up as it was in the beginning: before the lead went off.
        var check = new CheckRequest(request.Recording with { StreamedFromBytes = 0 }) { MostLogRows = 5_000 };
        var beginning = await new CheckInput().ReadAsync(path, check, TestContext.Current.CancellationToken);
        Assert.Contains(beginning.Notes, note => note.Contains("the first ", StringComparison.Ordinal) && note.Contains("only a guard of the log tells", StringComparison.Ordinal));
        Assert.InRange(beginning.Readings.Channels[Channel.V2].Rms!.Value, 225, 235);
        var all = await new CheckInput().ReadAsync(path, check with { MostLogRows = 50_000 }, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(all.Notes, note => note.Contains("the first ", StringComparison.Ordinal));
    }

    // A board whose loads of 8 A switch on each line, 0.05 ohm of supply before them; lead V2 is off from 70 to 75 s.
    private static double Sample(int channel, int index)
    {
        var seconds = index / Rate;
        var phase = channel % 3;
        var amperes = 20 + (2 * phase) + (Math.Sin(seconds / 7) * 0.1) + (seconds >= 20 + (30 * phase) ? 8 : 0);
        var angle = (2 * Math.PI * 50.01 * seconds) - (phase * 2 * Math.PI / 3);
        var noise = Math.Sin(index * 12.9898 * (channel + 1)) * 43758.5453;
        noise -= Math.Floor(noise) + 0.5;
        if (channel >= 3) return (Math.Sqrt(2) * amperes * Math.Cos(angle - 0.4)) + (0.02 * noise);
        var volts = (Math.Sqrt(2) * 230 * Math.Cos(angle)) - (0.05 * Math.Sqrt(2) * amperes * Math.Cos(angle - 0.4)) + (0.2 * noise);
        return channel == 1 && seconds is >= OffFrom and < OffTo ? 0.02 * volts : volts;
    }

    private async Task<string> WriteAsync(string format)
    {
        var culture = CultureInfo.InvariantCulture;
        var path = Path.Combine(_folder, $"board.{format switch { "csv" => "csv", "pqdif" => "pqd", "parquet" => "parquet", "combined" => "cff", _ => "cfg" }}");
        switch (format)
        {
            case "csv":
                await using (var text = new StreamWriter(path))
                {
                    text.WriteLine("time (s)," + string.Join(',', s_names.Select(name => $"{name} ({(name[0] == 'V' ? "V" : "A")})")));
                    for (var index = 0; index < Count; index++) text.WriteLine(string.Create(culture, $"{index / Rate:0.000000},") + string.Join(',', Enumerable.Range(0, 6).Select(channel => Sample(channel, index).ToString("0.000", culture))));
                }

                return path;
            case "parquet":
                await using (var file = File.Create(path))
                {
                    await using var writer = new ParquetTableWriter(
                        file, [new("time (s)", TableColumnKind.Number), .. s_names.Select(name => new TableColumn($"{name} ({(name[0] == 'V' ? "V" : "A")})", TableColumnKind.Number))], new Dictionary<string, string>());
                    for (var index = 0; index < Count; index++)
                    {
                        writer.Set(0, index / Rate);
                        for (var channel = 0; channel < 6; channel++) writer.Set(channel + 1, Sample(channel, index));
                        await writer.EndRowAsync();
                    }

                    await writer.CompleteAsync();
                }

                return path;
            case "pqdif":
                await using (var file = File.Create(path))
                {
                    var channels = s_names.Select((name, channel) => new SampledChannel(
                        name, "ABC"[channel % 3].ToString(), channel < 3 ? "V" : "A", Enumerable.Range(0, Count).Select(index => Sample(channel, index)).ToArray()));
                    PqdifWriter.Write(file, new SampledRecording([.. channels], [new(0, Count, Rate, 0)], 50, new DateTime(2026, 3, 2, 8, 0, 0)), new() { IsPacked = true });
                }

                return path;
            default:
                var cfg = "invented board,bench,2013\r\n6,6A,0D\r\n" + string.Concat(s_names.Select((name, channel) => string.Create(
                    culture, $"{channel + 1},{name},{"ABC"[channel % 3]},,{name[0] switch { 'V' => "V,0.02", _ => "A,0.005" }},0,0,-32767,32767,1,1,P\r\n")))
                    + string.Create(culture, $"50\r\n1\r\n{Rate},{Count}\r\n02/03/2026,08:00:00.000000\r\n02/03/2026,08:00:00.000000\r\n{(format == "binary" ? "BINARY" : "ASCII")}\r\n1\r\n0,0\r\n0,3\r\n");
                short Raw(int channel, int index) => (short)Math.Round(Sample(channel, index) / (channel < 3 ? 0.02 : 0.005));
                if (format == "binary")
                {
                    await File.WriteAllTextAsync(path, cfg, TestContext.Current.CancellationToken);
                    await using var dat = new BinaryWriter(File.Create(Path.ChangeExtension(path, ".dat")));
                    for (var index = 0; index < Count; index++)
                    {
                        dat.Write((uint)(index + 1));
                        dat.Write((uint)Math.Round(index / Rate * 1e6));
                        for (var channel = 0; channel < 6; channel++) dat.Write(Raw(channel, index));
                    }

                    return path;
                }

                var rows = Enumerable.Range(0, Count).Select(index => string.Create(culture, $"{index + 1},{index / Rate * 1e6:0},") + string.Join(',', Enumerable.Range(0, 6).Select(channel => Raw(channel, index).ToString(culture))));
                var data = string.Join("\r\n", rows) + "\r\n";
                if (format == "combined") await File.WriteAllTextAsync(path, $"--- file type: CFG ---\r\n{cfg}--- file type: INF ---\r\n--- file type: HDR ---\r\n--- file type: DAT ASCII ---\r\n{data}", TestContext.Current.CancellationToken);
                else
                {
                    await File.WriteAllTextAsync(path, cfg, TestContext.Current.CancellationToken);
                    await File.WriteAllTextAsync(Path.ChangeExtension(path, ".dat"), data, TestContext.Current.CancellationToken);
                }

                return path;
        }
    }
}
