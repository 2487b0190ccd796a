using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>All that the changes of a log say, as sums of products over them.</summary>
/// <remarks>Features are, for each clamp, its part in phase and its lagging part (amperes), then each voltage (share of the reference).</remarks>
internal sealed class LoggedTable
{
    /// <summary>Changes of neighbouring intervals are not independent of each other, and the model of noise is a rough one: each counts as
    /// this share of one.</summary>
    public const double Weight = 0.5;

    private LoggedTable(LoggedChanges changes, Channel[] voltages, double[] moments)
    {
        Changes = changes;
        Voltages = voltages;
        Moments = moments;
    }

    /// <summary>The changes.</summary>
    public LoggedChanges Changes { get; }

    /// <summary>The voltage channels that are used.</summary>
    public Channel[] Voltages { get; }

    /// <summary>Sums of products of the features, weighted; features by features.</summary>
    public double[] Moments { get; }

    /// <summary>Number of features.</summary>
    public int Features => (2 * Changes.Clamps.Length) + Voltages.Length;

    /// <summary>Place of the first voltage among the features.</summary>
    public int FirstVoltage => 2 * Changes.Clamps.Length;

    /// <summary>Number of changes, weighted.</summary>
    public double Count => Changes.Count * Weight;

    /// <summary>Mean of each voltage used, as a share of the reference.</summary>
    public required double[] MeanVoltages { get; init; }

    /// <summary>Root mean square over the changes of the largest change of a clamp, amperes.</summary>
    public required double TypicalAmperes { get; init; }

    /// <summary>Root mean square over the changes of the largest change of a voltage, as a share of the reference.</summary>
    public required double TypicalChange { get; init; }

    /// <summary>The changes of the used voltages that no clamp shows, each as a share of the reference.</summary>
    public required Phasor[][] Unclaimed { get; init; }

    /// <summary>Builds the sums; null when a log gave no changes, or none of the voltages.</summary>
    public static LoggedTable? Of(LoggedChanges? changes, IEnumerable<Channel> voltages, double referenceVolts)
    {
        if (changes is null || changes.Count == 0) return null;
        Channel[] used = [.. voltages.Where(channel => changes.Voltages.Contains(channel))];
        if (used.Length == 0) return null;
        var (clamps, channels) = (changes.Clamps.Length, changes.Voltages.Length);
        var features = (2 * clamps) + used.Length;
        int[] at = [.. used.Select(channel => changes.Voltages.IndexOf(channel))];
        var moments = new double[features * features];
        Span<double> feature = stackalloc double[features];
        double typical = 0, moved = 0;
        for (var change = 0; change < changes.Count; change++)
        {
            double largest = 0;
            for (var clamp = 0; clamp < clamps; clamp++)
            {
                var (inPhase, lagging) = (changes.InPhase[(change * clamps) + clamp], changes.Lagging[(change * clamps) + clamp]);
                (feature[2 * clamp], feature[(2 * clamp) + 1]) = (inPhase, lagging);
                largest = Math.Max(largest, (inPhase * inPhase) + (lagging * lagging));
            }

            typical += largest;
            for (var channel = 0; channel < at.Length; channel++)
                feature[(2 * clamps) + channel] = changes.Volts[(change * channels) + at[channel]] / referenceVolts;
            double move = 0;
            for (var channel = 0; channel < at.Length; channel++) move = Math.Max(move, Math.Abs(feature[(2 * clamps) + channel]));
            moved += move * move;
            for (var one = 0; one < features; one++)
            {
                for (var other = 0; other < features; other++) moments[(one * features) + other] += Weight * feature[one] * feature[other];
            }
        }

        return new LoggedTable(changes, used, moments)
        {
            MeanVoltages = [.. at.Select(index => changes.MeanVolts[index] / referenceVolts)],
            Unclaimed =
            [
                .. Enumerable.Range(0, channels == 0 ? 0 : changes.Unclaimed.Length / channels)
                    .Select(change => Array.ConvertAll(at, channel => new Phasor(changes.Unclaimed[(change * channels) + channel] / referenceVolts, 0))),
            ],
            TypicalChange = Math.Sqrt(moved / changes.Count),
            TypicalAmperes = Math.Sqrt(typical / changes.Count),
        };
    }
}
