using Leadwright.Core.Circuits;
using Leadwright.Core.Power;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Measuring;

/// <summary>Unbalance and powers of one window from its sums and fundamentals.</summary>
internal static class WindowPower
{
    private const int Current = Lane.VoltageCount;

    public static void Unbalance(MeasuringPlan plan, WindowMeter meter, int lost, double[] scalars)
    {
        if (plan.PhaseCount < 3) return;
        if ((plan.Lanes & ~lost & 0b111) == 0b111)
        {
            var voltage = SequenceComponents.Of(meter.Harmonic(0, 1), meter.Harmonic(1, 1), meter.Harmonic(2, 1));
            // On an A-C-B supply the sequences change places; the smaller one is the unbalance.
            var (positive, negative) = (voltage.Positive.Magnitude, voltage.Negative.Magnitude);
            var (main, other) = (Math.Max(positive, negative), Math.Min(positive, negative));
            scalars[Scalars.Unbalance] = main > 0 ? other / main : double.NaN;
            if (!plan.IsThreeWire) scalars[Scalars.Unbalance + 1] = main > 0 ? voltage.Zero.Magnitude / main : double.NaN;
            var (ab, bc, ca) = LineToLine(plan, meter);
            scalars[Scalars.Unbalance + 2] = Circuits.Unbalance.MaximumDeviation(Math.Sqrt(ab), Math.Sqrt(bc), Math.Sqrt(ca));
        }

        if (((plan.Lanes & ~lost) >> Current & 0b111) == 0b111)
        {
            var current = SequenceComponents.Of(meter.Harmonic(Current, 1), meter.Harmonic(Current + 1, 1), meter.Harmonic(Current + 2, 1));
            var (positive, negative) = (current.Positive.Magnitude, current.Negative.Magnitude);
            var (main, other) = (Math.Max(positive, negative), Math.Min(positive, negative));
            scalars[Scalars.Unbalance + 3] = main > 0 ? other / main : double.NaN;
            if (!plan.IsThreeWire) scalars[Scalars.Unbalance + 4] = main > 0 ? current.Zero.Magnitude / main : double.NaN;
        }
    }

    public static void Powers(MeasuringPlan plan, WindowMeter meter, int lost, double[] scalars)
    {
        var phases = plan.PhaseCount;
        var needed = (1 << phases) - 1;
        if (plan.IsThreeWire ? (lost & 0x77) != 0 : (lost & (needed | (needed << Current))) == (needed | (needed << Current))) return;
        Span<Phasor> voltages = stackalloc Phasor[3];
        Span<Phasor> currents = stackalloc Phasor[3];
        Span<double> voltageSquares = stackalloc double[3];
        double active = 0, arithmetic = 0;
        var isWhole = true;
        for (var phase = 0; phase < phases; phase++)
        {
            var isLost = !plan.IsThreeWire && (lost & (0x11 << phase)) != 0;
            voltages[phase] = meter.Harmonic(phase, 1);
            currents[phase] = meter.Harmonic(Current + phase, 1);
            voltageSquares[phase] = meter.MeanSquares[phase];
            var watts = meter.OwnProducts[phase];
            if (plan.IsThreeWire)
            {
                // To the star point of the lines: v1 = (v12 − v31)/3.
                var before = (phase + 2) % 3;
                voltages[phase] = (meter.Harmonic(phase, 1) - meter.Harmonic(before, 1)) / 3;
                watts = (watts - meter.PreviousProducts[phase]) / 3;
                voltageSquares[phase] = (meter.MeanSquares[phase] + meter.MeanSquares[before] - (2 * meter.NextProducts[before])) / 9;
            }

            var power = SinglePhasePower.Of(
                voltages[phase], currents[phase], Math.Sqrt(Math.Max(voltageSquares[phase], 0)), Math.Sqrt(meter.MeanSquares[Current + phase]), watts);
            isWhole &= !isLost;
            if (isLost) continue;
            active += watts;
            arithmetic += power.Apparent;
            Write(power, scalars.AsSpan(Scalars.Phase + (phase * Scalars.PhaseCount)));
        }

        if (!isWhole) return;
        if (phases == 3) WriteThreePhase(plan, meter, voltages, currents, voltageSquares, active, arithmetic, scalars.AsSpan(Scalars.Total));
        else WriteSum(scalars, phases, arithmetic);
    }

