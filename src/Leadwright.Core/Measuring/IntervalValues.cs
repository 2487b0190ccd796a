using System.Runtime.CompilerServices;
using Leadwright.Core.Power;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;

namespace Leadwright.Core.Measuring;

/// <summary>The values of one row: windows aggregated. One object serves all rows in turn: copy what is to be kept.</summary>
/// <remarks>What was not measured (no channel, or every window of it lost) is NaN.</remarks>
public sealed class IntervalValues
{
    private readonly double[] _squares;
    private readonly double[] _direct = new double[Lane.Count];
    private readonly double[] _crest = new double[Lane.Count];
    private readonly double[] _peak = new double[Lane.Count];
    private readonly double[] _least = new double[Lane.Count];
    private readonly double[] _most = new double[Lane.Count];
    private readonly int[] _laneCounts = new int[Lane.Count];
    private readonly double[] _laneWeights = new double[Lane.Count];
    private readonly double[] _scalars = new double[Scalars.All.Length];
    private readonly double[] _scalarWeights = new double[Scalars.All.Length];
    private readonly int _lanes;

    internal IntervalValues(SpectrumRow row, int lanes)
    {
        (Row, _lanes) = (row, lanes);
        _squares = new double[row.Count * Lane.Count];
        Pst = new double[Lane.VoltageCount];
        Clear(0);
    }

    /// <summary>Where harmonics stand.</summary>
    public SpectrumRow Row { get; }

    /// <summary>Start after the recording's start, seconds.</summary>
    public double StartSeconds { get; internal set; }

    /// <summary>End after the recording's start, seconds.</summary>
    public double EndSeconds { get; internal set; }

    /// <summary>Windows in it.</summary>
    public int WindowCount { get; private set; }

    /// <summary>Windows that are flagged for a dip, swell or interruption.</summary>
    public int FlaggedCount { get; private set; }

    /// <summary>What to know about it: every flag of any window.</summary>
    public ValueMarks Flags { get; internal set; }

    /// <summary>Short-term flicker of lanes 0 to 3; NaN where the row is not ten minutes.</summary>
    public double[] Pst { get; }

    /// <summary>Energy toward the load within it, Wh.</summary>
    public double ImportWattHours { get; private set; }

    /// <summary>Energy from the load within it, Wh.</summary>
    public double ExportWattHours { get; private set; }

    /// <summary>Windows of a lane that were not lost.</summary>
    public int ValidCount(int lane) => _laneCounts[lane];

    /// <summary>A row of the spectrum of a lane: root of the mean square; ratios as fractions.</summary>
    /// <param name="row">As <see cref="SpectrumRow"/> says.</param>
    /// <param name="lane">The lane.</param>
    public double Rms(int row, int lane) => Math.Sqrt(_squares[(row * Lane.Count) + lane] / Valid(lane));

    /// <summary>The direct part of a lane.</summary>
    public double Direct(int lane) => _direct[lane] / Valid(lane);

    /// <summary>The mean crest factor of a lane.</summary>
    public double Crest(int lane) => _crest[lane] / Valid(lane);

    /// <summary>The largest instantaneous size of a lane.</summary>
    public double Peak(int lane) => Valid(lane) > 0 ? _peak[lane] : double.NaN;

    /// <summary>The least half-cycle value of a lane; NaN when there was none.</summary>
    public double HalfCycleLeast(int lane) => Valid(lane) > 0 && double.IsFinite(_least[lane]) ? _least[lane] : double.NaN;

    /// <summary>The largest half-cycle value of a lane; NaN when there was none.</summary>
    public double HalfCycleMost(int lane) => Valid(lane) > 0 && double.IsFinite(_most[lane]) ? _most[lane] : double.NaN;

    /// <summary>A scalar: mean or root of the mean square as <see cref="Scalars.All"/> says; ratios as fractions.</summary>
    public double Of(int scalar)
    {
        var mean = _scalarWeights[scalar] > 0 ? _scalars[scalar] / _scalarWeights[scalar] : double.NaN;
        return Scalars.All[scalar].Aggregation == Aggregation.Mean ? mean : Math.Sqrt(mean);
    }

    /// <summary>Harmonic loss factor (K-factor) of a current lane's mean-square spectrum; IEEE C57.110.</summary>
    public double LossFactor(int lane)
    {
        Span<double> squares = stackalloc double[Row.HighestOrder];
        for (var order = 1; order <= squares.Length; order++) squares[order - 1] = _squares[(SpectrumRow.Subgroup(order) * Lane.Count) + lane];
        return Valid(lane) > 0 ? HarmonicLoss.EddyFactor(squares) : double.NaN;
    }

    /// <summary>Rms of the harmonics of a lane from the second order, for total demand distortion.</summary>
    public double HarmonicRms(int lane)
    {
        var sum = 0.0;
        for (var order = 2; order <= Row.HighestOrder; order++) sum += _squares[(SpectrumRow.Subgroup(order) * Lane.Count) + lane];
        return Math.Sqrt(sum / Valid(lane));
    }

