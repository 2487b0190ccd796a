using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Pqdif;

/// <summary>Puts value-log and phasor series of observations together to logs of intervals.</summary>
internal sealed class PqdifLogs
{
    // Columns whose times differ by less than this part of an interval stand in one row.
    private const double RowTolerance = 0.01;

    private readonly List<Column> _columns = [];
    private readonly Dictionary<Key, Column> _byKey = [];

    /// <summary>Takes the value-log and phasor channels of an observation.</summary>
    /// <param name="observation">The observation.</param>
    /// <param name="note">Receives what is not taken over.</param>
    /// <param name="warn">Receives what is met and put up with.</param>
    public void Take(PqdifObservation observation, Action<string> note, Action<string> warn)
    {
        var times = new Dictionary<PqdifTimeAxis, long[]?>(ReferenceEqualityComparer.Instance);
        var channels = observation.Channels.Where(channel =>
            channel.Definition.QuantityType == PqdifQuantityType.Valuelog || channel.Definition.QuantityType == PqdifQuantityType.Phasor).ToList();
        if (channels.Count == 0) return;
        if (observation.Start is null) warn("The start of a log is not stated: its times are given as the time since that start.");
        var interval = channels.Select(channel => IntervalOf(observation, channel)).FirstOrDefault(seconds => seconds > 0);
        foreach (var channel in channels)
        {
            var title = channel.Definition.Title;
            if (observation.TimesOf(channel) is not { } axis)
            {
                note($"Logged channel '{title}' has no times in seconds, cycles of a known frequency, or dates.");
                continue;
            }

            double[][] values = [.. Enumerable.Range(0, channel.Series.Length).Select(series => IsValue(channel, series, note) ? observation.ValuesOf(channel, series, axis) : [])];
            var count = values.Max(value => value.Length);
            if (count == 0) continue;
            if (!times.TryGetValue(axis, out var ticks)) times[axis] = ticks = TicksOf(observation, axis, Math.Min(count, axis.Count));
            if (ticks is null)
            {
                note($"Logged channel '{title}' has times that no calendar has.");
                continue;
            }

            for (var series = 0; series < channel.Series.Length; series++)
            {
                if (values[series].Length == 0) continue;
                if (values[series].Length != ticks.Length)
                    warn(string.Create(CultureInfo.InvariantCulture, $"Logged channel '{title}' has {values[series].Length} values and {ticks.Length} times: the longer is cut."));
                var most = Math.Min(values[series].Length, ticks.Length);
                ColumnFor(observation, channel, series, StepOf(ticks, interval)).Blocks.Add((most == ticks.Length ? ticks : ticks[..most], values[series][..most]));
            }
        }
    }

    /// <summary>The logs, the one with most values first.</summary>
    /// <param name="areEnds">True when times are the ends of intervals.</param>
    /// <param name="warn">Receives what is met and put up with.</param>
    public ImmutableArray<PqdifLog> Complete(bool areEnds, Action<string> warn)
    {
        AdoptSingles();
        var groups = new List<Group>();
        foreach (var column in _columns)
        {
            var ticks = column.Flatten(warn);
            var step = column.Key.Step;
            var group = groups.Find(known => known.Source == column.Source && known.Step == step && (ReferenceEquals(known.Ticks, ticks) || known.Ticks.AsSpan().SequenceEqual(ticks)));
            if (group is null) groups.Add(group = new Group(column.Source, step, ticks));
            group.Columns.Add(column);
        }

        var logs = new List<(long Size, PqdifLog Log)>();
        foreach (var parts in groups.GroupBy(group => (group.Source, group.Step)))
        {
            foreach (var set in Joined([.. parts]))
            {
                var log = LogOf(set, areEnds, warn);
                logs.Add(((long)log.Count * log.Columns.Length, new PqdifLog(set[0].Source.Name ?? "", log)));
            }
        }

        return [.. logs.OrderByDescending(log => log.Size).Select(log => log.Log)];
    }

    private static double IntervalOf(PqdifObservation observation, PqdifChannel channel)
    {
        var series = channel.IndexOf(PqdifValueType.Interval);
        if (series < 0 || channel.Definition.Series[series].Units != PqdifUnit.Seconds || observation.TimesOf(channel) is not { } axis) return 0;
        var values = observation.ValuesOf(channel, series, axis);
        return values.Length > 0 && values[0] > 0 && Array.TrueForAll(values, value => value == values[0]) && values[0] < 1e9 ? values[0] : 0;
    }

