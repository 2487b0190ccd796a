using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Sampling;

namespace Leadwright.StoredTables;

/// <summary>An invented recording of any length, worked out as it is read: sines with noise, rounded as a converter of 16 bits rounds.</summary>
internal sealed class InventedSamples(long frames, double rateHertz) : SampleSource("invented")
{
    private const int Period = 1 << 16;
    private static readonly float[] s_noise = Noise();
    private LaneChoice _lanes = LaneChoice.Empty;
    private long _next;

    public override ImmutableArray<SampledChannel> Channels { get; } =
        [.. new[] { "V1", "V2", "V3", "VN", "I1", "I2", "I3", "IN" }.Select(name => new SampledChannel(name, "", name[0] == 'V' ? "V" : "A", default))];

    public override double RateHertz => rateHertz;

    public override double? LineFrequencyHertz => 50;

    public override DateTime? Start => new DateTime(2026, 3, 2);

    public override long? FrameCount => frames;

    public override double Share => (double)_next / frames;

    public override void Choose(LaneChoice lanes) => _lanes = lanes;

    public override int Read(Span<float> into)
    {
        var count = (int)Math.Min(into.Length / Lane.Count, frames - _next);
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var channel = _lanes.Sources[lane];
            for (var frame = 0; frame < count; frame++)
            {
                var at = _next + frame;
                into[(frame * Lane.Count) + lane] = channel < 0 ? 0 : MathF.Round((325 * MathF.Sin((float)(2 * Math.PI * (50 * at / rateHertz % 1)) - (2.094f * channel))) + s_noise[(at + (channel * 977)) % Period], 2);
            }
        }

        _next += count;
        return count;
    }

    public override void Carry(StateCarrier carrier) => throw new NotSupportedException();

    private static float[] Noise()
    {
        var random = new Random(1);
        return [.. Enumerable.Range(0, Period).Select(_ => (float)(random.NextDouble() - 0.5))];
    }
}
