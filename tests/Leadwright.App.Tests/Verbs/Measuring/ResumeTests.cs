using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Measuring;
using Leadwright.Core.Measuring;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Tests.Verbs.Measuring;

/// <summary>An interrupted run that is resumed writes the bytes of one that was not.</summary>
public sealed class ResumeTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-resume-").FullName;
    private string _path = "";

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("csv", 0)]
    [InlineData("parquet", 0)]
    [InlineData("csv", 5)]
    public void Interrupted_at_several_points_the_tables_are_the_same_to_the_last_byte(string ending, double missingFrom)
    {
        var path = WrittenRecording.Write(_folder, "panel", 40, missingFrom: missingFrom > 0 ? missingFrom : -1);
        var expected = Measure(Request(path, "whole." + ending));
        foreach (var share in (double[])[0.01, 0.08, 0.3, 0.5, 0.77, 0.99])
        {
            var request = Request(path, $"cut{share}.{ending}");
            Assert.Throws<OperationCanceledException>(() => Measure(request, share));
            Assert.False(File.Exists(request.Output));
            var found = Measure(request with { IsResumed = true });
            Same("whole." + ending, $"cut{share}.{ending}", expected, found);
        }
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("parquet")]
    public void Killed_without_warning_it_goes_on_from_the_last_checkpoint(string ending)
    {
        var path = WrittenRecording.Write(_folder, "panel", 40);
        var expected = Measure(Request(path, "whole." + ending));
        foreach (var (at, kept) in ((double, double)[])[(0.2, 0.15), (0.6, 0.3), (0.95, 0.9)])
        {
            // What the disk holds at a kill: the checkpoint of some time ago, and tables that were written further since.
            var request = Request(path, "killed." + ending) with { CheckpointEvery = TimeSpan.Zero };
            var output = request.Output!;
            byte[]? checkpoint = null;
            var files = new Dictionary<string, byte[]>();
            Assert.Throws<OperationCanceledException>(() => Measure(request, at, share =>
            {
                if (share > kept) checkpoint ??= File.ReadAllBytes(output + ".checkpoint");
                if (share <= at) return;
                foreach (var file in Directory.EnumerateFiles(_folder, "killed*.unfinished")) files[file] = ReadShared(file);
            }));
            foreach (var (file, bytes) in files) File.WriteAllBytes(file, [.. bytes, 1, 2, 3]);
            File.WriteAllBytes(output + ".checkpoint", checkpoint!);
            File.WriteAllBytes(output + ".checkpoint.new", [0]);
            var found = Measure(request with { IsResumed = true });
            Same("whole." + ending, "killed." + ending, expected, found);
        }
    }

    [Fact]
    public async Task Another_recording_other_options_or_a_damaged_checkpoint_are_refused_and_left_alone()
    {
        var path = WrittenRecording.Write(_folder, "panel", 20);
        var request = Request(path, "out.csv");
        Assert.Throws<OperationCanceledException>(() => Measure(request, 0.5));
        var checkpoint = request.Output + ".checkpoint";
        var bytes = File.ReadAllBytes(checkpoint);

        var run = await RunAsync(path, "--interval", "3s");
        Assert.Equal(1, run.Code);
        Assert.Contains("the options are others", run.Error, StringComparison.Ordinal);
        bytes[^1] ^= 1;
        File.WriteAllBytes(checkpoint, bytes);
        Assert.Contains("it is damaged", Assert.Throws<InputRefusedException>(() => Measure(request with { IsResumed = true })).Message, StringComparison.Ordinal);
        bytes[^1] ^= 1;
        File.WriteAllBytes(checkpoint, bytes);
        File.SetLastWriteTimeUtc(Path.ChangeExtension(path, ".dat"), new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Assert.Contains("the recording is another", Assert.Throws<InputRefusedException>(() => Measure(request with { IsResumed = true })).Message, StringComparison.Ordinal);
        Assert.True(File.Exists(checkpoint));
        Assert.True(File.Exists(request.Output + ".unfinished"));
        Assert.False(File.Exists(request.Output));
    }

    [Fact]
    public async Task Resume_needs_a_table_and_says_when_there_was_nothing_to_resume()
    {
        var path = WrittenRecording.Write(_folder, "panel", 2, hasDip: false);
        using var error = new StringWriter();
        Assert.Equal(2, await LeadwrightCommand.RunAsync(["measure", path, "--resume"], TextWriter.Null, error, TestContext.Current.CancellationToken));
        Assert.Contains("-o", error.ToString(), StringComparison.Ordinal);
        var found = Measure(Request(path, "out.csv") with { IsResumed = true });
        Assert.Contains(found.Notes, note => note.Contains("nothing to resume", StringComparison.Ordinal));
        Assert.True(File.Exists(Path.Combine(_folder, "out.csv")));
    }

    // Text data that is damaged behind the checkpoint: exit code 1, and nothing half-written.
    [Fact]
    public void Bad_data_behind_a_checkpoint_leaves_nothing()
    {
        var path = Path.Combine(_folder, "table.csv");
        File.WriteAllText(path, "# rate_hz: 3200\nV1 (V)\n" + string.Concat(Enumerable.Range(0, 64000).Select(row =>
            row == 60000 ? "x\n" : $"{(int)(325 * Math.Sin(2 * Math.PI * 50 * row / 3200.0))}\n")));
        var request = Request(path, "out.csv") with { CheckpointEvery = TimeSpan.Zero };
        Assert.Throws<Formats.FormatReadException>(() => Measure(request));
        Assert.Equal(["table.csv"], Directory.EnumerateFiles(_folder).Select(Path.GetFileName));
    }

    // A recorder, or a copy that still runs, writes on into the file: rows of two states of it would stand in one table.
    [Theory]
    [InlineData("csv")]
    [InlineData("parquet")]
    public void A_recording_that_is_changed_while_it_is_measured_is_refused_and_leaves_nothing(string ending)
    {
        var path = WrittenRecording.Write(_folder, "panel", 20);
        var isChanged = false;
        var refusal = Assert.Throws<Formats.FormatReadException>(() => Measure(Request(path, "out." + ending), look: share =>
        {
            if (share < 0.5 || isChanged) return;
            File.AppendAllBytes(Path.ChangeExtension(path, ".dat"), new byte[20]);
            isChanged = true;
        }));
        Assert.Contains("one that was changed meanwhile", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("copy it and give the copy", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(["panel.cfg", "panel.dat"], Directory.EnumerateFiles(_folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    private MeasureRequest Request(string path, string output) => UsualRequest(_path = path, output);

    private MeasureRequest UsualRequest(string path, string output) => new()
    {
        Nominal = path.EndsWith(".cfg", StringComparison.Ordinal) ? "230/400" : null,
        Output = Path.Combine(_folder, output),
        Interval = MeasuringInterval.Cycles,
        Waveforms = Path.Combine(_folder, "waves-" + output),
    };

    private MeasureDocument Measure(MeasureRequest request, double until = 2, Action<double>? look = null)
    {
        using var stop = new CancellationTokenSource();
        return MeasureRun.Measure(MeasureInput.Open(_path, request, stop.Token), request, share =>
        {
            look?.Invoke(share);
            if (share > until) stop.Cancel();
        }, stop.Token);
    }

    private void Same(string whole, string other, MeasureDocument expected, MeasureDocument found)
    {
        foreach (var ending in (string[])["", "-events"])
        {
            string Of(string name) => Path.Combine(_folder, Path.GetFileNameWithoutExtension(name) + ending + Path.GetExtension(name));
            Assert.Equal(File.ReadAllBytes(Of(whole)), File.ReadAllBytes(Of(other)));
        }

        var waves = Directory.EnumerateFiles(Path.Combine(_folder, "waves-" + whole)).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(waves);
        foreach (var wave in waves) Assert.Equal(File.ReadAllBytes(wave), File.ReadAllBytes(wave.Replace("waves-" + whole, "waves-" + other, StringComparison.Ordinal)));
        Assert.Equal(
            MeasureJson.Line(expected).Replace("whole.", "", StringComparison.Ordinal),
            MeasureJson.Line(found).Replace(Path.GetFileNameWithoutExtension(other) + ".", "", StringComparison.Ordinal).Replace(Path.GetFileNameWithoutExtension(other) + "-", "whole-", StringComparison.Ordinal));
        Assert.DoesNotContain(Directory.EnumerateFiles(_folder), file => file.Contains("checkpoint", StringComparison.Ordinal) || file.EndsWith(".unfinished", StringComparison.Ordinal));
        Assert.DoesNotContain(Directory.EnumerateFiles(Path.Combine(_folder, "waves-" + other)), file => file.EndsWith(".unfinished", StringComparison.Ordinal));
    }

    private async Task<(int Code, string Error)> RunAsync(string path, params string[] options)
    {
        using var error = new StringWriter();
        var code = await LeadwrightCommand.RunAsync(
            ["measure", path, "--resume", "--nominal", "230/400", "-o", Path.Combine(_folder, "out.csv"), "--waveforms", Path.Combine(_folder, "waves-out.csv"), .. options],
            TextWriter.Null, error, TestContext.Current.CancellationToken);
        return (code, error.ToString());
    }

    private static byte[] ReadShared(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
