using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>A pyramid is computed: whatever happens to it, charts say the same.</summary>
public sealed class PyramidTests : IDisposable
{
    private const int Rows = 60_000;
    private readonly TableFolder _folder = new();

    private string Folder => _folder.Of("tables/log-pyramid");

    private string Lowest => _folder.Of($"tables/log-pyramid/survey={TableFolder.Survey}/part-0-level-0.parquet");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_pyramid_that_was_deleted_is_built_anew_with_the_same_bytes()
    {
        var before = await WrittenAsync();
        var bytes = await BytesAsync();
        Directory.Delete(Folder, recursive: true);
        Same(before, await DrawnAsync());
        Assert.Equal(bytes, await BytesAsync());
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.5)]
    [InlineData(0.98)]
    public async Task A_pyramid_that_was_cut_short_is_built_anew(double kept)
    {
        var before = await WrittenAsync();
        var bytes = await BytesAsync();
        await File.WriteAllBytesAsync(Lowest, bytes[0][..(int)(bytes[0].Length * kept)], TestContext.Current.CancellationToken);
        Same(before, await DrawnAsync());
        Assert.Equal(bytes, await BytesAsync());
    }

    [Fact]
    public async Task A_pyramid_with_damaged_pages_is_built_anew()
    {
        var before = await WrittenAsync();
        var bytes = await BytesAsync();
        var damaged = bytes[0].ToArray();
        damaged.AsSpan(4, damaged.Length / 2).Clear();
        await File.WriteAllBytesAsync(Lowest, damaged, TestContext.Current.CancellationToken);
        Same(before, await DrawnAsync());
        Assert.Equal(bytes, await BytesAsync());
    }

    [Fact]
    public async Task Verifying_takes_a_damaged_level_away_and_it_is_built_anew()
    {
        var before = await WrittenAsync();
        var bytes = await BytesAsync();
        var damaged = bytes[0].ToArray();
        damaged[damaged.Length / 3] ^= 1;
        await File.WriteAllBytesAsync(Lowest, damaged, TestContext.Current.CancellationToken);
        using (var table = await _folder.OpenAsync()) Assert.True(await table.VerifyAsync(TestContext.Current.CancellationToken));
        Assert.False(File.Exists(Lowest));
        Same(before, await DrawnAsync());
        Assert.Equal(bytes, await BytesAsync());
    }

    [Fact]
    public async Task A_pyramid_of_another_table_is_not_believed()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(2, Rows));
        var other = await File.ReadAllBytesAsync(Lowest, TestContext.Current.CancellationToken);
        var before = await WrittenAsync();
        await File.WriteAllBytesAsync(Lowest, other, TestContext.Current.CancellationToken);
        Same(before, await DrawnAsync());
    }

    [Fact]
    public async Task Where_no_pyramid_can_be_written_the_table_is_drawn()
    {
        var before = await WrittenAsync();
        Directory.Delete(Folder, recursive: true);
        // A file where the folder should be: nothing can be made there.
        await File.WriteAllTextAsync(Folder, "", TestContext.Current.CancellationToken);
        Same(before, await DrawnAsync());
        Same(before, await DrawnAsync());
    }

    [Fact]
    public async Task Cancelling_the_building_leaves_nothing_half_done()
    {
        await WrittenAsync();
        Directory.Delete(Folder, recursive: true);
        using (var table = await _folder.OpenAsync())
        {
            using var source = new CancellationTokenSource(TimeSpan.FromMilliseconds(1));
            try
            {
                await table.ReadAsync([0], table.From, table.To, 500, source.Token);
            }
            catch (OperationCanceledException)
            {
                Assert.DoesNotContain(Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories), file => file.EndsWith(".unfinished", StringComparison.Ordinal));
            }

            Assert.NotEqual(0, (await table.ReadAsync([0], table.From, table.To, 500, TestContext.Current.CancellationToken)).Count);
        }
    }

    private async Task<ChartBuckets> WrittenAsync()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, Rows), new() { Standings = TableFolder.RandomStandings(1, Rows) });
        return await DrawnAsync();
    }

    private async Task<ChartBuckets> DrawnAsync()
    {
        using var table = await _folder.OpenAsync();
        return await table.ReadAsync([0, 1], table.From, table.To, 500, TestContext.Current.CancellationToken);
    }

    private async Task<byte[][]> BytesAsync() => await Task.WhenAll(
        Directory.GetFiles(Folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(file => File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken)));

    private static void Same(ChartBuckets expected, ChartBuckets found)
    {
        Assert.Equal(expected.Starts.ToArray(), found.Starts.ToArray());
        for (var series = 0; series < expected.Series.Length; series++)
        {
            Assert.Equal(expected.Series[series].Least.ToArray(), found.Series[series].Least.ToArray());
            Assert.Equal(expected.Series[series].Greatest.ToArray(), found.Series[series].Greatest.ToArray());
            Assert.Equal(expected.Series[series].Known.ToArray(), found.Series[series].Known.ToArray());
            Assert.Equal(expected.Series[series].Worst.ToArray(), found.Series[series].Worst.ToArray());
            for (var at = 0; at < expected.Count; at++)
            {
                var mean = expected.Series[series].Mean.Span[at];
                if (double.IsFinite(mean)) Assert.Equal(mean, found.Series[series].Mean.Span[at], 1e-9);
                else Assert.Equal(mean, found.Series[series].Mean.Span[at]);
            }
        }
    }
}
