using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using FsCheck.Xunit;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Logs;

public sealed class LogWriterTests
{
    [Fact]
    public void Every_quantity_reads_back_as_what_it_was_written()
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        foreach (var quantity in Enum.GetValues<LogQuantity>().Where(quantity => quantity != LogQuantity.Other))
        {
            foreach (var place in PlacesOf(quantity))
            {
                foreach (var statistic in StatisticsOf(quantity))
                {
                    var isHarmonic = quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic;
                    columns.Add(new LogColumn("x", quantity, place, statistic) { Order = isHarmonic ? 5 : 0 });
                    if (quantity is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy) columns.Add(new LogColumn("x", quantity, place, statistic) { IsExport = true });
                }
            }
        }

        columns.Add(new LogColumn("Oil temperature", LogQuantity.Other) { OtherUnit = "°C" });
        var names = columns.Select(LogNames.Of).ToList();
        Assert.Equal(names.Count, names.Distinct(StringComparer.Ordinal).Count());
        var log = Log(columns.ToImmutable(), 40, 60, (column, row) => 0.5 + (0.001 * ((column * 7) + (row % 5))));

        var read = ReadLog.Of(new InputFile("log.csv", Csv(log))).Log;

        Assert.Equal(columns.Select(column => column with { Name = LogNames.Of(column) }), read.Columns);
        Assert.Equal(log.Starts.ToArray(), read.Starts.ToArray());
        for (var column = 0; column < columns.Count; column++) Assert.Equal(log.Values(column).ToArray(), read.Values(column).ToArray());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_log_without_a_date_is_written_with_the_time_since_its_start_and_reads_back_the_same(bool isParquet)
    {
        var log = new IntervalLog(
            [new LogColumn("a", LogQuantity.Voltage, LogPlace.Phase1)], [.. Enumerable.Range(0, 30).Select(row => row * 15 * TimeSpan.TicksPerMinute)], [[.. Enumerable.Range(0, 30).Select(row => 230.0 + row)]], 900);
        using var stream = new MemoryStream();
        if (isParquet) await LogWriter.WriteParquetAsync(log, stream, cancellation: TestContext.Current.CancellationToken);
        else await LogWriter.WriteCsvAsync(log, stream, cancellation: TestContext.Current.CancellationToken);
        if (!isParquet) Assert.StartsWith("elapsed (s),V1_rms_V\n0,230\n900,231\n", Encoding.UTF8.GetString(stream.ToArray()).Replace("\r\n", "\n", StringComparison.Ordinal), StringComparison.Ordinal);

        var file = ReadLog.Of(new InputFile("log", stream.ToArray()));
        Assert.Equal(log.Starts.ToArray(), file.Log.Starts.ToArray());
        Assert.Equal(log.Values(0).ToArray(), file.Log.Values(0).ToArray());
        Assert.Contains(LogQuestions.Start, file.Questions);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void What_is_written_reads_back_and_writes_the_same(bool isParquet)
    {
        var columns = ImmutableArray.Create(
            new LogColumn("a", LogQuantity.Voltage, LogPlace.Phase1), new LogColumn("b", LogQuantity.Voltage, LogPlace.Phase1, LogStatistic.Minimum),
            new LogColumn("c", LogQuantity.ActivePower, LogPlace.Whole), new LogColumn("d", LogQuantity.PowerFactor, LogPlace.Phase2),
            new LogColumn("e", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter), new LogColumn("Door", LogQuantity.Other));
        var log = Log(columns, 500, 600, (column, row) => (row + column) % 17 == 3 ? double.NaN : Math.Sin(row + column) * 1000);
        var words = Enumerable.Range(0, 500).Select(row => (Standing)(row % 4)).ToArray();
        var standings = new Dictionary<int, ReadOnlyMemory<Standing>> { [0] = words, [3] = words };

        var first = isParquet ? Parquet(log, standings) : Csv(log, standings);
        var read = ReadLog.Of(new InputFile("log", first));
        var second = isParquet ? Parquet(read.Log, read.Standings) : Csv(read.Log, read.Standings);

        Assert.Equal(first, second);
        Assert.Equal([0, 3], read.Standings.Keys.Order());
        Assert.Equal(words, read.Standings[3].ToArray());
        Assert.Equal(log.IntervalSeconds, read.Log.IntervalSeconds);
        for (var column = 0; column < columns.Length; column++) Assert.Equal(log.Values(column).ToArray(), read.Log.Values(column).ToArray());
        Assert.DoesNotContain(read.Questions, question => question.Contains("interval", StringComparison.Ordinal));
    }

    [Fact]
    public void Names_bear_quantity_place_statistic_and_unit() => Assert.Equal(
        ["V1_rms_V", "V12_max_V", "IN_rms_A", "P_W", "Q3_min_var", "PF2", "frequency_Hz", "energy_L1_export_counter_Wh", "V1_h5_percent", "u2_percent", "V1_rms_standing", "PF2_standing"],
        new[]
        {
            LogNames.Of(new("", LogQuantity.Voltage, LogPlace.Phase1)), LogNames.Of(new("", LogQuantity.Voltage, LogPlace.Pair12, LogStatistic.Maximum)),
            LogNames.Of(new("", LogQuantity.Current, LogPlace.Neutral)), LogNames.Of(new("", LogQuantity.ActivePower)),
            LogNames.Of(new("", LogQuantity.ReactivePower, LogPlace.Phase3, LogStatistic.Minimum)), LogNames.Of(new("", LogQuantity.PowerFactor, LogPlace.Phase2)),
            LogNames.Of(new("", LogQuantity.Frequency)), LogNames.Of(new("", LogQuantity.ActiveEnergy, LogPlace.Phase1, LogStatistic.Counter) { IsExport = true }),
            LogNames.Of(new("", LogQuantity.VoltageHarmonic, LogPlace.Phase1) { Order = 5 }), LogNames.Of(new("", LogQuantity.VoltageUnbalance)),
            LogNames.StandingOf("V1_rms_V"), LogNames.StandingOf("PF2"),
        });

    [Property(MaxTest = 150)]
    public void A_log_written_in_any_dialect_reads_back_the_same(int seed)
    {
        var random = new Random(seed);
        var dialect = new Dialect(random);
        var (log, headings) = RandomLog(random, dialect);
        var bytes = dialect.Write(log, headings);

        var read = ReadLog.Of(new InputFile("log.txt", bytes), new LogReadOptions { DateOrder = dialect.Order, Stamps = StampPlace.Start });

        Assert.True(log.Columns.Select(Key).SequenceEqual(read.Log.Columns.Select(Key)), $"seed {seed}: {string.Join("; ", read.Log.Columns)}\n{Encoding.UTF8.GetString(bytes)[..400]}");
        Assert.Equal(log.IntervalSeconds, read.Log.IntervalSeconds);
        Assert.Equal(log.Starts.ToArray(), read.Log.Starts.ToArray());
        for (var column = 0; column < log.Columns.Length; column++)
        {
            var expected = log.Values(column);
            var actual = read.Log.Values(column);
            for (var row = 0; row < log.Count; row++)
                Assert.True(expected[row].Equals(actual[row]) || Math.Abs(expected[row] - actual[row]) <= 1e-9 * Math.Abs(expected[row]), $"seed {seed}, column {column}, row {row}: {expected[row]} and {actual[row]}");
        }
    }

    private static (LogQuantity Quantity, LogPlace Place, LogStatistic Statistic) Key(LogColumn column) => (column.Quantity, column.Place, column.Statistic);

    private static (IntervalLog Log, List<(string Name, string Unit)> Headings) RandomLog(Random random, Dialect dialect)
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var headings = new List<(string, string)>();
        var scales = new List<double>();
        foreach (var (quantity, word, unit) in dialect.Words)
        {
            for (var phase = 1; phase <= 3; phase++)
            {
                foreach (var (statistic, said) in dialect.Statistics)
                {
                    if (random.Next(3) == 0) continue;
                    columns.Add(new LogColumn("", quantity, LogPlace.Phase1 + phase - 1, statistic));
                    headings.Add(($"{word} L{phase} {said}", unit));
                    scales.Add(quantity switch { LogQuantity.Voltage => 230, LogQuantity.Current => 40, _ => 9000 });
                }
            }
        }

        if (columns.Count == 0)
        {
            columns.Add(new LogColumn("", LogQuantity.Voltage, LogPlace.Phase1));
            headings.Add((dialect.Words[0].Word + " L1", "V"));
            scales.Add(230);
        }

        var count = random.Next(12, 200);
        var seconds = (int[])[1, 5, 60, 300, 600, 900, 1800, 3600];
        var interval = seconds[random.Next(seconds.Length)];
        // Not in a month in which clocks change, where an hour's gap may be none.
        var at = new DateTime(random.Next(2005, 2035), random.Next(5, 9), random.Next(1, 29), random.Next(24), 0, 0);
        var starts = new long[count];
        for (var row = 0; row < count; row++)
        {
            starts[row] = at.Ticks;
            at = at.AddSeconds(random.Next(20) == 0 ? interval * random.Next(2, 9) : interval);
        }

        var values = scales.Select(scale => Enumerable.Range(0, count)
            .Select(_ => random.Next(25) == 0 ? double.NaN : Math.Round(scale * (0.9 + (0.2 * random.NextDouble())), 2)).ToArray()).ToArray();
        return (new IntervalLog(columns.ToImmutable(), starts, values, interval), headings);
    }

