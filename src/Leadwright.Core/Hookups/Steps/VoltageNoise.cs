using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>What moves the voltages at a step besides the known currents, as a covariance.</summary>
/// <param name="Inverse">Its inverse; channel by channel.</param>
/// <param name="Rows">The inverse seen by the conductors: rows transposed, inverse, rows.</param>
/// <param name="Reach">Rows transposed times inverse; conductor, then channel.</param>
/// <param name="LogDeterminant">Natural logarithm of its determinant.</param>
internal sealed record VoltageNoise(Phasor[] Inverse, Phasor[] Rows, Phasor[] Reach, double LogDeterminant)
{
    // The neutral's impedance may be anything from next to nothing to twice the line's: what an unread line drops, it drops in its own proportion.
    private static readonly double s_ownNeutral = Math.Pow(SourceModel.NeutralFactor * SourceModel.Regimes[0].Neutral, 2);

    /// <summary>The noise of one arrangement of leads with some currents unknown.</summary>
    /// <param name="table">The steps.</param>
    /// <param name="rows">The leads.</param>
    /// <param name="unknown">Lines whose current is unknown, as bits.</param>
    /// <param name="moving">Those of them that move, as bits; the others all but stand still.</param>
    /// <param name="returnsElsewhere">True when an unknown line's current does not come back through an unread neutral.</param>
    /// <param name="ownFactor">Factor of the variance of each voltage for itself.</param>
    /// <param name="commonFloor">Least spread of what all voltages share.</param>
    /// <param name="openWandering">Spread of a channel with a lead in the air, as a share of the reference.</param>
    /// <param name="impedance">What a moving line drops, reference volts per ampere that the clamps see.</param>
    /// <param name="still">What a line drops that all but stands still.</param>
    public static VoltageNoise Of(
        StepTable table, LeadRows rows, int unknown, int moving, bool returnsElsewhere, double ownFactor, double commonFloor,
        double openWandering, double impedance, double still)
    {
        const int Conductors = LeadRows.Conductors;
        var channels = table.Voltages.Length;
        var covariance = Base(table, ownFactor, commonFloor);
        for (var channel = 0; channel < channels; channel++)
        {
            if (rows.IsOpen[channel]) covariance[channel * (channels + 1)] += new Phasor(openWandering * openWandering, 0);
        }

        for (var line = 0; line < Place.N; line++)
        {
            if ((unknown & (1 << line)) == 0) continue;
            var spread = table.TypicalAmperes * ((moving & (1 << line)) != 0 ? impedance : Math.Min(impedance, still));
            for (var k = 0; k < channels; k++)
            {
                for (var l = 0; l < channels; l++)
                {
                    var together = (Reach(k, line) * Reach(l, line)) + (returnsElsewhere ? 0 : s_ownNeutral * OfNeutral(k) * OfNeutral(l));
                    covariance[(k * channels) + l] += new Phasor(spread * spread * together, 0);
                }
            }
        }

        var logDeterminant = HermitianMatrix.Factor(covariance, channels);
        var inverse = new Phasor[channels * channels];
        HermitianMatrix.Invert(covariance, channels, inverse);
        var reach = new Phasor[Conductors * channels];
        var seen = new Phasor[Conductors * Conductors];
        for (var k = 0; k < channels; k++)
        {
            for (var l = 0; l < channels; l++)
            {
                var value = inverse[(k * channels) + l];
                for (var one = 0; one < Conductors; one++)
                {
                    reach[(one * channels) + l] += rows.Rows[(k * Conductors) + one] * value;
                    for (var other = 0; other < Conductors; other++)
                        seen[(one * Conductors) + other] += rows.Rows[(k * Conductors) + one] * rows.Rows[(l * Conductors) + other] * value;
                }
            }
        }

        return new VoltageNoise(inverse, seen, reach, logDeterminant);

        double Reach(int channel, int line) =>
            rows.Rows[(channel * Conductors) + line] - (returnsElsewhere ? 0 : SourceModel.NeutralFactor * OfNeutral(channel));

        double OfNeutral(int channel) => rows.Rows[(channel * Conductors) + Place.N];
    }

    /// <summary>Determinant of the noise with all leads on and all currents known.</summary>
    public static double LogDeterminantWithoutOpen(StepTable table) => HermitianMatrix.Factor(Base(table, 1, 0), table.Voltages.Length);

    private static Phasor[] Base(StepTable table, double ownFactor, double commonFloor)
    {
        var channels = table.Voltages.Length;
        var covariance = new Phasor[channels * channels];
        var own = (ownFactor * table.OwnWandering * table.OwnWandering) + (table.ModelWandering * table.ModelWandering);
        var common = (table.CommonWandering * table.CommonWandering) + (commonFloor * commonFloor);
        double largest = 0;
        foreach (var voltage in table.MeanVoltages) largest = Math.Max(largest, voltage.SquaredMagnitude);
        for (var k = 0; k < channels; k++)
        {
            for (var l = 0; l < channels; l++)
            {
                covariance[(k * channels) + l] = common * (table.MeanVoltages[k] * table.MeanVoltages[l].Conjugate);
                if (k == l) covariance[(k * channels) + l] += new Phasor(own * largest, 0);
            }
        }

        return covariance;
    }
}
