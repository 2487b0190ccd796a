using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Hookups;

/// <summary>Voltages that usually read far from what the stated nominal voltage makes for their channels, without any of them being lost.</summary>
/// <param name="Channels">The channels that were read, all of one kind.</param>
/// <param name="ReadVolts">What they usually read, the middle of them, volts.</param>
/// <param name="ExpectedVolts">What the stated nominal voltage makes for them, volts.</param>
/// <param name="Service">The service as stated or as the columns look.</param>
/// <param name="Stated">What was stated.</param>
/// <param name="Nearest">The usual nominal voltage that fits what was read; null when none does.</param>
public sealed record NominalMisfit(ImmutableArray<Channel> Channels, double ReadVolts, double ExpectedVolts, ServiceKind Service, NominalVoltage Stated, NominalVoltage? Nearest)
{
    // No supply is left so far from its nominal voltage (EN 50160: 10 %, 15 % below at the end of a long line; from memory).
    private const double Far = 0.15;
    private const double NearUsual = 0.03;
    private const double NearestUsual = 0.08;
    private const double AsStated = 0.10;
    private const double Alike = 0.08;
    private const double Live = 0.2;
    private const double LeastVolts = 20;
    private const double NearRatio = 0.05;
    private const int MostRows = 5000;

    /// <summary>Read over expected.</summary>
    public double Ratio => ReadVolts / ExpectedVolts;

    /// <summary>True where they are voltages from line to line.</summary>
    public bool ArePairs => Channels[0] >= Channel.V12;

    /// <summary>What is told by the ratio.</summary>
    public NominalMisfitCause Cause
    {
        get
        {
            var line = Service == ServiceKind.Single && Math.Abs(Math.Abs(Math.Log(Ratio)) - Math.Log(2)) < NearRatio ? 2 : Service == ServiceKind.Single ? Math.Sqrt(3) : NominalVoltage.LineRatio(Service);
            var over = Math.Log(Ratio);
            if (Math.Abs(over - Math.Log(line)) < NearRatio) return NominalMisfitCause.LineRatioAbove;
            if (Math.Abs(over + Math.Log(line)) < NearRatio) return NominalMisfitCause.LineRatioBelow;
            return Ratio is < 0.1 or > 10 ? NominalMisfitCause.Transformer : NominalMisfitCause.Open;
        }
    }

    /// <summary>Holds a log's voltages against the stated nominal voltage.</summary>
    /// <param name="log">The log.</param>
    /// <param name="service">The service as stated or as the columns look.</param>
    /// <param name="stated">The nominal voltage; null when none was stated.</param>
    /// <returns>Null when they fit, or can't be held against it.</returns>
    public static NominalMisfit? Find(IntervalLog log, ServiceKind service, NominalVoltage? stated)
    {
        ArgumentNullException.ThrowIfNull(log);
        if (stated is null) return null;
        var usual = new Dictionary<Channel, double>();
        for (var line = 0; line < 3; line++)
        {
            Take(Channel.V1 + line, LogPlace.Phase1 + line);
            Take(Channel.V12 + line, LogPlace.Pair12 + line);
        }

        if (service == ServiceKind.Single && !usual.ContainsKey(Channel.V1)) Take(Channel.V1, LogPlace.Whole);
        return Find(usual, service, stated);

        void Take(Channel channel, LogPlace place)
        {
            if (log.IndexOf(LogQuantity.Voltage, place) is >= 0 and var column && UsualOf(log.Values(column)) is var volts && volts > 0) usual[channel] = volts;
        }
    }

    /// <summary>Holds what voltages usually read against the stated nominal voltage.</summary>
    /// <param name="usual">What each channel usually reads while the supply is there, volts; other channels are passed over.</param>
    /// <param name="service">The service.</param>
    /// <param name="stated">The nominal voltage; null when none was stated.</param>
    /// <returns>Null when they fit, or can't be held against it.</returns>
    public static NominalMisfit? Find(IReadOnlyDictionary<Channel, double> usual, ServiceKind service, NominalVoltage? stated)
    {
        ArgumentNullException.ThrowIfNull(usual);
        if (stated is null) return null;
        var pairs = Of(Channel.V12, stated.LineToLineVolts);
        var phases = Of(Channel.V1, stated.LineToNeutralVolts);
        return phases.Length > 0 ? Judge(phases, stated.LineToNeutralVolts, false) : pairs.Length > 0 ? Judge(pairs, stated.LineToLineVolts, true) : null;

        (Channel Channel, double Volts)[] Of(Channel first, double expected) =>
            [.. Enumerable.Range(0, 3).Select(line => first + line).Where(usual.ContainsKey).Select(channel => (channel, usual[channel])).Where(read => double.IsFinite(read.Item2) && expected > 0)];

        NominalMisfit? Judge((Channel Channel, double Volts)[] read, double expected, bool arePairs)
        {
            var largest = read.Max(channel => channel.Volts);
            var live = read.Where(channel => channel.Volts > Live * largest).OrderBy(channel => channel.Volts).ToArray();
            var middle = live[(live.Length - 1) / 2].Volts;
            var alike = live.Where(channel => Math.Abs((channel.Volts / middle) - 1) < Alike).ToArray();
            // A lead in the air takes a pair's voltages to half, and one of the neutral on a line the others' to that of two lines: a fault of the hook-up, and no nameplate.
            var needed = arePairs || read.Length < 3 ? (arePairs ? read.Length : live.Length) : 2;
            if (alike.Length < needed || middle < LeastVolts) return null;
            if (live.Any(channel => Math.Abs((channel.Volts / expected) - 1) < AsStated)) return null;
            if (!arePairs && live.Length < read.Length && Math.Abs((middle / expected / NominalVoltage.LineRatio(service)) - 1) < NearRatio) return null;
            var toNeutral = arePairs ? middle / NominalVoltage.LineRatio(service) : middle;
            var nearest = StandardVoltages.Nearest(service, toNeutral);
            var away = Math.Abs((toNeutral / nearest.LineToNeutralVolts) - 1);
            // A lead in the air reads anything up to half; alone, what is low must be a voltage that is usual.
            if (away > NearUsual && (Math.Abs((middle / expected) - 1) < Far || (read.Length == 1 && middle < expected))) return null;
            return new NominalMisfit([.. alike.Select(channel => channel.Channel).Order()], middle, expected, service, stated, away < NearestUsual ? nearest : null);
        }
    }

    // The median of the rows in which the supply was there.
    private static double UsualOf(ReadOnlySpan<double> values)
    {
        var step = Math.Max(1, values.Length / MostRows);
        var sorted = new List<double>(Math.Min(values.Length, 2 * MostRows));
        for (var row = 0; row < values.Length; row += step)
        {
            if (values[row] >= 0 && double.IsFinite(values[row])) sorted.Add(values[row]);
        }

        sorted.Sort();
        if (sorted.Count == 0) return 0;
        var alive = sorted.FindIndex(value => value >= Live * sorted[(int)(0.9 * (sorted.Count - 1))]);
        return sorted[(alive + sorted.Count) / 2];
    }
}

/// <summary>What the ratio of read to expected voltages tells.</summary>
public enum NominalMisfitCause
{
    /// <summary>Nothing more than that they differ.</summary>
    Open,

    /// <summary>They read as much more as a voltage from line to line is above that to neutral.</summary>
    LineRatioAbove,

    /// <summary>They read as much less.</summary>
    LineRatioBelow,

    /// <summary>By so much that a ratio of transformers, or a prefix of the unit, was left out.</summary>
    Transformer,
}
