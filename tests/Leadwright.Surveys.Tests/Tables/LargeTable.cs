using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>A log long enough for several row groups and levels, with gaps, and one of even steps.</summary>
public sealed class LargeTable : IAsyncLifetime
{
    private const int Rows = 350_000;
    private readonly TableFolder _folder = new();

    public IntervalLog Log { get; } = TableFolder.RandomLog(11, Rows, 1);

    public ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings { get; } = TableFolder.RandomStandings(11, Rows);

    public SurveyTable Table { get; private set; } = null!;

    public SurveyTable Even { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        await _folder.WriteAsync(Log, new() { Standings = Standings });
        var start = new DateTime(2026, 3, 2).Ticks;
        var even = new IntervalLog(
            [new LogColumn("P", LogQuantity.ActivePower)], [.. Enumerable.Range(0, Rows).Select(row => start + (row * TimeSpan.TicksPerSecond))], [new double[Rows]], 1);
        await _folder.WriteAsync(even, new() { Table = new("even") });
        Assert.Equal(3, Directory.GetFiles(_folder.Of("tables/log-pyramid"), "*", SearchOption.AllDirectories).Length);
        Table = await _folder.OpenAsync();
        Even = await _folder.OpenAsync("even");
    }

    public ValueTask DisposeAsync()
    {
        Table.Dispose();
        Even.Dispose();
        _folder.Dispose();
        return ValueTask.CompletedTask;
    }
}
