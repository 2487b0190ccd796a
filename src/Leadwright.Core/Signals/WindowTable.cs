using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>The harmonic fits of all windows and channels, and their common alignment.</summary>
internal sealed class WindowTable
{
    private const int Rounds = 3;

    private readonly IReadOnlyList<SignalChoice> _choices;
    private readonly Phasor[] _phasors;
    private readonly FitResidue?[] _residues;
    private readonly Phasor[] _mean;
    private readonly int _order;

    /// <summary>Fits all channels over equal windows.</summary>
    public WindowTable(
        IReadOnlyList<ReadOnlyMemory<double>> samples, IReadOnlyList<double> skews, IReadOnlyList<SignalChoice> choices,
        Stretch span, int windowCount, int windowCycles, double hertz, int highestOrder)
    {
        (_choices, _order, WindowCount) = (choices, highestOrder, windowCount);
        _phasors = new Phasor[windowCount * choices.Count * highestOrder];
        _residues = new FitResidue?[windowCount * choices.Count];
        _mean = new Phasor[choices.Count];
        var fit = new HarmonicFit(highestOrder);
        for (var window = 0; window < windowCount; window++)
        {
            var from = span.StartSeconds + (window * windowCycles / hertz);
            var first = span.IndexAt(from);
            if (!fit.Prepare(span, first, span.IndexAt(from + (windowCycles / hertz)) - first, hertz)) continue;
            for (var channel = 0; channel < choices.Count; channel++)
            {
                _residues[(window * choices.Count) + channel] = fit.Solve(samples[channel].Span, Harmonics(window, channel));
                // Sampled later than stamped, a wave seems ahead by its own turning in that time.
                if (skews[channel] != 0) Turn(Harmonics(window, channel), -2 * Math.PI * hertz * skews[channel]);
            }
        }
    }

    /// <summary>The highest harmonic order.</summary>
    public int HighestOrder => _order;

    /// <summary>Number of windows.</summary>
    public int WindowCount { get; }

    /// <summary>The phasors of one channel in one window, by order.</summary>
    public Span<Phasor> Harmonics(int window, int channel) =>
        _phasors.AsSpan(((window * _choices.Count) + channel) * _order, _order);

    /// <summary>The rest of a fit; null where a sample is missing.</summary>
    public FitResidue? Residue(int window, int channel) => _residues[(window * _choices.Count) + channel];

    /// <summary>Windows in which a channel has no missing sample.</summary>
    public int WindowsOf(int channel) => Enumerable.Range(0, WindowCount).Count(window => Residue(window, channel) is not null);

    /// <summary>Turns each window so that the channels of a kind agree over the windows, then all of them so that a
    /// channel stands at zero.</summary>
    /// <remarks>All channels of the kind share in the common phase, so that the reference shows its own spread.</remarks>
    public void Align(SignalKind kind, IReadOnlyList<bool> isDead, int? reference)
    {
        for (var round = 0; round < Rounds; round++)
        {
            if (round > 0) ReadMeans();
            for (var window = 0; window < WindowCount; window++)
            {
                var product = default(Phasor);
                for (var channel = 0; channel < _choices.Count; channel++)
                {
                    if (_choices[channel].Kind == kind && !isDead[channel] && Residue(window, channel) is not null)
                        product += _mean[channel] * Harmonics(window, channel)[0].Conjugate;
                }

                if (product != default) TurnWindow(window, product.AngleRadians);
                // In the first round the means grow window by window.
                if (round > 0) continue;
                for (var channel = 0; channel < _choices.Count; channel++)
                {
                    if (Residue(window, channel) is not null) _mean[channel] += Harmonics(window, channel)[0];
                }
            }
        }

        ReadMeans();
        if (reference is not { } zero) return;
        var angle = _mean[zero].AngleRadians;
        for (var window = 0; window < WindowCount; window++) TurnWindow(window, -angle);
    }

    private void ReadMeans()
    {
        for (var channel = 0; channel < _choices.Count; channel++)
        {
            var sum = default(Phasor);
            for (var window = 0; window < WindowCount; window++)
            {
                if (Residue(window, channel) is not null) sum += Harmonics(window, channel)[0];
            }

            _mean[channel] = sum / WindowCount;
        }
    }

    private void TurnWindow(int window, double radians)
    {
        for (var channel = 0; channel < _choices.Count; channel++) Turn(Harmonics(window, channel), radians);
    }

    private static void Turn(Span<Phasor> harmonics, double radians)
    {
        for (var order = 1; order <= harmonics.Length; order++)
            harmonics[order - 1] *= Phasor.FromRadians(1, order * radians);
    }
}
