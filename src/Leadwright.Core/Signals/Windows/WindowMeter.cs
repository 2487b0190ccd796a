using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;

namespace Leadwright.Core.Signals.Windows;

/// <summary>Measures one 10- or 12-cycle window of eight channels: rms, spectrum, groups, products.</summary>
/// <remarks>
/// <para>The window is resampled to a power of two points over its exact length, so that every harmonic falls on a bin whatever the
/// frequency (IEC 61000-4-7 clause 4.4.1: rectangular window, synchronised). Allocates nothing after construction.</para>
/// <para>Not thread-safe. Values stay until the next <see cref="Measure"/>.</para>
/// </remarks>
public sealed class WindowMeter
{
    private readonly LaneFft _transform;
    private readonly LaneResampler _resampler;
    private readonly WindowSums _sums = new();
    private readonly float[] _bins;
    private readonly float[] _binSquares;
    private readonly float[] _squares;
    private readonly int _nominalCycles;
    private readonly double _signallingHertz;
    private readonly int _signallingLines;
    private int _cycles;

    /// <summary>Prepares.</summary>
    /// <param name="rateHertz">Samples per second of the recording.</param>
    /// <param name="nominalHertz">50 (ten cycles) or 60 (twelve).</param>
    /// <param name="highestOrder">Highest harmonic order; 50 in IEC 61000-4-30. Lowered to what the rate carries.</param>
    /// <param name="signallingHertz">Mains-signalling frequency; 0 for none.</param>
    /// <param name="signallingLines">Bins taken for it: 1 (nearest) or 4, IEC 61000-4-30 clause 5.10.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rate carries no second harmonic.</exception>
    public WindowMeter(double rateHertz, double nominalHertz, int highestOrder, double signallingHertz = 0, int signallingLines = 4)
    {
        Row = new SpectrumRow(HighestOrderFor(rateHertz, nominalHertz, highestOrder));
        ArgumentOutOfRangeException.ThrowIfLessThan(Row.HighestOrder, 2, nameof(rateHertz));
        _nominalCycles = CyclesFor(nominalHertz);
        _cycles = _nominalCycles;
        _signallingHertz = signallingHertz;
        _signallingLines = signallingLines;
        _resampler = new LaneResampler();
        _transform = new LaneFft(PointsFor(rateHertz, _nominalCycles * (Row.HighestOrder + 1)));
        BinCount = Math.Min(HarmonicGroups.BinCount(_nominalCycles, Row.HighestOrder), _transform.Length / 2);
        _bins = new float[BinCount * 2 * Lane.Count];
        _binSquares = new float[BinCount * Lane.Count];
        _squares = new float[Row.Count * Lane.Count];
    }

    /// <summary>Where each value stands.</summary>
    public SpectrumRow Row { get; }

    /// <summary>Points that a window is resampled to.</summary>
    public int Points => _transform.Length;

    /// <summary>Bins at hand.</summary>
    public int BinCount { get; }

    /// <summary>Frames that must be at hand before and behind a window.</summary>
    public static int Margin => LaneResampler.FramesBehind;

    /// <summary>Rows of eight lanes as <see cref="Row"/> says: squared rms values and squared ratios.</summary>
    public ReadOnlySpan<float> Squares => _squares;

    /// <summary>Largest instantaneous size of each lane.</summary>
    public ReadOnlySpan<float> Peaks => _sums.Peaks;

    /// <summary>Mean square of each lane, double.</summary>
    public ReadOnlySpan<double> MeanSquares => _sums.Squares;

    /// <summary>Mean of v·i of each line (lanes 0 to 3).</summary>
    public ReadOnlySpan<double> OwnProducts => _sums.OwnProducts;

    /// <summary>Mean of each lane with the next phase's; in the lower half voltages, in the upper currents.</summary>
    public ReadOnlySpan<double> NextProducts => _sums.NextProducts;

    /// <summary>Mean of the previous voltage with each line's current.</summary>
    public ReadOnlySpan<double> PreviousProducts => _sums.PreviousProducts;

    /// <summary>Cycles in a window: ten at 50 Hz, twelve at 60.</summary>
    public static int CyclesFor(double nominalHertz) => nominalHertz < 55 ? 10 : 12;

    /// <summary>The highest order that a sampling rate carries with nine tenths of its band, at most <paramref name="wanted"/>.</summary>
    public static int HighestOrderFor(double rateHertz, double nominalHertz, int wanted) =>
        Math.Min(wanted, (int)Math.Floor((0.45 * rateHertz / nominalHertz) - 0.5));

    /// <summary>Measures a window.</summary>
    /// <param name="frames">Samples around it.</param>
    /// <param name="firstFrame">Place of the first of them.</param>
    /// <param name="window">The window.</param>
    /// <exception cref="ArgumentOutOfRangeException">The samples don't reach <see cref="Margin"/> frames beyond it.</exception>
    public void Measure(ReadOnlySpan<float> frames, long firstFrame, WindowSpan window)
    {
        var step = window.Length / _transform.Length;
        _resampler.Read(frames, window.StartPlace - firstFrame, step, _transform.Input);
        _sums.Take(_transform.Input);
        _cycles = window.Cycles;
        _transform.Transform(_bins, BinCount);
        SquareBins();
        UndoDamping(window.Length);
        Group();
    }

