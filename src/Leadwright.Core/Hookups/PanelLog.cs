using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Hookups;

/// <summary>Reads a stretch of a log as readings for the check: one hook-up is supposed for the whole stretch.</summary>
public static class PanelLog
{
    private const double Live = 0.2;
    private const double Whole = 0.8;
    private static readonly LogPlace[] s_phases = [LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3];
    private static readonly LogPlace[] s_pairs = [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];

    /// <summary>Reads a stretch.</summary>
    /// <param name="log">The log.</param>
    /// <param name="from">First row.</param>
    /// <param name="count">Number of rows.</param>
    /// <param name="service">The service as stated.</param>
    /// <param name="nominal">Nominal voltages; null when not stated.</param>
    /// <returns>Means over the intervals in which the supply was there, with the changes from interval to interval; null when no row has a
    /// voltage or a current.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The rows are not in the log.</exception>
    public static PanelReadings? Read(IntervalLog log, int from, int count, ServiceKind service, NominalVoltage? nominal)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentOutOfRangeException.ThrowIfNegative(from);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(from + count, log.Count);
        var series = PanelSeries.Of(log, service);
        if (series.Channels.IsEmpty) return null;
        var rows = SuppliedRows(series, from, count);
        if (rows.Length == 0) return null;
        var channels = ImmutableSortedDictionary.CreateBuilder<Channel, ChannelReading>();
        foreach (var (channel, values) in series.Channels)
        {
            var rms = MeanOf(values, rows);
            if (double.IsNaN(rms)) continue;
            double? angle = series.AngleOf(channel, rows) is { } degrees && double.IsFinite(degrees) ? degrees : null;
            channels[channel] = new ChannelReading(rms, angle);
        }

        if (channels.Count == 0) return null;
        var phases = ImmutableSortedDictionary.CreateBuilder<int, PhasePower>();
        for (var phase = 0; phase < 3; phase++)
        {
            var power = new PhasePower(
                NullIfMissing(series.Watts[phase], rows), NullIfMissing(series.Vars[phase], rows), NullIfMissing(series.VoltAmperes[phase], rows),
                series.Watts[phase] is null ? NullIfMissing(series.Factors[phase], rows) : null);
            if (power != default) phases[phase + 1] = power;
        }