    private static LogPlace[] PlacesOf(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Frequency or LogQuantity.VoltageUnbalance or LogQuantity.CurrentUnbalance or LogQuantity.ZeroSequenceUnbalance => [LogPlace.Whole],
        LogQuantity.Voltage => Enum.GetValues<LogPlace>(),
        LogQuantity.Current or LogQuantity.CurrentAngle or LogQuantity.CurrentDistortion or LogQuantity.CurrentHarmonic => [LogPlace.Phase1, LogPlace.Phase3, LogPlace.Neutral],
        _ => [LogPlace.Whole, LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3],
    };

    private static LogStatistic[] StatisticsOf(LogQuantity quantity) => quantity is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy or LogQuantity.ApparentEnergy
        ? [LogStatistic.Amount, LogStatistic.Counter]
        : [LogStatistic.Mean, LogStatistic.Minimum, LogStatistic.Maximum, LogStatistic.Instant];

    private static IntervalLog Log(ImmutableArray<LogColumn> columns, int count, int seconds, Func<int, int, double> value)
    {
        var start = new DateTime(2026, 6, 1, 0, 0, 0, DateTimeKind.Unspecified);
        return new IntervalLog(
            columns, [.. Enumerable.Range(0, count).Select(row => start.AddSeconds((double)seconds * (row + (row > 10 ? 2 : 0))).Ticks)],
            [.. Enumerable.Range(0, columns.Length).Select(column => Enumerable.Range(0, count).Select(row => value(column, row)).ToArray())], seconds);
    }

