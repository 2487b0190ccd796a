using System.Numerics;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals.Steps;

/// <summary>The fundamental phasors of several channels, one set for each cycle.</summary>
/// <remarks>
/// <para>Each is the sum over two cycles under a Hann window, which is blind to the direct component and to every harmonic
/// whether or not a cycle holds a whole number of samples (F. J. Harris, "On the use of windows for harmonic analysis with the
/// discrete Fourier transform", Proc. IEEE 66 (1978) 51: zeros of the window at two bins and beyond). A change shows in full in
/// the second cycle after it.</para>
/// <para>Angles turn with one constant frequency from the stretch's start, so that a small error of it shows as one slow turn
/// common to all channels. Rms values. A channel with a missing sample in the window is NaN there.</para>
/// </remarks>
public sealed class CyclePhasors
{
    private readonly Phasor[] _values;

    private CyclePhasors(Phasor[] values, int channelCount, double startSeconds, double hertz)
    {
        (_values, ChannelCount, StartSeconds, Hertz) = (values, channelCount, startSeconds, hertz);
    }

    /// <summary>Number of channels.</summary>
    public int ChannelCount { get; }

    /// <summary>Number of cycles.</summary>
    public int Count => ChannelCount == 0 ? 0 : _values.Length / ChannelCount;

    /// <summary>The frequency that the angles turn with.</summary>
    public double Hertz { get; }

    /// <summary>Start of the first window, seconds after the recording's start.</summary>
    public double StartSeconds { get; }

    /// <summary>The channels' phasors in one cycle.</summary>
    public ReadOnlySpan<Phasor> this[int cycle] => _values.AsSpan(cycle * ChannelCount, ChannelCount);

    /// <summary>The middle of a cycle's window, seconds after the recording's start.</summary>
    public double SecondsAt(int cycle) => StartSeconds + ((cycle + 1) / Hertz);