    private static bool IsValue(PqdifChannel channel, int series, Action<string> note)
    {
        var type = channel.Definition.Series[series].ValueType;
        if (type == PqdifValueType.Time || type == PqdifValueType.Interval) return false;
        if (PqdifLogMapping.StatisticOf(type) is not null) return true;
        note($"Logged channel '{channel.Definition.Title}': a series {PqdifValueType.NameOf(type)} has no place in a log.");
        return false;
    }

    private static long[]? TicksOf(PqdifObservation observation, PqdifTimeAxis axis, int count)
    {
        var start = observation.Start?.Ticks ?? observation.UndatedTicks;
        var seconds = axis.Seconds(count);
        var ticks = new long[count];
        for (var index = 0; index < count; index++)
        {
            if (!(Math.Abs(seconds[index]) < 3.2e9)) return null;
            ticks[index] = start + (long)Math.Round(seconds[index] * TimeSpan.TicksPerSecond);
            if (ticks[index] < 0 || ticks[index] > DateTime.MaxValue.Ticks - (400 * TimeSpan.TicksPerDay)) return null;
        }

        return ticks;
    }

    // The usual step, to three digits; 0 when a single value has none.
    private static double StepOf(long[] ticks, double interval)
    {
        if (interval > 0) return interval;
        if (ticks.Length < 2) return 0;
        var steps = new long[ticks.Length - 1];
        for (var index = 0; index < steps.Length; index++) steps[index] = ticks[index + 1] - ticks[index];
        Array.Sort(steps);
        var step = steps[steps.Length / 2] / (double)TimeSpan.TicksPerSecond;
        if (!(step > 0)) return 0;
        var unit = Math.Pow(10, Math.Floor(Math.Log10(step)) - 2);
        return Math.Round(step / unit) * unit is var round && round >= 1 ? Math.Round(round, 3) : Math.Round(round, 6);
    }

    private Column ColumnFor(PqdifObservation observation, PqdifChannel channel, int series, double step)
    {
        var key = new Key(observation.Source.Index, channel.DefinitionIndex, series, channel.GroupId, channel.FrequencyHertz, step);
        if (_byKey.TryGetValue(key, out var known)) return known;
        var definition = channel.Definition;
        var order = channel.GroupId is > 0 and var group ? group
            : channel.FrequencyHertz is > 0 and var hertz && observation.NominalHertz is { } nominal
                && Math.Abs((hertz / nominal) - Math.Round(hertz / nominal)) < 0.01 ? (int)Math.Round(hertz / nominal) : 0;
        var title = definition.Title;
        var valueSeries = definition.Series.Count(one => one.ValueType != PqdifValueType.Time && one.ValueType != PqdifValueType.Interval);
        var name = definition.Series[series].Name ?? (valueSeries == 1 ? title : $"{title} {WordOf(definition.Series[series].ValueType)}");
        if (definition.Series[series].Name is null && order > 0) name = string.Create(CultureInfo.InvariantCulture, $"{name} h{order}");
        var (column, factor) = PqdifLogMapping.ColumnOf(definition, definition.Series[series], order, name);
        var made = new Column(key, observation.Source, column, factor, _columns.Count);
        _byKey.Add(key, made);
        _columns.Add(made);
        return made;
    }

    private static string WordOf(Guid valueType) => PqdifValueType.NameOf(valueType).Replace("ID_SERIES_VALUE_TYPE_", "", StringComparison.Ordinal).ToLowerInvariant();

    // Recorders that write one observation an interval have one value in each: a lone value takes the interval of its series elsewhere.
    private void AdoptSingles()
    {
        foreach (var single in _columns.Where(column => column.Key.Step == 0).ToList())
        {
            var others = _columns.Where(column => column.Key.Step > 0 && column.Key with { Step = 0 } == single.Key).ToList();
            if (others.Count != 1) continue;
            others[0].Blocks.AddRange(single.Blocks);
            _columns.Remove(single);
        }
    }

    // Columns of the same interval stand in one log where each of their times finds a row of its own.
    private static IEnumerable<List<Group>> Joined(List<Group> groups)
    {
        while (groups.Count > 0)
        {
            var set = new List<Group> { groups[0] };
            groups.RemoveAt(0);
            for (var index = 0; index < groups.Count;)
            {
                if (groups[index].Step > 0 && RowsOf([.. set, groups[index]]) is not null)
                {
                    set.Add(groups[index]);
                    groups.RemoveAt(index);
                }
                else
                {
                    index++;
                }
            }

            yield return set;
        }
    }

