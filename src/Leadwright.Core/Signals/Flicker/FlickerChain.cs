using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Leadwright.Core.Signals.Flicker;

/// <summary>Blocks 3 and 4 of the flickermeter for four lanes: from the normalised square of the voltage to P<sub>inst</sub>.</summary>
/// <remarks>
/// <para>IEC 61000-4-15 Ed. 2 clause 5: 0.05 Hz high-pass, sixth-order Butterworth low-pass (35 Hz on 50 Hz supplies, 42 Hz on
/// 60 Hz ones), the weighting of lamp, eye and brain, squaring, 300 ms smoothing. Every section by the bilinear transform, the
/// Butterworth's corner corrected for its warping. The scale follows from the definition: P<sub>inst</sub> reaches 1 at
/// 8.8 Hz and 0.250 % (230 V) or 0.321 % (120 V).</para>
/// </remarks>
internal sealed class FlickerChain
{
    private const double ScaleHertz = 8.8;

    private readonly Vector256<double> _scale;
    private Biquad _highPass, _first, _second, _third, _resonance, _shelf, _smoothing;

    public FlickerChain(double rateHertz, double lineHertz, FlickerLamp lamp)
    {
        var corner = 2 * Math.PI * 0.05;
        _highPass = Biquad.Bilinear(rateHertz, (0, 1, 0), (corner, 1, 0));
        var cutOff = 2 * rateHertz * Math.Tan(Math.PI * (lineHertz < 55 ? 35 : 42) / rateHertz);
        _first = LowPass(rateHertz, cutOff, 1);
        _second = LowPass(rateHertz, cutOff, 3);
        _third = LowPass(rateHertz, cutOff, 5);

        // Constants of the standard's table for the weighting filter.
        var (k, lambda, w1, w2, w3, w4, depth) = lamp == FlickerLamp.Volts230
            ? (1.74802, 4.05981, 9.15494, 2.27979, 1.22535, 21.9, 0.250)
            : (1.6357, 4.167375, 9.077169, 2.939902, 1.394468, 17.31512, 0.321);
        var turn = 2 * Math.PI;
        (lambda, w1, w2, w3, w4) = (lambda * turn, w1 * turn, w2 * turn, w3 * turn, w4 * turn);
        _resonance = Biquad.Bilinear(rateHertz, (0, k * w1, 0), (w1 * w1, 2 * lambda, 1));
        _shelf = Biquad.Bilinear(rateHertz, (1, 1 / w2, 0), (1, (1 / w3) + (1 / w4), 1 / (w3 * w4)));
        _smoothing = Biquad.Bilinear(rateHertz, (1, 0, 0), (1, 0.3, 0));

        // A modulation of depth d moves the square by d·sin; squared again it swings about d²/2 at twice the frequency.
        var size = depth / 100 * Response(ScaleHertz, rateHertz);
        _scale = Vector256.Create(2 / (size * size * (1 + _smoothing.Response(2 * ScaleHertz, rateHertz))));
    }

    /// <summary>Starts afresh; an input of one is taken to have lasted for ever.</summary>
    public void Clear()
    {
        _highPass.Clear();
        _first.Clear();
        _second.Clear();
        _third.Clear();
        _resonance.Clear();
        _shelf.Clear();
        _smoothing.Clear();
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _highPass);
        carrier.Carry(ref _first);
        carrier.Carry(ref _second);
        carrier.Carry(ref _third);
        carrier.Carry(ref _resonance);
        carrier.Carry(ref _shelf);
        carrier.Carry(ref _smoothing);
    }

    /// <summary>One step of the normalised square, less one.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<double> Step(Vector256<double> deviation)
    {
        var value = _third.Step(_second.Step(_first.Step(_highPass.Step(deviation))));
        value = _shelf.Step(_resonance.Step(value));
        return _smoothing.Step(_scale * value * value);
    }

    private static Biquad LowPass(double rateHertz, double cutOff, int pole) => Biquad.Bilinear(
        rateHertz, (cutOff * cutOff, 0, 0), (cutOff * cutOff, 2 * cutOff * Math.Sin(pole * Math.PI / 12), 1));

    private double Response(double hertz, double rateHertz)
    {
        var response = 1.0;
        foreach (var section in (ReadOnlySpan<Biquad>)[_highPass, _first, _second, _third, _resonance, _shelf])
            response *= section.Response(hertz, rateHertz);
        return response;
    }
}