    /// <summary>The phasor of a harmonic, rms.</summary>
    /// <param name="lane">The lane.</param>
    /// <param name="order">The order, from 1.</param>
    /// <remarks>Its angle is that of the cosine at the start of the window.</remarks>
    public Phasor Harmonic(int lane, int order)
    {
        var at = order * _cycles * 2 * Lane.Count;
        var scale = Math.Sqrt(2) / _transform.Length;
        return new Phasor(scale * _bins[at + lane], scale * _bins[at + Lane.Count + lane]);
    }

    /// <summary>The direct part of a lane.</summary>
    public double Direct(int lane) => _bins[lane] / (double)_transform.Length;

    /// <summary>The squared rms of a bin of a lane.</summary>
    public double BinSquare(int lane, int bin) => _binSquares[(bin * Lane.Count) + lane];

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void SquareBins()
    {
        ref var bins = ref _bins[0];
        ref var squares = ref _binSquares[0];
        var scale = Vector256.Create((float)(2.0 / ((double)_transform.Length * _transform.Length)));
        for (var bin = 0; bin < BinCount; bin++)
        {
            var real = Lane.Load(ref bins, 2 * bin);
            var imaginary = Lane.Load(ref bins, (2 * bin) + 1);
            (scale * Lane.Multiply(real, real, imaginary * imaginary)).Store(ref squares, bin);
        }
    }

    // Where harmonics reach the upper third of the band, what the interpolation took from them is given back.
    private void UndoDamping(double frames)
    {
        const double DampedFrom = 0.3;
        for (var bin = (int)(DampedFrom * frames); bin < BinCount; bin++)
        {
            var response = _resampler.Response(bin / frames);
            (Vector256.Create((float)(1 / (response * response))) * Bin(bin)).Store(ref _binSquares[0], bin);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Group()
    {
        ref var target = ref _squares[0];
        var n = _cycles;
        var half = n / 2;
        Vector256<float> components = default, subgroups = default, groups = default;
        Vector256<float> firstComponent = default, firstSubgroup = default, firstGroup = default;
        for (var order = 1; order <= Row.HighestOrder; order++)
        {
            var centre = n * order;
            var component = Bin(centre);
            var subgroup = Bin(centre - 1) + component + Bin(centre + 1);
            var group = Sum(centre - half + 1, centre + half - 1)
                + (0.5f * (Bin(centre - half) + Bin(centre + half)));
            subgroup.Store(ref target, SpectrumRow.Subgroup(order));
            if (order == 1) (firstComponent, firstSubgroup, firstGroup) = (component, subgroup, group);
            else
            {
                components += component;
                subgroups += subgroup;
                groups += group;
            }
        }

        for (var order = 0; order <= Row.HighestOrder; order++)
            Sum((n * order) + 2, (n * order) + n - 2).Store(ref target, Row.Interharmonic(order));
        firstComponent.Store(ref target, SpectrumRow.Fundamental);
        Ratio(components, firstComponent).Store(ref target, SpectrumRow.Thd);
        Ratio(subgroups, firstSubgroup).Store(ref target, SpectrumRow.SubgroupThd);
        Ratio(groups, firstGroup).Store(ref target, SpectrumRow.GroupThd);
        for (var lane = 0; lane < Lane.Count; lane++) _squares[(SpectrumRow.Rms * Lane.Count) + lane] = (float)_sums.Squares[lane];
        Signalling().Store(ref target, SpectrumRow.Signalling);
    }

    // Clause 5.10: the nearest bin, or the four nearest. A window is some 200 ms, so the frequency lies at its duration's bin.
    private Vector256<float> Signalling()
    {
        if (_signallingHertz <= 0 || WindowSeconds <= 0) return default;
        var place = _signallingHertz * WindowSeconds;
        if (_signallingLines == 1) return Bin((int)Math.Round(place));
        var first = (int)Math.Floor(place) - 1;
        return Sum(first, first + 3);
    }

    /// <summary>Duration of the window to come, seconds; set by the caller where signalling is measured.</summary>
    internal double WindowSeconds { get; set; }

    // Without a fundamental there is no ratio: 0 instead of NaN, which would spoil every row it is added to.
    private static Vector256<float> Ratio(Vector256<float> part, Vector256<float> whole) =>
        Vector256.ConditionalSelect(Vector256.GreaterThan(whole, default), part / whole, default);

    private Vector256<float> Bin(int bin) => (uint)bin < (uint)BinCount ? Lane.Load(ref _binSquares[0], bin) : default;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Vector256<float> Sum(int first, int last)
    {
        var sum = Vector256<float>.Zero;
        for (var bin = first; bin <= last; bin++) sum += Bin(bin);
        return sum;
    }

    // Enough points that nothing folds into the bins in use, and no fewer than the samples by much.
    private static int PointsFor(double rateHertz, int binsInUse)
    {
        var samples = 0.2 * rateHertz;
        var least = Math.Max(Math.Max(0.8 * samples, (0.5 * samples) + binsInUse + 40), 256);
        var points = 256;
        while (points < least) points *= 2;
        return points;
    }
}