    private static long[]? RowsOf(List<Group> set)
    {
        if (set.Count == 1) return set[0].Ticks;
        var tolerance = (long)(RowTolerance * set[0].Step * TimeSpan.TicksPerSecond);
        var all = set.SelectMany(group => group.Ticks).Distinct().ToArray();
        Array.Sort(all);
        var rows = new List<long>();
        foreach (var ticks in all)
        {
            if (rows.Count == 0 || ticks - rows[^1] > tolerance) rows.Add(ticks);
        }

        foreach (var group in set)
        {
            for (var (row, index) = (-1, 0); index < group.Ticks.Length; index++)
            {
                var next = RowOf(rows, group.Ticks[index]);
                if (next == row) return null;
                row = next;
            }
        }

        return [.. rows];
    }

    private static int RowOf(List<long> rows, long ticks) => rows.BinarySearch(ticks) is >= 0 and var exact ? exact : ~rows.BinarySearch(ticks) - 1;

    private static IntervalLog LogOf(List<Group> set, bool areEnds, Action<string> warn)
    {
        var starts = RowsOf(set)!;
        var rows = starts.ToList();
        var columns = set.SelectMany(group => group.Columns.Select(column => (Column: column, group.Ticks))).OrderBy(pair => pair.Column.Order).ToList();
        var values = columns.Select(pair =>
        {
            if (ReferenceEquals(pair.Ticks, starts)) return pair.Column.Values;
            var spread = new double[rows.Count];
            Array.Fill(spread, double.NaN);
            for (var index = 0; index < pair.Ticks.Length; index++) spread[RowOf(rows, pair.Ticks[index])] = pair.Column.Values[index];
            return spread;
        }).ToArray();
        var step = set[0].Step > 0 ? set[0].Step : StepOf(starts, 0);
        if (step == 0)
        {
            step = 1;
            warn($"Logged channel '{columns[0].Column.Log.Name}' has a single value and no interval: one second is taken.");
        }

        var shift = areEnds ? (long)Math.Round(step * TimeSpan.TicksPerSecond) : 0;
        if (areEnds && starts.Length > 0 && starts[0] >= shift) starts = [.. starts.Select(ticks => ticks - shift)];
        return new IntervalLog([.. columns.Select(pair => pair.Column.Log)], starts, values, step);
    }

    private sealed record Key(int Source, uint Definition, int Series, int? Group, double? Frequency, double Step);

    private sealed class Group(PqdifDataSource source, double step, long[] ticks)
    {
        public PqdifDataSource Source { get; } = source;

        public double Step { get; } = step;

        public long[] Ticks { get; } = ticks;

        public List<Column> Columns { get; } = [];
    }

    private sealed class Column(Key key, PqdifDataSource source, LogColumn log, double factor, int order)
    {
        public Key Key { get; } = key;

        public PqdifDataSource Source { get; } = source;

        public LogColumn Log { get; } = log;

        public int Order { get; } = order;

        public List<(long[] Ticks, double[] Values)> Blocks { get; } = [];

        public double[] Values { get; private set; } = [];

        /// <summary>Puts the blocks in order of time; returns the times.</summary>
        public long[] Flatten(Action<string> warn)
        {
            var blocks = Blocks.OrderBy(block => block.Ticks.Length == 0 ? 0 : block.Ticks[0]).ToList();
            var ticks = blocks.Count == 1 ? blocks[0].Ticks : [.. blocks.SelectMany(block => block.Ticks)];
            var values = blocks.Count == 1 ? blocks[0].Values : [.. blocks.SelectMany(block => block.Values)];
            Blocks.Clear();
            if (!IsRising(ticks))
            {
                var order = Enumerable.Range(0, ticks.Length).OrderBy(index => ticks[index]).ToArray();
                var kept = order.Where((index, at) => at == 0 || ticks[index] != ticks[order[at - 1]]).ToArray();
                if (kept.Length < order.Length)
                    warn(string.Create(CultureInfo.InvariantCulture, $"Logged channel '{Log.Name}': {order.Length - kept.Length} values have a time that another one has; the first is kept."));
                (ticks, values) = ([.. kept.Select(index => ticks[index])], [.. kept.Select(index => values[index])]);
            }

            if (factor != 1) values = [.. values.Select(value => value * factor)];
            Values = values;
            return ticks;
        }

        private static bool IsRising(long[] ticks)
        {
            for (var index = 1; index < ticks.Length; index++)
            {
                if (ticks[index] <= ticks[index - 1]) return false;
            }

            return true;
        }
    }
}