    /// <summary>Makes a table from phasors that are known already.</summary>
    /// <param name="values">Cycle by cycle, all channels of a cycle together.</param>
    /// <param name="channelCount">Number of channels; above zero.</param>
    /// <param name="startSeconds">Start of the first window.</param>
    /// <param name="hertz">Frequency.</param>
    public static CyclePhasors Of(Phasor[] values, int channelCount, double startSeconds, double hertz)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfLessThan(channelCount, 1);
        if (values.Length % channelCount != 0)
            throw new ArgumentException($"{values.Length} phasors do not make whole cycles of {channelCount} channels.", nameof(values));
        return new(values, channelCount, startSeconds, hertz);
    }

    /// <summary>Measures a stretch.</summary>
    /// <param name="samples">All samples of each channel in the recording.</param>
    /// <param name="skewSeconds">How long after the time stamp each channel was sampled.</param>
    /// <param name="stretch">The part to measure.</param>
    /// <param name="hertz">The fundamental frequency; above zero.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static CyclePhasors Measure(
        IReadOnlyList<ReadOnlyMemory<double>> samples, IReadOnlyList<double> skewSeconds, Stretch stretch, double hertz,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(samples);
        ArgumentNullException.ThrowIfNull(skewSeconds);
        ArgumentNullException.ThrowIfNull(stretch);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        var cycles = Math.Max(0, (int)Math.Floor((stretch.DurationSeconds * hertz) + 0.01) - 1);
        var values = new Phasor[cycles * samples.Count];
        Measure(samples, skewSeconds, stretch, hertz, stretch.StartSeconds, 0, values, cancellation);
        return new(values, samples.Count, stretch.StartSeconds, hertz);
    }

    /// <summary>Measures some windows of a stretch of which a part is at hand.</summary>
    /// <param name="samples">The samples at hand of each channel.</param>
    /// <param name="skewSeconds">How long after the time stamp each channel was sampled.</param>
    /// <param name="part">The part at hand; holds the windows.</param>
    /// <param name="hertz">The fundamental frequency.</param>
    /// <param name="startSeconds">Start of the stretch, from which windows are counted.</param>
    /// <param name="firstCycle">Number of the first window.</param>
    /// <param name="values">Receives the phasors, cycle by cycle.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static void Measure(
        IReadOnlyList<ReadOnlyMemory<double>> samples, IReadOnlyList<double> skewSeconds, Stretch part, double hertz, double startSeconds, int firstCycle,
        Span<Phasor> values, CancellationToken cancellation)
    {
        var turns = skewSeconds.Select(skew => Phasor.FromRadians(1, -2 * Math.PI * hertz * skew)).ToArray();
        var window = new CycleWindow(part, hertz, startSeconds);
        for (var cycle = 0; cycle < values.Length / samples.Count; cycle++)
        {
            if (cycle % 1000 == 0) cancellation.ThrowIfCancellationRequested();
            window.Take(firstCycle + cycle);
            for (var channel = 0; channel < samples.Count; channel++)
                values[(cycle * samples.Count) + channel] = turns[channel] * window.Project(samples[channel].Span);
        }
    }

    /// <summary>The weights of one window, shared by all channels.</summary>
    private sealed class CycleWindow(Stretch stretch, double hertz, double startSeconds)
    {
        private double[] _cosine = [];
        private double[] _sine = [];
        private int _first;
        private int _length;

        public void Take(int cycle)
        {
            var from = startSeconds + (cycle / hertz);
            _first = stretch.IndexAt(from);
            _length = Math.Max(0, stretch.IndexAt(from + (2 / hertz)) - _first);
            if (_cosine.Length < _length) (_cosine, _sine) = (new double[_length], new double[_length]);
            double sum = 0;
            foreach (var segment in stretch.Segments)
            {
                var begin = Math.Max(_first, segment.FirstIndex);
                var end = Math.Min(_first + _length, segment.FirstIndex + segment.Length);
                if (begin < end) sum += Fill(segment, begin, end, from);
            }

            var scale = sum > 0 ? Math.Sqrt(2) / sum : 0;
            for (var index = 0; index < _length; index++)
            {
                _cosine[index] *= scale;
                _sine[index] *= scale;
            }
        }

        private double Fill(RateSegment segment, int begin, int end, double from)
        {
            // Whole cycles before the window leave the angle as it is.
            var offset = segment.StartSeconds + ((begin - segment.FirstIndex) / segment.RateHertz) - from;
            var carrier = Phasor.FromRadians(1, 2 * Math.PI * hertz * offset);
            var carrierStep = Phasor.FromRadians(1, 2 * Math.PI * hertz / segment.RateHertz);
            var envelope = Phasor.FromRadians(1, Math.PI * hertz * offset);
            var envelopeStep = Phasor.FromRadians(1, Math.PI * hertz / segment.RateHertz);
            double sum = 0;
            for (var index = begin; index < end; index++)
            {
                var weight = 0.5 - (0.5 * envelope.Real);
                sum += weight;
                _cosine[index - _first] = weight * carrier.Real;
                _sine[index - _first] = -weight * carrier.Imaginary;
                carrier *= carrierStep;
                envelope *= envelopeStep;
            }

            return sum;
        }

        public Phasor Project(ReadOnlySpan<double> samples)
        {
            var window = samples.Slice(_first, _length);
            var real = Dot(window, _cosine);
            var imaginary = Dot(window, _sine);
            return double.IsFinite(real) && double.IsFinite(imaginary) ? new Phasor(real, imaginary) : new Phasor(double.NaN, double.NaN);
        }

        private static double Dot(ReadOnlySpan<double> left, double[] right)
        {
            var sums = Vector<double>.Zero;
            var index = 0;
            for (; index <= left.Length - Vector<double>.Count; index += Vector<double>.Count)
                sums += new Vector<double>(left[index..]) * new Vector<double>(right, index);
            var sum = Vector.Sum(sums);
            for (; index < left.Length; index++) sum += left[index] * right[index];
            return sum;
        }
    }
}
