using System.Collections.Immutable;
using FsCheck;
using FsCheck.Fluent;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Tests.Pqdif;

/// <summary>Recordings and logs with anything that the product may hand to a writer.</summary>
public static class AnyPqdif
{
    private static readonly string[] s_names = ["Va", "Ia", "", " bus 1 Ub ", "Zähler \U0001F50C", "a,b", "Ia\0x", "3I0"];

    public static Arbitrary<SampledRecording> Recordings() => Arb.From(
        from lengths in Gen.ListOf(Gen.Choose(1, 40)).Select(list => list.Take(4).DefaultIfEmpty(3).ToList())
        from rates in Gen.ListOf(Gen.Elements(400.0, 1000, 2394.9, 10240, 12800, 15360, 100000 / 3.0, 44100), lengths.Count)
        from gaps in Gen.ListOf(Gen.Elements(0.0, 0.0, 0.4, 17), lengths.Count)
        from first in Gen.Elements(0.0, 0.0725)
        from channels in Gen.ListOf(Channel(lengths.Sum()), 3)
        from count in Gen.Choose(1, 3)
        from frequency in Gen.Elements<double?>(null, 50, 60, 16.7)
        from start in Gen.Elements<DateTime?>(null, new DateTime(2026, 3, 2, 10, 0, 0, 250), new DateTime(2026, 12, 31, 23, 59, 59, 999).AddTicks(9999), new DateTime(1999, 1, 1))
        select new SampledRecording([.. channels.Take(count)], Segments(lengths, [.. rates], [.. gaps], first), frequency, start));

    public static Arbitrary<IntervalLog> Logs() => Arb.From(
        from rows in Gen.Choose(1, 30)
        from interval in Gen.Elements(1.0, 0.2, 3, 60, 600, 900, 3600)
        from skips in Gen.ListOf(Gen.Frequency((8, Gen.Constant(1)), (1, Gen.Choose(2, 50))), rows)
        from columns in Gen.ListOf(Column()).Select(list => list.Take(12).ToList())
        from values in Gen.ListOf(Gen.ArrayOf(Value(), rows), Math.Max(columns.Count, 1))
        from start in Gen.Elements(new DateTime(2026, 3, 29, 1, 50, 0), new DateTime(2026, 3, 2, 10, 3, 27, 123), new DateTime(1, 1, 1))
        let kept = columns.Count == 0 ? [new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)] : columns
        select new IntervalLog(
            [.. kept.Select((column, index) => column with { Name = $"{column.Name}{index}" })], Starts(start, skips, interval), [.. values.Take(kept.Count)], interval));

    private static long[] Starts(DateTime start, IEnumerable<int> skips, double interval)
    {
        var at = start.Ticks;
        return [.. skips.Select(skip => at += (long)Math.Round(skip * interval * TimeSpan.TicksPerSecond))];
    }

    private static ImmutableArray<RateSegment> Segments(List<int> lengths, double[] rates, double[] gaps, double first)
    {
        var segments = ImmutableArray.CreateBuilder<RateSegment>();
        var (at, seconds) = (0, first);
        for (var index = 0; index < lengths.Count; index++)
        {
            // Rates of one recording are near each other where a gap lies between; else they may be any.
            var rate = index > 0 && gaps[index - 1] > 0 ? segments[index - 1].RateHertz : rates[index];
            segments.Add(new RateSegment(at, lengths[index], rate, seconds));
            at += lengths[index];
            seconds += (lengths[index] / rate) + gaps[index];
        }

        return segments.ToImmutable();
    }

    private static Gen<SampledChannel> Channel(int length) =>
        from name in Gen.Elements(s_names)
        from phase in Gen.Elements("A", "B", "L1", "N", "AB", "", "feeder 7", "bc")
        from unit in Gen.Elements("V", "kV", "A", "mA", "", "degC", "furlongs", "ms", "W")
        from skew in Gen.Elements(0.0, 0.0, 5e-6)
        from samples in Gen.ArrayOf(Value(), length)
        select new SampledChannel(name, phase, unit, samples) { SkewSeconds = skew };

    private static Gen<LogColumn> Column() =>
        from quantity in Gen.Elements(Enum.GetValues<LogQuantity>())
        from place in Gen.Elements(Enum.GetValues<LogPlace>())
        from statistic in Gen.Elements(Enum.GetValues<LogStatistic>())
        from order in Gen.Elements(0, 0, 1, 5, 49)
        from isExport in Gen.Elements(false, false, true)
        from unit in Gen.Elements("", "V", "°C", "degC", "furlongs")
        from name in Gen.Elements(s_names)
        select new LogColumn(name, quantity, place, statistic) { Order = order, IsExport = isExport, OtherUnit = quantity == LogQuantity.Other ? unit : "" };

    private static Gen<double> Value() => Gen.Frequency(
        (6, Gen.Choose(-100000, 100000).Select(value => value / 64.0)),
        (3, ArbMap.Default.GeneratorFor<NormalFloat>().Select(value => value.Get)),
        (1, Gen.Constant(double.NaN)));
}
