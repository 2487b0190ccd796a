namespace Leadwright.Core.Signals;

/// <summary>Finds waves whose tops are cut flat.</summary>
internal static class FlatTops
{
    private const int LeastRun = 3;

    // A sine of few converter steps has flat tops too, but falls by no more than a step or so within them.
    private const double LeastFallSteps = 4;

    // A rectifier's current rests at zero between its pulses; an input that is cut off there is rare.
    private const double ZeroBand = 0.02;

    // Enough values to meet the converter's step; sorting all of a long recording would cost more than it tells.
    private const int SortedAtMost = 4096;

    /// <summary>The smallest difference between two values: the converter's step, where there is a converter. Zero when the
    /// samples are constant.</summary>
    public static double StepOf(ReadOnlySpan<double> samples)
    {
        var step = double.PositiveInfinity;
        for (var index = 1; index < samples.Length; index++) step = Smaller(step, samples[index] - samples[index - 1]);
        var sorted = samples[..Math.Min(samples.Length, SortedAtMost)].ToArray();
        Array.Sort(sorted);
        for (var index = 1; index < sorted.Length; index++) step = Smaller(step, sorted[index] - sorted[index - 1]);
        return double.IsFinite(step) ? step : 0;
    }

    /// <summary>True when runs of three or more samples at exactly the largest (or the smallest) value come in at least half
    /// of the cycles, and a sine of that height would have fallen by more than four converter steps within such a run.</summary>
    /// <param name="samples">The samples; NaN is passed over.</param>
    /// <param name="samplesPerCycle">Samples in a cycle.</param>
    public static bool AreCut(ReadOnlySpan<double> samples, double samplesPerCycle)
    {
        double largest = double.NegativeInfinity, smallest = double.PositiveInfinity;
        foreach (var sample in samples)
        {
            if (!double.IsFinite(sample)) continue;
            largest = Math.Max(largest, sample);
            smallest = Math.Min(smallest, sample);
        }

        if (!(largest > smallest)) return false;
        var height = 0.5 * (largest - smallest);
        var leastFall = LeastFallSteps * StepOf(samples);
        var enough = Math.Max(1, 0.5 * samples.Length / samplesPerCycle);
        return RunsAt(samples, largest, height, leastFall, samplesPerCycle) >= enough
            || RunsAt(samples, smallest, height, leastFall, samplesPerCycle) >= enough;
    }

    private static double Smaller(double step, double difference) =>
        Math.Abs(difference) > 0 ? Math.Min(step, Math.Abs(difference)) : step;

    private static int RunsAt(ReadOnlySpan<double> samples, double top, double height, double leastFall, double samplesPerCycle)
    {
        if (Math.Abs(top) < ZeroBand * 2 * height) return 0;
        int runs = 0, length = 0;
        for (var index = 0; index <= samples.Length; index++)
        {
            if (index < samples.Length && samples[index] == top)
            {
                length++;
                continue;
            }

            var half = Math.Min(Math.PI, Math.PI * length / samplesPerCycle);
            if (length >= LeastRun && height * (1 - Math.Cos(half)) > leastFall) runs++;
            length = 0;
        }

        return runs;
    }
}
