using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>Sums the windows of one channel up.</summary>
internal static class ChannelSummary
{
    // Below this share of periodic content a channel carries noise only.
    private const double DeadShare = 0.1;

    // A signal of a converter step or less is noise too, unless it is this clearly periodic.
    private const double SureShare = 0.8;

    /// <summary>True when nothing periodic arrives at a channel.</summary>
    public static bool IsDead(WindowTable table, int channel, ReadOnlySpan<double> samples)
    {
        double share = 0, variance = 0;
        var count = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not { } residue) continue;
            share += residue.PeriodicShare;
            variance += residue.Variance;
            count++;
        }

        if (count == 0) return false;
        (share, variance) = (share / count, variance / count);
        var step = FlatTops.StepOf(samples);
        return share < DeadShare || (share < SureShare && variance <= step * step);
    }

    /// <summary>Sums a channel up; after the table was aligned.</summary>
    public static ChannelSnapshot Of(
        WindowTable table, int channel, SignalChoice choice, bool isDead, ReadOnlySpan<double> samples, double samplesPerCycle)
    {
        var order = table.HighestOrder;
        var sums = new Phasor[order];
        double direct = 0, meanSquare = 0;
        var count = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not { } residue) continue;
            count++;
            direct += residue.Direct;
            meanSquare += (residue.Direct * residue.Direct) + residue.ResidualMeanSquare;
            var harmonics = table.Harmonics(window, channel);
            for (var index = 0; index < order; index++)
            {
                sums[index] += harmonics[index];
                meanSquare += harmonics[index].SquaredMagnitude;
            }
        }

        ImmutableArray<Phasor> means = [.. sums.Select(sum => count > 0 ? sum / count : default)];
        var deviations = new double[order];
        double residual = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not { } residue) continue;
            residual += residue.ResidualMeanSquare;
            var harmonics = table.Harmonics(window, channel);
            for (var index = 0; index < order; index++) deviations[index] += (harmonics[index] - means[index]).SquaredMagnitude;
        }

        // A window's residue spreads evenly over all that its samples could hold.
        var floor = count > 0 ? Math.Sqrt(residual / count / Math.Max(samplesPerCycle, 1)) : 0;
        ImmutableArray<double> spreads = count > 1
            ? [.. deviations.Select(sum => Math.Sqrt(sum / (2 * (count - 1))))]
            : [.. deviations.Select(_ => floor)];
        return new ChannelSnapshot
        {
            Index = choice.Index,
            Kind = choice.Kind,
            Phasor = means[0],
            Spread = count > 1 ? spreads[0] : null,
            TrueRms = count > 0 ? Math.Sqrt(meanSquare / count) : double.NaN,
            Direct = count > 0 ? direct / count : double.NaN,
            Harmonics = means,
            HarmonicSpread = spreads,
            WindowCount = count,
            SkippedWindowCount = table.WindowCount - count,
            IsClipped = !isDead && FlatTops.AreCut(samples, samplesPerCycle),
            IsDead = isDead,
        };
    }
}