    private static byte[] Csv(IntervalLog log, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings = null)
    {
        using var stream = new MemoryStream();
        LogWriter.WriteCsvAsync(log, stream, standings).GetAwaiter().GetResult();
        return stream.ToArray();
    }

    private static byte[] Parquet(IntervalLog log, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>>? standings)
    {
        using var stream = new MemoryStream();
        LogWriter.WriteParquetAsync(log, stream, standings).GetAwaiter().GetResult();
        return stream.ToArray();
    }

    /// <summary>A way to write a table, drawn by chance.</summary>
    private sealed class Dialect
    {
        private static readonly (LogQuantity, string, string)[][] s_languages =
        [
            [(LogQuantity.Voltage, "Voltage", "V"), (LogQuantity.Current, "Current", "A"), (LogQuantity.ActivePower, "Active power", "kW")],
            [(LogQuantity.Voltage, "Spannung", "V"), (LogQuantity.Current, "Strom", "A"), (LogQuantity.ActivePower, "Wirkleistung", "W"), (LogQuantity.ReactivePower, "Blindleistung", "var")],
            [(LogQuantity.Voltage, "Tension", "V"), (LogQuantity.Current, "Courant", "A"), (LogQuantity.ApparentPower, "Puissance apparente", "kVA")],
            [(LogQuantity.Voltage, "Tensión", "V"), (LogQuantity.Current, "Corriente", "A"), (LogQuantity.ReactivePower, "Potencia reactiva", "kvar")],
            [(LogQuantity.Voltage, "Tensione", "V"), (LogQuantity.Current, "Corrente", "A"), (LogQuantity.ActivePower, "Potenza attiva", "W")],
            [(LogQuantity.Voltage, "Spanning", "V"), (LogQuantity.Current, "Stroom", "A"), (LogQuantity.ActivePower, "Actief vermogen", "W")],
            [(LogQuantity.Voltage, "Tensão", "V"), (LogQuantity.Current, "Corrente", "A"), (LogQuantity.ActivePower, "Potência ativa", "kW")],
        ];

