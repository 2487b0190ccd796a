using System.Collections.Immutable;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Tables;

/// <summary>Makes the figures before and after.</summary>
internal sealed class FigureMaker(RawSeries raw, MendOptions options)
{
    public LoadFigures Before() => Make(
        raw.Watts, raw.Amperes, raw.Volts, (_, _) => true, (_, _) => double.NaN, isAfter: false);

    public LoadFigures After(LineSeries lines) => Make(
        lines.Watts, lines.Amperes, lines.Volts, (element, slot) => lines.States[element][slot] <= PowerState.Mended, (element, slot) => lines.Shown[element][slot], isAfter: true);

    private LoadFigures Make(
        double[]?[] watts, double[]?[] amperes, double[]?[] volts, Func<int, int, bool> isFirm, Func<int, int, double> shown, bool isAfter)
    {
        var grid = raw.Grid;
        var phases = new double[3];
        var (phaseCarried, phaseCarriedWatts) = (new double[3], new double[3]);
        double energy = 0, carried = 0, carriedWatts = 0;
        var isAtLeast = false;
        var total = new double[grid.Count];
        var own = raw.Elements.ToDictionary(element => element, _ => new double[grid.Count]);
        for (var slot = 0; slot < grid.Count; slot++)
        {
            double sum = 0, apparent = 0;
            foreach (var element in raw.Elements)
            {
                var value = RawSeries.At(watts[element], slot);
                if (double.IsFinite(value))
                {
                    phases[element] += value * grid.Hours;
                    energy += value * grid.Hours;
                }

                // What was shown of a current beyond its range flowed at the least.
                var isKnown = isFirm(element, slot);
                own[element][slot] = isKnown ? value : shown(element, slot);
                isAtLeast |= !isKnown;
                sum += own[element][slot];
                var product = raw.IsTotal || amperes[element] is null || volts[element] is null ? double.NaN : amperes[element]![slot] * volts[element]![slot];
                apparent += product;
                apparent += isKnown ? 0 : double.NaN;
                if (raw.IsThreeWire || !isKnown || !double.IsFinite(value) || !(product > 0)) continue;
                phaseCarriedWatts[element] += value;
                phaseCarried[element] += product;
            }

            total[slot] = sum;
            isAtLeast |= double.IsNaN(sum);
            if (!double.IsFinite(sum) || !(apparent > 0)) continue;
            carriedWatts += sum;
            // Voltages between lines times line currents: √3 U I of a balanced load is a third of the sum of three by √3, and half of the sum of two by √3.
            carried += !raw.IsThreeWire ? apparent : Math.Sqrt(3) / raw.Elements.Length * apparent;
        }

        var minutes = DemandMinutes();
        var (peak, peakAt) = Peak(total, minutes);
        return new LoadFigures(
            raw.HasPower ? energy : double.NaN, peak, peakAt, carried > 0 ? carriedWatts / carried : double.NaN, Unbalance(amperes), Unbalance(volts),
            raw.HasPhases ? [.. raw.Elements.Select(element => phases[element])] : [])
        {
            PeakIsAtLeast = (isAtLeast && isAfter) || minutes > options.DemandMinutes * (1 + 1e-9),
            PeakMinutes = minutes,
            PhasePeakWatts = raw.HasPhases ? [.. raw.Elements.Select(element => Peak(own[element], minutes).Watts)] : [],
            PhasePowerFactors = raw.HasPhases ? [.. raw.Elements.Select(element => phaseCarried[element] > 0 ? phaseCarriedWatts[element] / phaseCarried[element] : double.NaN)] : [],
        };
    }

    // Where intervals make up no demand interval as asked for, as ten minutes make no fifteen, the next multiple of it that they do: its mean is no larger than
    // the largest of those asked for that lie in it, so that the peak is at least that.
    private double DemandMinutes()
    {
        var seconds = raw.Grid.Hours * 3600;
        for (var times = 1; times <= 60; times++)
        {
            var parts = times * options.DemandMinutes * 60 / seconds;
            if (parts > 0.5 && Math.Abs(parts - Math.Round(parts)) < 1e-6) return times * options.DemandMinutes;
        }

        return Math.Max(options.DemandMinutes, seconds / 60);
    }

    // Blocks of the clock, all of whose intervals are firm.
    private (double Watts, DateTime At) Peak(double[] total, double minutes)
    {
        var ticks = (long)Math.Round(minutes * TimeSpan.TicksPerMinute);
        var need = Math.Max(1, (int)Math.Floor((minutes / 60 / raw.Grid.Hours) + 1e-6));
        var (best, at) = (double.NaN, default(DateTime));
        for (var slot = 0; slot < total.Length;)
        {
            var block = raw.Grid.Clocks[slot] / ticks;
            var (sum, count, first) = (0.0, 0, slot);
            for (; slot < total.Length && raw.Grid.Clocks[slot] / ticks == block; slot++, count++) sum += total[slot];
            if (slot == first) slot++;
            if (count < need || !double.IsFinite(sum)) continue;
            if (!(sum / count <= best)) (best, at) = (sum / count, raw.Grid.From(first));
        }

        return (best, at);
    }

    // The largest deviation of a mean from the mean of the means: what a meter's screen calls unbalance, and all that magnitudes give.
    private double Unbalance(double[]?[] series)
    {
        if (raw.Lines < 2 || raw.IsTotal) return double.NaN;
        var means = ImmutableArray.CreateBuilder<double>();
        for (var line = 0; line < raw.Lines; line++)
        {
            if (series[line] is not { } values) continue;
            double sum = 0;
            var count = 0;
            foreach (var value in values)
            {
                if (!double.IsFinite(value)) continue;
                sum += value;
                count++;
            }

            if (count > 0) means.Add(sum / count);
        }

        if (means.Count < 2) return double.NaN;
        var mean = means.Average();
        return mean > 0 ? 100 * means.Max(value => Math.Abs(value - mean)) / mean : double.NaN;
    }
}
