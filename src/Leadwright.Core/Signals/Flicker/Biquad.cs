using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Leadwright.Core.Signals.Flicker;

/// <summary>A second-order filter over four lanes: (b0 + b1·z⁻¹ + b2·z⁻²)/(1 + a1·z⁻¹ + a2·z⁻²), transposed form.</summary>
internal struct Biquad
{
    private readonly Vector256<double> _b0, _b1, _b2, _a1, _a2;
    private Vector256<double> _first, _second;

    private Biquad(double b0, double b1, double b2, double a1, double a2)
    {
        (_b0, _b1, _b2) = (Vector256.Create(b0), Vector256.Create(b1), Vector256.Create(b2));
        (_a1, _a2) = (Vector256.Create(a1), Vector256.Create(a2));
        (_first, _second) = (default, default);
    }

    /// <summary>The bilinear transform of (n0 + n1·s + n2·s²)/(d0 + d1·s + d2·s²) at a rate.</summary>
    public static Biquad Bilinear(double rateHertz, (double N0, double N1, double N2) n, (double D0, double D1, double D2) d)
    {
        var k = 2 * rateHertz;
        var (n1, n2, d1, d2) = (n.N1 * k, n.N2 * k * k, d.D1 * k, d.D2 * k * k);
        var scale = 1 / (d.D0 + d1 + d2);
        return new Biquad(
            (n.N0 + n1 + n2) * scale, 2 * (n.N0 - n2) * scale, (n.N0 - n1 + n2) * scale,
            2 * (d.D0 - d2) * scale, (d.D0 - d1 + d2) * scale);
    }

    /// <summary>Forgets what went in.</summary>
    public void Clear() => (_first, _second) = (default, default);

    /// <summary>One step.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<double> Step(Vector256<double> input)
    {
        var output = Vector256.MultiplyAddEstimate(_b0, input, _first);
        _first = Vector256.MultiplyAddEstimate(_b1, input, _second) - (_a1 * output);
        _second = (_b2 * input) - (_a2 * output);
        return output;
    }

    /// <summary>Size of the response at a frequency.</summary>
    public readonly double Response(double hertz, double rateHertz)
    {
        var z = Complex.FromPolarCoordinates(1, -2 * Math.PI * hertz / rateHertz);
        return ((_b0[0] + (_b1[0] * z) + (_b2[0] * z * z)) / (1 + (_a1[0] * z) + (_a2[0] * z * z))).Magnitude;
    }
}