    internal void Clear(double startSeconds)
    {
        (StartSeconds, EndSeconds, WindowCount, FlaggedCount, Flags) = (startSeconds, startSeconds, 0, 0, ValueMarks.None);
        (ImportWattHours, ExportWattHours) = (0, 0);
        _squares.AsSpan().Clear();
        _direct.AsSpan().Clear();
        _crest.AsSpan().Clear();
        _peak.AsSpan().Clear();
        _least.AsSpan().Fill(double.PositiveInfinity);
        _most.AsSpan().Fill(double.NegativeInfinity);
        _laneCounts.AsSpan().Clear();
        _laneWeights.AsSpan().Clear();
        _scalars.AsSpan().Clear();
        _scalarWeights.AsSpan().Clear();
        Pst.AsSpan().Fill(double.NaN);
    }

    /// <summary>Adds the values of a shorter row, as one value each.</summary>
    /// <param name="part">The shorter row.</param>
    /// <param name="weight">What it counts for: 1 when it is whole.</param>
    internal void Add(IntervalValues part, double weight)
    {
        WindowCount += part.WindowCount;
        FlaggedCount += part.FlaggedCount;
        EndSeconds = part.EndSeconds;
        Flags |= part.Flags & ~ValueMarks.Partial;
        ImportWattHours += part.ImportWattHours;
        ExportWattHours += part.ExportWattHours;
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            if (part._laneCounts[lane] == 0) continue;
            var share = weight / part._laneWeights[lane];
            for (var index = lane; index < _squares.Length; index += Lane.Count) _squares[index] += share * part._squares[index];
            _laneCounts[lane] += part._laneCounts[lane];
            _laneWeights[lane] += weight;
            _direct[lane] += share * part._direct[lane];
            _crest[lane] += share * part._crest[lane];
            _peak[lane] = Math.Max(_peak[lane], part._peak[lane]);
            _least[lane] = Math.Min(_least[lane], part._least[lane]);
            _most[lane] = Math.Max(_most[lane], part._most[lane]);
        }

        for (var index = 0; index < _scalars.Length; index++)
        {
            if (part._scalarWeights[index] == 0) continue;
            _scalars[index] += weight / part._scalarWeights[index] * part._scalars[index];
            _scalarWeights[index] += weight;
        }
    }

    /// <summary>Carries the state out or in.</summary>
    internal void Carry(StateCarrier carrier)
    {
        var (start, end, windows, flagged, flags) = (StartSeconds, EndSeconds, WindowCount, FlaggedCount, Flags);
        var (import, export) = (ImportWattHours, ExportWattHours);
        carrier.Carry(ref start);
        carrier.Carry(ref end);
        carrier.Carry(ref windows);
        carrier.Carry(ref flagged);
        carrier.Carry(ref flags);
        carrier.Carry(ref import);
        carrier.Carry(ref export);
        (StartSeconds, EndSeconds, WindowCount, FlaggedCount, Flags) = (start, end, windows, flagged, flags);
        (ImportWattHours, ExportWattHours) = (import, export);
        foreach (var values in (ReadOnlySpan<double[]>)[_squares, _direct, _crest, _peak, _least, _most, _laneWeights, _scalars, _scalarWeights, Pst])
            carrier.Carry(values.AsSpan());
        carrier.Carry(_laneCounts.AsSpan());
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal void Add(WindowValues window)
    {
        WindowCount++;
        EndSeconds = window.EndSeconds;
        Flags |= window.Flags;
        if ((window.Flags & (ValueMarks.Dip | ValueMarks.Swell | ValueMarks.Interruption)) != 0) FlaggedCount++;
        if (window.LostLanes == 0)
        {
            var squares = window.Squares;
            for (var index = 0; index < _squares.Length; index++) _squares[index] += squares[index];
        }
        else AddWithout(window);

        for (var lane = 0; lane < Lane.Count; lane++)
        {
            if ((_lanes & ~window.LostLanes & (1 << lane)) == 0) continue;
            _laneCounts[lane]++;
            _laneWeights[lane]++;
            _direct[lane] += window.Direct[lane];
            _crest[lane] += window.Crest[lane];
            _peak[lane] = Math.Max(_peak[lane], window.Peak[lane]);
            _least[lane] = Math.Min(_least[lane], window.HalfCycleLeast[lane]);
            _most[lane] = Math.Max(_most[lane], window.HalfCycleMost[lane]);
        }

        var all = Scalars.All;
        for (var index = 0; index < all.Length; index++)
        {
            var value = window.Scalars[index];
            if (double.IsNaN(value)) continue;
            _scalars[index] += all[index].Aggregation == Aggregation.Mean ? value : value * value;
            _scalarWeights[index]++;
        }

        var wattHours = window.Scalars[Scalars.Total] * window.OwnSeconds / 3600;
        if (wattHours > 0) ImportWattHours += wattHours;
        else if (wattHours < 0) ExportWattHours -= wattHours;
    }

    private void AddWithout(WindowValues window)
    {
        for (var index = 0; index < _squares.Length; index++)
        {
            if ((window.LostLanes & (1 << (index % Lane.Count))) == 0) _squares[index] += window.Squares[index];
        }
    }

    private double Valid(int lane) => _laneWeights[lane] > 0 ? _laneWeights[lane] : double.NaN;
}