    private static void Write(in SinglePhasePower power, Span<double> to)
    {
        to[0] = power.Active;
        to[1] = power.FundamentalActive;
        to[2] = power.FundamentalReactive;
        to[3] = power.Apparent;
        to[4] = power.FundamentalApparent;
        to[5] = power.Nonactive;
        to[6] = power.NonfundamentalApparent;
        to[7] = power.CurrentDistortionPower;
    }

    // Two legs or one: the totals that are sums; effective quantities are defined for three phases.
    private static void WriteSum(double[] scalars, int phases, double arithmetic)
    {
        var to = scalars.AsSpan(Scalars.Total);
        for (var index = 0; index < 3; index++)
        {
            to[index] = 0;
            for (var phase = 0; phase < phases; phase++) to[index] += scalars[Scalars.Phase + (phase * Scalars.PhaseCount) + index];
        }

        to[6] = SinglePhasePower.Residual(arithmetic, to[0]);
        to[11] = arithmetic;
    }

    private static void WriteThreePhase(
        MeasuringPlan plan, WindowMeter meter, ReadOnlySpan<Phasor> voltages, ReadOnlySpan<Phasor> currents,
        ReadOnlySpan<double> voltageSquares, double active, double arithmetic, Span<double> to)
    {
        var (ab, bc, ca) = LineToLine(plan, meter);
        var square = meter.MeanSquares;
        var products = meter.NextProducts;
        var currentSquares = square[Current] + square[Current + 1] + square[Current + 2];
        var sum = currents[0] + currents[1] + currents[2];
        // Where no clamp is on the neutral, its current is what the others leave over.
        var hasClamp = plan.Has(7);
        var neutral = hasClamp ? square[7] : currentSquares + (2 * (products[Current] + products[Current + 1] + products[Current + 2]));
        var power = ThreePhasePower.Of(new LineQuantities
        {
            Voltages = new ThreePhasors(voltages[0], voltages[1], voltages[2]),
            Currents = new ThreePhasors(currents[0], currents[1], currents[2]),
            VoltageSquares = voltageSquares[0] + voltageSquares[1] + voltageSquares[2],
            LineToLineSquares = ab + bc + ca,
            CurrentSquares = currentSquares,
            NeutralSquare = plan.IsThreeWire ? 0 : Math.Max(neutral, 0),
            Neutral = plan.IsThreeWire ? Phasor.Zero : hasClamp ? meter.Harmonic(7, 1) : sum,
            Active = active,
            ArithmeticApparent = arithmetic,
            HasNeutral = !plan.IsThreeWire,
        });
        to[0] = power.Active;
        to[1] = power.FundamentalActive;
        to[2] = power.FundamentalReactive;
        to[3] = power.Apparent;
        to[4] = power.FundamentalApparent;
        to[5] = power.NonfundamentalApparent;
        to[6] = power.Nonactive;
        to[7] = power.PositiveActive;
        to[8] = power.PositiveReactive;
        to[9] = power.PositiveApparent;
        to[10] = power.UnbalancedPower;
        to[11] = power.ArithmeticApparent;
    }

    private static (double Ab, double Bc, double Ca) LineToLine(MeasuringPlan plan, WindowMeter meter)
    {
        var square = meter.MeanSquares;
        if (plan.IsThreeWire) return (square[0], square[1], square[2]);
        var product = meter.NextProducts;
        return (
            Math.Max(square[0] + square[1] - (2 * product[0]), 0),
            Math.Max(square[1] + square[2] - (2 * product[1]), 0),
            Math.Max(square[2] + square[0] - (2 * product[2]), 0));
    }
}