        return new PanelReadings
        {
            Service = service,
            Nominal = nominal,
            Channels = channels.ToImmutable(),
            Phases = phases.ToImmutable(),
            Logged = LoggedChangeFinder.Find(series, rows, log.IntervalSeconds, log.Starts.Span, log.IntervalTicks),
        };
    }

    /// <summary>The rows in which the supply was there: every voltage that is alive at all near its usual value.</summary>
    private static int[] SuppliedRows(PanelSeries series, int from, int count)
    {
        var voltages = series.Channels.Where(entry => entry.Key <= Channel.V31).Select(entry => entry.Value).ToArray();
        var usual = Array.ConvertAll(voltages, values => Usual(values, from, count));
        var largest = usual.Length == 0 ? 0 : usual.Max();
        var rows = new List<int>(count);
        for (var row = from; row < from + count; row++)
        {
            var supplied = true;
            for (var channel = 0; channel < voltages.Length && supplied; channel++)
            {
                if (usual[channel] < Live * largest) continue;
                supplied = voltages[channel][row] >= Whole * usual[channel];
            }

            if (supplied && series.Channels.Any(entry => double.IsFinite(entry.Value[row]))) rows.Add(row);
        }

        return [.. rows];
    }

    /// <summary>The value that nine in ten rows do not exceed; 0 when there is none.</summary>
    private static double Usual(double[] values, int from, int count)
    {
        var sorted = values.AsSpan(from, count).ToArray().Where(double.IsFinite).Order().ToArray();
        return sorted.Length == 0 ? 0 : sorted[(int)(0.9 * (sorted.Length - 1))];
    }

    private static double MeanOf(double[] values, int[] rows)
    {
        double sum = 0;
        var count = 0;
        foreach (var row in rows)
        {
            if (!double.IsFinite(values[row])) continue;
            sum += values[row];
            count++;
        }

        return count == 0 ? double.NaN : sum / count;
    }

    private static double? NullIfMissing(double[]? values, int[] rows) =>
        values is not null && MeanOf(values, rows) is var mean && double.IsFinite(mean) ? mean : null;

    /// <summary>The series of a log by what they are connected to.</summary>
    internal sealed record PanelSeries(
        ImmutableSortedDictionary<Channel, double[]> Channels, ImmutableSortedDictionary<Channel, double[]> Angles,
        double[]?[] Watts, double[]?[] Vars, double[]?[] VoltAmperes, double[]?[] Factors)
    {
        public static PanelSeries Of(IntervalLog log, ServiceKind service)
        {
            var channels = ImmutableSortedDictionary.CreateBuilder<Channel, double[]>();
            var angles = ImmutableSortedDictionary.CreateBuilder<Channel, double[]>();
            var (watts, vars, apparent, factors) = (new double[3][], new double[3][], new double[3][], new double[3][]);
            // On a two-wire service what is not said to be a phase's is that of the only one.
            LogPlace PlaceOf(LogPlace place, LogQuantity quantity) =>
                service == ServiceKind.Single && place == LogPlace.Phase1 && log.IndexOf(quantity, place) < 0 ? LogPlace.Whole : place;
            void Take(ImmutableSortedDictionary<Channel, double[]>.Builder into, Channel channel, LogQuantity quantity, LogPlace place)
            {
                if (log.IndexOf(quantity, PlaceOf(place, quantity)) is >= 0 and var index) into[channel] = log.Values(index).ToArray();
            }

            for (var phase = 0; phase < 3; phase++)
            {
                var place = s_phases[phase];
                Take(channels, Channel.V1 + phase, LogQuantity.Voltage, place);
                Take(channels, Channel.V12 + phase, LogQuantity.Voltage, s_pairs[phase]);
                Take(channels, Channel.I1 + phase, LogQuantity.Current, place);
                Take(angles, Channel.V1 + phase, LogQuantity.VoltageAngle, place);
                Take(angles, Channel.V12 + phase, LogQuantity.VoltageAngle, s_pairs[phase]);
                Take(angles, Channel.I1 + phase, LogQuantity.CurrentAngle, place);
                watts[phase] = LogSeries.ActivePower(log, PlaceOf(place, LogQuantity.ActivePower))!;
                vars[phase] = LogSeries.ReactivePower(log, PlaceOf(place, LogQuantity.ReactivePower))!;
                if (log.IndexOf(LogQuantity.ApparentPower, PlaceOf(place, LogQuantity.ApparentPower)) is >= 0 and var va) apparent[phase] = log.Values(va).ToArray();
                if (log.IndexOf(LogQuantity.PowerFactor, PlaceOf(place, LogQuantity.PowerFactor)) is >= 0 and var pf) factors[phase] = log.Values(pf).ToArray();
                if (service == ServiceKind.Single) break;
            }

            // The second element of a two-clamp recorder is written as phase 2 by some.
            if (service == ServiceKind.DeltaTwoClamp) (watts[2], vars[2]) = (watts[2] ?? watts[1], vars[2] ?? vars[1]);
            Take(channels, Channel.IN, LogQuantity.Current, LogPlace.Neutral);
            return new PanelSeries(channels.ToImmutable(), angles.ToImmutable(), watts, vars, apparent, factors);
        }

        /// <summary>Mean direction of a channel, degrees; null when the log has no angles of it.</summary>
        public double? AngleOf(Channel channel, int[] rows)
        {
            if (!Angles.TryGetValue(channel, out var degrees)) return null;
            var sum = Phasor.Zero;
            foreach (var row in rows)
            {
                if (double.IsFinite(degrees[row])) sum += Phasor.FromDegrees(1, degrees[row]);
            }

            return sum.Magnitude > 0.5 ? sum.AngleDegrees : null;
        }
    }
}