        private static readonly string[][] s_statistics = [["", "min", "max"], ["avg", "min.", "max."], ["Mittelwert", "Minimum", "Maximum"], ["moy", "min", "max"], ["Media", "Mín", "Máx"]];
        private static readonly (DateOrder Order, string Format)[] s_dates =
        [
            (DateOrder.DayMonthYear, "dd.MM.yyyy"), (DateOrder.DayMonthYear, "d/M/yyyy"), (DateOrder.MonthDayYear, "M/d/yyyy"), (DateOrder.MonthDayYear, "MM/dd/yy"),
            (DateOrder.YearMonthDay, "yyyy-MM-dd"), (DateOrder.YearMonthDay, "yyyy/MM/dd"), (DateOrder.DayMonthYear, "dd-MMM-yyyy"), (DateOrder.DayMonthYear, "dd-MM-yy"),
        ];

        private readonly char _separator;
        private readonly char _decimal;
        private readonly string _date;
        private readonly string _time;
        private readonly bool _isSplit;
        private readonly int _unitStyle;
        private readonly string _newLine;
        private readonly string _missing;
        private readonly bool _hasPreamble;
        private readonly Encoding _encoding;

        public Dialect(Random random)
        {
            Words = s_languages[random.Next(s_languages.Length)];
            var said = s_statistics[random.Next(s_statistics.Length)];
            Statistics = [(LogStatistic.Mean, said[0]), (LogStatistic.Minimum, said[1]), (LogStatistic.Maximum, said[2])];
            _separator = ";\t|,"[random.Next(4)];
            _decimal = _separator == ',' ? '.' : ".,"[random.Next(2)];
            (Order, _date) = s_dates[random.Next(s_dates.Length)];
            _time = random.Next(2) == 0 ? "HH:mm:ss" : "hh:mm:ss tt";
            _isSplit = random.Next(2) == 0;
            _unitStyle = random.Next(3);
            _newLine = random.Next(2) == 0 ? "\n" : "\r\n";
            _missing = ((string[])["", "-", "---", "NaN", "n/a", "OL"])[random.Next(6)];
            _hasPreamble = random.Next(2) == 0;
            _encoding = ((Encoding[])[new UTF8Encoding(false), new UTF8Encoding(true), new UnicodeEncoding(false, true), Encoding.Latin1])[random.Next(4)];
        }

        public DateOrder Order { get; }

        public (LogQuantity Quantity, string Word, string Unit)[] Words { get; }

        public (LogStatistic Statistic, string Said)[] Statistics { get; }

        public byte[] Write(IntervalLog log, List<(string Name, string Unit)> headings)
        {
            var text = new StringBuilder();
            if (_hasPreamble) text.Append("Invented recorder").Append(_newLine).Append("Number").Append(_separator).Append("17").Append(_newLine).Append(_newLine);
            string[] time = _isSplit ? ["Date", "Time"] : ["Time"];
            var units = headings.Select(heading => heading.Unit).ToList();
            text.AppendJoin(_separator, time.Concat(headings.Select(heading => _unitStyle switch { 0 => $"{heading.Name} [{heading.Unit}]", 1 => $"{heading.Name} ({heading.Unit})", _ => heading.Name }))).Append(_newLine);
            if (_unitStyle == 2) text.AppendJoin(_separator, time.Select(_ => "").Concat(units)).Append(_newLine);
            for (var row = 0; row < log.Count; row++)
            {
                var at = new DateTime(log.Starts.Span[row]);
                text.Append(at.ToString(_date, CultureInfo.InvariantCulture)).Append(_isSplit ? _separator : ' ').Append(at.ToString(_time, CultureInfo.InvariantCulture));
                for (var column = 0; column < log.Columns.Length; column++)
                {
                    var value = log.Values(column)[row] / (units[column][0] == 'k' ? 1000 : 1);
                    text.Append(_separator).Append(double.IsNaN(value) ? _missing : value.ToString("0.######", CultureInfo.InvariantCulture).Replace('.', _decimal));
                }

                text.Append(_newLine);
            }

            return [.. _encoding.Preamble, .. _encoding.GetBytes(text.ToString())];
        }
    }
}
