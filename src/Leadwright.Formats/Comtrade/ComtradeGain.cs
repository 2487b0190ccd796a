using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Turns a channel's raw values into base units: value = (a × raw + b) × factor.</summary>
/// <param name="Multiplier">The multiplier a.</param>
/// <param name="Offset">The offset b.</param>
/// <param name="Factor">Unit prefix times, where asked for, the transformer ratio.</param>
internal readonly record struct ComtradeGain(double Multiplier, double Offset, double Factor)
{
    public double Apply(double raw) => ((Multiplier * raw) + Offset) * Factor;

    /// <summary>The gain of a channel for the side asked for.</summary>
    public static ComtradeGain Of(ComtradeAnalogChannel channel, ComtradeScaling scaling, List<ReadWarning> warnings)
    {
        var factor = UnitText.Parse(channel.Unit).Factor * RatioOf(channel, scaling, warnings);
        return new ComtradeGain(channel.Multiplier, channel.Offset, factor);
    }

    private static double RatioOf(ComtradeAnalogChannel channel, ComtradeScaling scaling, List<ReadWarning> warnings)
    {
        if (scaling == ComtradeScaling.AsRecorded) return 1;
        var asked = scaling == ComtradeScaling.Primary ? ComtradeSide.Primary : ComtradeSide.Secondary;
        if (channel.Side == asked) return 1;
        var ratio = channel.Primary / channel.Secondary;
        if (channel.Side == ComtradeSide.NotStated || !double.IsFinite(ratio) || ratio <= 0)
        {
            warnings.Add(new ReadWarning(
                $"Channel '{channel.Id}' states no {(channel.Side == ComtradeSide.NotStated ? "side" : "usable ratio")}; its values are left as recorded."));
            return 1;
        }

        return asked == ComtradeSide.Primary ? ratio : 1 / ratio;
    }
}
