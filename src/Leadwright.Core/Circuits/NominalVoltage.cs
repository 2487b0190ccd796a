using System.Globalization;

namespace Leadwright.Core.Circuits;

/// <summary>The nominal voltages of a service, as on the nameplate.</summary>
/// <param name="LineToNeutralVolts">Line to neutral (leg to neutral on a split service), volts rms; above zero. On a
/// three-wire service: line to the star point of the lines.</param>
/// <param name="LineToLineVolts">Line to line, volts rms; above zero. On a two-wire service: equal to line to neutral.</param>
public sealed record NominalVoltage(double LineToNeutralVolts, double LineToLineVolts)
{
    /// <summary>Reads a nameplate value: <c>230/400</c>, <c>120/240</c>, <c>480</c>, <c>230</c>.</summary>
    /// <param name="text">One number, or two with a slash, in either order; volts.</param>
    /// <param name="service">Says what a single number means: line to line on three-phase services, leg to leg on split,
    /// high-leg and network services when it is 200 V or more, line to neutral on a two-wire service.</param>
    /// <param name="nominal">Receives the value.</param>
    /// <returns>False when the text is not such a value, or when the two numbers do not belong to the service (their
    /// ratio must be √3 within 3 % on a three-phase service and on two lines of one, 2 on a split and a high-leg one).</returns>
    public static bool TryParse(string? text, ServiceKind service, out NominalVoltage? nominal)
    {
        nominal = null;
        if (string.IsNullOrWhiteSpace(text)) return false;
        var parts = text.Replace("V", "", StringComparison.OrdinalIgnoreCase).Split('/', StringSplitOptions.TrimEntries);
        Span<double> volts = stackalloc double[2];
        if (parts.Length > 2) return false;
        for (var index = 0; index < parts.Length; index++)
        {
            if (!double.TryParse(parts[index], NumberStyles.Float, CultureInfo.InvariantCulture, out volts[index])
                || !double.IsFinite(volts[index]) || volts[index] <= 0)
                return false;
        }

        var expectedRatio = LineRatio(service);
        if (parts.Length == 1)
        {
            var isLineToNeutral = service == ServiceKind.Single || (service is ServiceKind.Split or ServiceKind.HighLeg or ServiceKind.Network && volts[0] < 200);
            nominal = isLineToNeutral
                ? new NominalVoltage(volts[0], volts[0] * expectedRatio)
                : new NominalVoltage(volts[0] / expectedRatio, volts[0]);
            return true;
        }

        var (small, large) = (Math.Min(volts[0], volts[1]), Math.Max(volts[0], volts[1]));
        if (service == ServiceKind.Single)
        {
            nominal = new NominalVoltage(small, small);
            return true;
        }

        if (Math.Abs((large / small / expectedRatio) - 1) > 0.03) return false;
        nominal = new NominalVoltage(small, large);
        return true;
    }

    /// <summary>Line to line over line to neutral: √3 on three-phase services and two lines of one, 2 on split and high-leg services, 1
    /// on a two-wire one.</summary>
    public static double LineRatio(ServiceKind service) => service switch
    {
        ServiceKind.Split or ServiceKind.HighLeg => 2,
        ServiceKind.Single => 1,
        _ => Math.Sqrt(3),
    };

    /// <summary>The nameplate form, such as <c>230/400</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{LineToNeutralVolts:0.#}/{LineToLineVolts:0.#}");
}
