using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Tests.Signals.Flicker;

/// <summary>Modulated carriers for up to four lanes, as the tables of IEC 61000-4-15 define them.</summary>
internal sealed class FlickerWave(double rateHertz, double lineHertz)
{
    private const int Block = 2048;
    private readonly float[] _frames = new float[Block * Lane.Count];
    private long _next;

    /// <summary>For each lane the factor by which the carrier's size differs at a time: 1 + (d/2)·m(t).</summary>
    public Func<double, double>[] Envelopes { get; init; } = [];

    /// <summary>For each lane what is added to the carrier's phase, radians; null for nothing.</summary>
    public Func<double, double>? Phase { get; init; }

    /// <summary>The carrier by its own phase, radians; default a sine of size one.</summary>
    public Func<double, double> Carrier { get; init; } = Math.Sin;

    public static Func<double, double> Sinusoidal(double hertz, double depthPercent) =>
        time => 1 + (depthPercent / 200 * Math.Sin(2 * Math.PI * hertz * time));

    // Starts with the high half at time zero, where the carrier crosses zero rising. A hair later than the edge, so that rounding decides nothing.
    public static Func<double, double> Rectangular(double hertz, double depthPercent) =>
        time => 1 + (depthPercent / 200 * ((((time * hertz) + 1e-9) % 1) < 0.5 ? 1 : -1));

    public void Feed(FlickerMeter meter, double seconds)
    {
        var end = _next + (long)Math.Round(seconds * rateHertz);
        while (_next < end)
        {
            var count = (int)Math.Min(Block, end - _next);
            for (var index = 0; index < count; index++)
            {
                var time = (_next + index) / rateHertz;
                var cycles = time * lineHertz;
                var carrier = 230 * Math.Sqrt(2) * Carrier((2 * Math.PI * (cycles - Math.Floor(cycles))) + (Phase?.Invoke(time) ?? 0));
                for (var lane = 0; lane < Envelopes.Length; lane++)
                    _frames[(index * Lane.Count) + lane] = (float)(carrier * Envelopes[lane](time));
            }

            meter.Add(_frames.AsSpan(0, count * Lane.Count));
            _next += count;
        }
    }
}
