using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>Splits a stretch into runs of cycles in which nothing happens.</summary>
/// <remarks>Each cycle's fundamental phasors are laid against the mean of the run so far, after turning them together so that the
/// common phase agrees (an off-nominal frequency is no event). A cycle that lies further off than the tolerance and than
/// six times its own noise ends the run.</remarks>
internal sealed class SteadySearch
{
    private const int HighestOrder = 7;
    private const double NoiseFactor = 6;

    private readonly IReadOnlyList<ReadOnlyMemory<double>> _samples;
    private readonly IReadOnlyList<SignalChoice> _choices;
    private readonly SnapshotOptions _options;
    private readonly double _hertz;
    private readonly Phasor[] _cycle;
    private readonly Phasor[] _sum;
    private readonly double[] _noise;
    private readonly int[] _count;
    private readonly bool[] _isValid;
    private readonly bool[] _isPeriodic;

    public SteadySearch(
        IReadOnlyList<ReadOnlyMemory<double>> samples, IReadOnlyList<SignalChoice> choices, SnapshotOptions options, double hertz)
    {
        (_samples, _choices, _options, _hertz) = (samples, choices, options, hertz);
        _cycle = new Phasor[choices.Count];
        _sum = new Phasor[choices.Count];
        _noise = new double[choices.Count];
        _count = new int[choices.Count];
        _isValid = new bool[choices.Count];
        _isPeriodic = new bool[choices.Count];
    }

    /// <summary>Whole cycles in a stretch; up to a hundredth of a cycle may lack at its end.</summary>
    public static int CyclesIn(Stretch stretch, double hertz) => (int)Math.Floor((stretch.DurationSeconds * hertz) + 0.01);

    /// <summary>The runs of a stretch, in order.</summary>
    public IEnumerable<SteadyRun> RunsOf(Stretch stretch)
    {
        var fit = new HarmonicFit(HarmonicFit.OrderFor(stretch.LowestRateHertz / _hertz, HighestOrder));
        var cycles = CyclesIn(stretch, _hertz);
        var runFirst = 0;
        Clear();
        for (var cycle = 0; cycle < cycles; cycle++)
        {
            // A cycle without a single whole channel says nothing: the run goes on.
            if (!Read(stretch, fit, cycle)) continue;
            Align();
            if (!Fits())
            {
                if (cycle > runFirst) yield return Run(stretch, runFirst, cycle, endsAtEvent: true);
                runFirst = cycle;
                Clear();
            }

            Add();
        }

        if (cycles > runFirst) yield return Run(stretch, runFirst, cycles, endsAtEvent: false);
    }

    private SteadyRun Run(Stretch stretch, int from, int to, bool endsAtEvent) =>
        new(stretch, stretch.StartSeconds + (from / _hertz), to - from, from > 0, endsAtEvent, Largest(SignalKind.Voltage));

    private void Clear()
    {
        Array.Clear(_sum);
        Array.Clear(_count);
    }

    private bool Read(Stretch stretch, HarmonicFit fit, int cycle)
    {
        Span<Phasor> harmonics = stackalloc Phasor[fit.HighestOrder];
        var first = stretch.IndexAt(stretch.StartSeconds + (cycle / _hertz));
        var length = stretch.IndexAt(stretch.StartSeconds + ((cycle + 1) / _hertz)) - first;
        if (!fit.Prepare(stretch, first, length, _hertz)) return false;
        var isAny = false;
        for (var channel = 0; channel < _choices.Count; channel++)
        {
            var residue = fit.Solve(_samples[channel].Span, harmonics);
            _isValid[channel] = residue is not null;
            if (residue is not { } rest) continue;
            isAny = true;
            _cycle[channel] = harmonics[0];
            _noise[channel] = Math.Sqrt(rest.ResidualVariance / length);
            _isPeriodic[channel] = rest.PeriodicShare > 0.5;
        }

        return isAny;
    }

    private void Align()
    {
        var turn = Agreement(SignalKind.Voltage) ?? Agreement(SignalKind.Current);
        if (turn is null) return;
        for (var channel = 0; channel < _cycle.Length; channel++) _cycle[channel] *= turn.Value;
    }

    // The turn that brings the channels of a kind closest to the run's means; null when the kind holds nothing periodic.
    private Phasor? Agreement(SignalKind kind)
    {
        var product = default(Phasor);
        for (var channel = 0; channel < _cycle.Length; channel++)
        {
            if (_choices[channel].Kind != kind || !_isValid[channel] || !_isPeriodic[channel] || _count[channel] == 0) continue;
            product += (_sum[channel] / _count[channel]) * _cycle[channel].Conjugate;
        }

        return product == default ? null : product / product.Magnitude;
    }

    private bool Fits()
    {
        for (var channel = 0; channel < _cycle.Length; channel++)
        {
            if (!_isValid[channel] || _count[channel] == 0) continue;
            var kind = _choices[channel].Kind;
            var tolerance = kind == SignalKind.Voltage ? _options.VoltageTolerance : _options.CurrentTolerance;
            var allowance = Math.Max(tolerance * Largest(kind), NoiseFactor * _noise[channel]);
            if ((_cycle[channel] - (_sum[channel] / _count[channel])).Magnitude > allowance) return false;
        }

        return true;
    }

    private double Largest(SignalKind kind)
    {
        var largest = 0.0;
        for (var channel = 0; channel < _sum.Length; channel++)
        {
            if (_choices[channel].Kind == kind && _count[channel] > 0)
                largest = Math.Max(largest, _sum[channel].Magnitude / _count[channel]);
        }

        return largest;
    }

    private void Add()
    {
        for (var channel = 0; channel < _cycle.Length; channel++)
        {
            if (!_isValid[channel]) continue;
            _sum[channel] += _cycle[channel];
            _count[channel]++;
        }
    }
}
