using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Damaged files give a log or are refused, and nothing else. The time limits only end a run that hangs.</summary>
public sealed class DamagedLogTests
{
    private const string Text = "Invented recorder\n\nDate;Time;U L1 [V];I L1 [A];P L1 [kW]\n02.03.2026;10:00;230,1;5,25;\"1,2\"\n02.03.2026;10:15;231,0;6,1;1,3\n02.03.2026;10:30;229,5;4,5;1,0\n02.03.2026;10:45;OL;4,5;1,0\n";

    [Fact(Timeout = 120_000)]
    public async Task Damaged_text_gives_a_log_or_a_refusal() => await Damage(Encoding.UTF8.GetBytes(Text), "log.csv", 3000, TestContext.Current.CancellationToken);

    [Fact(Timeout = 120_000)]
    public async Task Damaged_wide_text_gives_a_log_or_a_refusal() => await Damage([.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Text)], "log.csv", 500, TestContext.Current.CancellationToken);

    [Fact(Timeout = 120_000)]
    public async Task Damaged_workbooks_give_a_log_or_a_refusal()
    {
        using var stream = new MemoryStream();
        await using (var book = await SpreadCheetah.Spreadsheet.CreateNewAsync(stream, cancellationToken: TestContext.Current.CancellationToken))
        {
            await book.StartWorksheetAsync("Log", token: TestContext.Current.CancellationToken);
            await book.AddRowAsync([new("time"), new("V1 (V)")], TestContext.Current.CancellationToken);
            for (var row = 0; row < 20; row++)
                await book.AddRowAsync([new(new DateTime(2026, 3, 2, 0, row, 0, DateTimeKind.Unspecified)), new(230 + row)], TestContext.Current.CancellationToken);
            await book.FinishAsync(TestContext.Current.CancellationToken);
        }

        await Damage(stream.ToArray(), "log.xlsx", 400, TestContext.Current.CancellationToken);
    }

    [Fact(Timeout = 120_000)]
    public async Task Damaged_parquet_gives_a_log_or_a_refusal()
    {
        using var stream = new MemoryStream();
        var starts = Enumerable.Range(0, 20).Select(row => new DateTime(2026, 3, 2, 0, row, 0).Ticks).ToArray();
        var log = new IntervalLog([new("V", LogQuantity.Voltage, LogPlace.Phase1)], starts, [[.. Enumerable.Range(0, 20).Select(row => 230.0 + row)]], 60);
        await LogWriter.WriteParquetAsync(log, stream, cancellation: TestContext.Current.CancellationToken);
        await Damage(stream.ToArray(), "log.parquet", 400, TestContext.Current.CancellationToken);
    }

    [Theory(Timeout = 60_000)]
    [InlineData("\"")]
    [InlineData("1,")]
    [InlineData("time;V1\n\"")]
    [InlineData("2026-03-02 10:00;230\n")]
    [InlineData("\u0000")]
    [InlineData("9999-12-31 23:59;1\n")]
    public async Task A_pattern_without_end_is_read_in_bounded_time(string pattern)
    {
        var text = string.Concat(Enumerable.Repeat(pattern, 400_000 / pattern.Length));
        await Task.Run(() => Try(new InputFile("x.csv", Encoding.UTF8.GetBytes(text))), TestContext.Current.CancellationToken);
        Assert.NotEmpty(text);
    }

    private static Task Damage(byte[] sound, string name, int tries, CancellationToken cancellation) => Task.Run(() =>
    {
        Assert.True(Try(new InputFile(name, sound)));
        var random = new Random(20261125);
        var refused = 0;
        for (var one = 0; one < tries; one++)
        {
            cancellation.ThrowIfCancellationRequested();
            var bytes = sound.ToArray();
            switch (random.Next(4))
            {
                case 0: bytes = bytes[..random.Next(bytes.Length)]; break;
                case 1: bytes = [.. bytes[..random.Next(bytes.Length)], .. bytes[random.Next(bytes.Length)..]]; break;
            }

            for (var flip = random.Next(1, 12); flip > 0 && bytes.Length > 0; flip--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
            if (!Try(new InputFile(name, bytes))) refused++;
        }

        Assert.True(refused > 0, "no damage was ever noticed");
    }, cancellation);

    private static bool Try(InputFile file)
    {
        try
        {
            _ = InputSniffer.KindOf(file);
            var log = ReadLog.Of(file).Log;
            Assert.NotEmpty(log.Columns);
            return true;
        }
        catch (FormatReadException failure)
        {
            Assert.False(string.IsNullOrEmpty(failure.Message));
            return false;
        }
    }
}
