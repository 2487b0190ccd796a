using System.Collections.Immutable;

namespace Leadwright.Core.Circuits;

/// <summary>The nominal voltages that low-voltage services have by the standards.</summary>
/// <remarks>IEC 60038 (230/400, 400/690; 120/240 for single-phase three-wire) and ANSI C84.1 (120/240, 208Y/120, 240/120 four-wire delta,
/// 480Y/277, 600Y/347 and the three-wire values), with those still found from before (127/220, 220/380, 240/415, 230/460): from memory.</remarks>
public static class StandardVoltages
{
    private static readonly ImmutableArray<NominalVoltage> s_wye =
        [new(120, 208), new(230, 400), new(277, 480), new(127, 220), new(220, 380), new(240, 415), new(347, 600), new(400, 690)];

    private static readonly ImmutableArray<NominalVoltage> s_delta =
    [
        .. new double[] { 480, 400, 240, 208, 380, 415, 600, 690 }.Select(volts => new NominalVoltage(volts / Math.Sqrt(3), volts)),
    ];

    private static readonly ImmutableArray<NominalVoltage> s_single =
        [.. new double[] { 120, 230, 127, 208, 220, 240, 277, 347, 400, 480 }.Select(volts => new NominalVoltage(volts, volts))];

    private static readonly ImmutableArray<NominalVoltage> s_split = [new(120, 240), new(230, 460)];
    private static readonly ImmutableArray<NominalVoltage> s_highLeg = [new(120, 240)];

    /// <summary>The usual nominal voltages of a service, the commonest first.</summary>
    public static ImmutableArray<NominalVoltage> Of(ServiceKind service) => service switch
    {
        ServiceKind.Delta or ServiceKind.DeltaTwoClamp => s_delta,
        ServiceKind.Split => s_split,
        ServiceKind.HighLeg => s_highLeg,
        ServiceKind.Single => s_single,
        _ => s_wye,
    };

    /// <summary>How often one of them is met among a service's usual ones; they add up to one. Common practice, no source.</summary>
    /// <param name="service">The service.</param>
    /// <param name="index">Its place in <see cref="Of"/>.</param>
    public static double ShareOf(ServiceKind service, int index)
    {
        const double Common = 0.85;
        var count = Of(service).Length;
        var common = service switch
        {
            ServiceKind.Wye or ServiceKind.Delta or ServiceKind.DeltaTwoClamp => 3,
            ServiceKind.Single => 2,
            _ => 1,
        };
        if (common == count) return 1.0 / count;
        return index < common ? Common / common : (1 - Common) / (count - common);
    }

    /// <summary>The usual nominal voltage that lies nearest.</summary>
    /// <param name="service">The service.</param>
    /// <param name="lineToNeutralVolts">What was read from line to neutral (three-wire: to the centre of the lines); above zero.</param>
    public static NominalVoltage Nearest(ServiceKind service, double lineToNeutralVolts) =>
        Of(service).MinBy(nominal => Math.Abs(Math.Log(nominal.LineToNeutralVolts / lineToNeutralVolts)))!;
}
