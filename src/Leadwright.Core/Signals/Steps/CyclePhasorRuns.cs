using System.Runtime.InteropServices;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals.Steps;

/// <summary>Gathers <see cref="CyclePhasors"/> while a recording is read part by part, and keeps those of its longest stretch.</summary>
/// <remarks>Of a stretch no more than some cycles are kept, from its begin: so much is held in memory and no more, however long the recording.</remarks>
public sealed class CyclePhasorRuns
{
    // A part that ends in the midst of a stretch may lack nothing of its last cycle; the stretch itself may lack a hundredth.
    private const double Slack = 0.01;

    private readonly double[] _skewSeconds;
    private readonly double _hertz;
    private readonly int _most;
    private List<Phasor> _now = [], _best = [];
    private double _nowStart, _bestStart, _nowSeconds, _bestSeconds;

    /// <summary>Starts.</summary>
    /// <param name="skewSeconds">For each channel how long after the time stamp it was sampled.</param>
    /// <param name="hertz">The fundamental frequency; above zero.</param>
    /// <param name="mostCycles">Most cycles that are kept of a stretch.</param>
    public CyclePhasorRuns(IReadOnlyList<double> skewSeconds, double hertz, int mostCycles)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostCycles, 1);
        (_skewSeconds, _hertz, _most) = ([.. skewSeconds], hertz, mostCycles);
    }

    /// <summary>True when the longest stretch has more cycles than are kept.</summary>
    public bool IsCut { get; private set; }

    /// <summary>Begins a stretch.</summary>
    /// <param name="startSeconds">Its start, seconds after the recording's.</param>
    public void Begin(double startSeconds)
    {
        _now.Clear();
        (_nowStart, _nowSeconds) = (startSeconds, 0);
    }

    /// <summary>Takes a part of the stretch.</summary>
    /// <param name="part">The part, its times counted from the recording's start. It reaches back over the last three cycles of the part before.</param>
    /// <param name="samples">Its samples by channel.</param>
    /// <param name="isWhole">True when the stretch ends with it.</param>
    /// <param name="cancellation">Stops the work.</param>
    public void Add(Stretch part, IReadOnlyList<ReadOnlyMemory<double>> samples, bool isWhole, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(samples);
        _nowSeconds = part.StartSeconds + part.DurationSeconds - _nowStart;
        var next = _now.Count / samples.Count;
        var cycles = Math.Floor((_nowSeconds * _hertz) + (isWhole ? Slack : -Slack)) - 1;
        var count = (int)Math.Min(cycles, _most) - next;
        if (count > 0)
        {
            CollectionsMarshal.SetCount(_now, _now.Count + (count * samples.Count));
            CyclePhasors.Measure(samples, _skewSeconds, part, _hertz, _nowStart, next, CollectionsMarshal.AsSpan(_now)[(next * samples.Count)..], cancellation);
        }

        if (!isWhole || _nowSeconds <= _bestSeconds) return;
        (_now, _best) = (_best, _now);
        (_bestStart, _bestSeconds) = (_nowStart, _nowSeconds);
        IsCut = cycles > _most;
    }

    /// <summary>The phasors of the longest stretch that has ended; null when none holds a cycle.</summary>
    public CyclePhasors? Longest() => _best.Count == 0 ? null : CyclePhasors.Of([.. _best], _skewSeconds.Length, _bestStart, _hertz);
}
