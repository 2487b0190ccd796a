using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How well the voltages fit one arrangement of the leads.</summary>
/// <param name="LogLikelihood">Natural logarithm of the marginal likelihood: size and phase of the supply, its unbalance and
/// the reading errors are integrated over.</param>
/// <param name="Frame">Volts and phase that one unit of the predicted pattern has in the readings' frame.</param>
/// <param name="ConductorAngles">Angles of lines A, B, C in the readings' frame, radians: to neutral, on a high-leg service to the
/// centre of the lines.</param>
/// <param name="ClampVoltageAngles">Angle of the voltage that the recorder takes as each clamp's own, radians; NaN where
/// that voltage is none.</param>
internal sealed record VoltageFit(
    double LogLikelihood, Phasor Frame, double[] ConductorAngles, double[] ClampVoltageAngles)
{
    /// <summary>False when no reading ties the supply's phase to the readings' frame, as with all leads on one conductor:
    /// <see cref="ConductorAngles"/> then are right among themselves and turned together by an angle that nothing tells.</summary>
    public bool IsPhaseKnown { get; init; } = true;

    // Unbalance of the supply, per conductor, as a share of nominal: usual, large, very large.
    private static readonly (double Deviation, double Weight)[] s_unbalance = [(0.010, 0.76), (0.025, 0.19), (0.07, 0.05)];

    // Three-wire and high-leg supplies are often two transformers in open delta, whose unbalance grows with the load.
    private static readonly (double Deviation, double Weight)[] s_deltaUnbalance = [(0.010, 0.70), (0.025, 0.23), (0.07, 0.07)];

    // An open input reads next to nothing on some instruments, a few percent on others, now and then anything.
    private const double QuietInput = 0.003;
    private const double StrayDeviation = 0.05;
    // An open input drifts to the mean of the others: nearly so with equal input impedances, roughly so without.
    private const double EvenInputs = 0.012;
    private const double FloatDeviation = 0.06;
    // Inputs that share no lead read nothing where one of their own two is open, and some instruments blank such a channel.
    private const double FloatsQuiet = 0.12;
    private const double BroadRadius = 2.2;
    private const double OutlierShare = 1e-5;

    /// <summary>A voltage below this share of nominal has no angle to go by.</summary>
    private const double LeastReference = 0.02;

    /// <summary>The same with the supply turned against the readings' frame.</summary>
    /// <param name="radians">By how much.</param>
    public VoltageFit Turned(double radians) => this with
    {
        Frame = Frame * Phasor.FromRadians(1, radians),
        ConductorAngles = Array.ConvertAll(ConductorAngles, angle => angle + radians),
    };

    public static VoltageFit Of(Observation observation, LeadMap map)
    {
        var conductors = LeadPotentials.Conductors(observation.Service, map);
        var potentials = LeadPotentials.Of(map, observation.Service, conductors);
        var unit = observation.ReferenceVolts;
        var predictions = new ChannelPrediction[observation.Voltages.Length];
        for (var index = 0; index < predictions.Length; index++)
        {
            var voltage = observation.Voltages[index];
            predictions[index] = potentials.Between(voltage.Plus, voltage.Minus);
        }

        double best = double.NegativeInfinity;
        var unbalance = observation.Service.IsThreeWire || observation.Service.Kind == ServiceKind.HighLeg ? s_deltaUnbalance : s_unbalance;
        Span<double> levels = stackalloc double[unbalance.Length];
        var frame = new Phasor(1, 0);
        var isPhaseKnown = true;
        for (var level = 0; level < unbalance.Length; level++)
        {
            var (deviation, weight) = unbalance[level];
            var fitted = Fit(observation, predictions, potentials, unit, deviation, out var log, out isPhaseKnown);
            levels[level] = Math.Log(weight) + log;
            if (levels[level] > best) (best, frame) = (levels[level], fitted);
        }

        double sum = 0;
        foreach (var level in levels) sum += Math.Exp(level - best);
        var logLikelihood = best + Math.Log(sum) + NeutralLead.LogFactor(observation, map)
            + NeutralToGround.LogDensity(observation, map, conductors, potentials.Star, frame);
        return new VoltageFit(
            logLikelihood,
            unit * frame,
            Array.ConvertAll(
                LeadPotentials.LineAngles(observation.Service, map, conductors), angle => angle + frame.AngleRadians),
            ClampVoltages(observation, potentials, frame))
        {
            IsPhaseKnown = isPhaseKnown,
        };
    }

    private static Phasor Fit(
        Observation observation, ChannelPrediction[] predictions, LeadPotentials potentials, double unit, double deviation, out double log, out bool isPhaseKnown)
    {
        // The common size and phase of the supply, by weighted least squares on the channels that the conductors set.
        var cross = Phasor.Zero;
        double weightSum = 0, sizeCross = 0, sizeWeight = 0;
        for (var index = 0; index < predictions.Length; index++)
        {
            var voltage = observation.Voltages[index];
            var prediction = predictions[index];
            if (prediction.Kind != PredictionKind.Sure) continue;
            var weight = 1 / Variance(voltage.Relative, prediction.Lines, deviation);
            if (double.IsNaN(voltage.AngleRadians))
            {
                sizeCross += weight * prediction.Value.Magnitude * voltage.Volts / unit;
                sizeWeight += weight * prediction.Value.SquaredMagnitude;
            }
            else
            {
                cross += weight * (prediction.Value.Conjugate * Phasor.FromRadians(voltage.Volts / unit, voltage.AngleRadians));
                weightSum += weight * prediction.Value.SquaredMagnitude;
            }
        }

        foreach (var pair in observation.LineToLine)
        {
            var prediction = potentials.Between(pair.First, pair.Second);
            if (prediction.Kind != PredictionKind.Sure) continue;
            var weight = 1 / Variance(0.004, prediction.Lines, deviation);
            sizeCross += weight * prediction.Value.Magnitude * pair.Volts / unit;
            sizeWeight += weight * prediction.Value.SquaredMagnitude;
        }

        var size = (cross.Magnitude + sizeCross) / Math.Max(weightSum + sizeWeight, 1e-12);
        if (weightSum + sizeWeight < 1e-6) size = 1;
        var reference = ReferencePhase(observation, predictions);
        var phase = weightSum > 1e-6 ? cross.AngleRadians : reference ?? 0;
        isPhaseKnown = weightSum > 1e-6 || reference is not null;
        var frame = Phasor.FromRadians(size, phase);
        log = LogSizePrior(size, observation);
        if (weightSum > 1e-6)
            log += Math.Log(1 / (Math.Max(size, 1e-3) * (weightSum + sizeWeight)));
        else if (sizeWeight > 1e-6)
            log += 0.5 * Math.Log(2 * Math.PI / sizeWeight);

        for (var index = 0; index < predictions.Length; index++)
        {
            var voltage = observation.Voltages[index];
            var prediction = predictions[index];
            log += double.IsNaN(voltage.AngleRadians)
                ? LogSize(voltage.Volts / unit, size * prediction.Value.Magnitude, size * prediction.Middle.Magnitude, prediction, voltage.Relative, deviation)
                : LogPhasor(
                    Phasor.FromRadians(voltage.Volts / unit, voltage.AngleRadians) - (frame * prediction.Value), frame * prediction.Value,
                    frame * prediction.Middle, prediction, voltage.Relative, deviation);
        }

        foreach (var pair in observation.LineToLine)
        {
            var prediction = potentials.Between(pair.First, pair.Second);
            log += LogSize(pair.Volts / unit, size * prediction.Value.Magnitude, size * prediction.Middle.Magnitude, prediction, 0.004, deviation);
        }

        return frame;
    }

    private static double Variance(double relative, double lines, double deviation) =>
        (relative * relative) + (lines * deviation * deviation);

    /// <summary>Where no voltage angle was read, the readings' frame is that of V1; null where that reads nothing, or angles were read
    /// that say nothing.</summary>
    private static double? ReferencePhase(Observation observation, ChannelPrediction[] predictions)
    {
        var isRead = false;
        for (var index = 0; index < predictions.Length; index++)
        {
            isRead |= !double.IsNaN(observation.Voltages[index].AngleRadians);
            if (observation.Voltages[index].Channel is not (Channel.V1 or Channel.V12)) continue;
            var prediction = predictions[index];
            return !isRead && prediction.Value.Magnitude > LeastReference ? -prediction.Value.AngleRadians : null;
        }

        return isRead ? null : 0;
    }

    private static double LogSizePrior(double size, Observation observation)
    {
        var log = Math.Log(Math.Max(size, 1e-3));
        if (!observation.NominalKnown && observation.ExpectsStandardVoltages)
        {
            double sum = 0;
            var usual = StandardVoltages.Of(observation.Service.Kind);
            for (var index = 0; index < usual.Length; index++)
            {
                sum += StandardVoltages.ShareOf(observation.Service.Kind, index)
                    * Gauss.Density(log - Math.Log(usual[index].LineToNeutralVolts / observation.ReferenceVolts), 0.04);
            }

            return Math.Log(sum + (1e-6 * Gauss.Density(log, 1)));
        }

        return observation.NominalKnown
            ? Math.Log((0.97 * Gauss.Density(log, 0.04)) + (0.03 * Gauss.Density(log, 0.7)))
            : Math.Log(Gauss.Density(log, 1));
    }

    private static double LogPhasor(Phasor residual, Phasor predicted, Phasor middle, ChannelPrediction prediction, double relative, double deviation)
    {
        var broad = 1 / (Math.PI * BroadRadius * BroadRadius);
        var density = prediction.Kind switch
        {
            PredictionKind.Sure => Gauss.PlaneDensity(residual, Variance(relative, prediction.Lines, deviation)),
            PredictionKind.Stray or PredictionKind.Lone => (Quiet(prediction) * Gauss.PlaneDensity(residual, QuietInput * QuietInput))
                + ((0.85 - Quiet(prediction) - Hangs(prediction)) * Gauss.PlaneDensity(residual, StrayDeviation * StrayDeviation))
                + (Hangs(prediction) * Gauss.PlaneDensity(residual - middle, EvenInputs * EvenInputs)) + (0.15 * broad),
            _ => (0.38 * Gauss.PlaneDensity(residual, EvenInputs * EvenInputs))
                + (0.30 * Gauss.PlaneDensity(residual, FloatDeviation * FloatDeviation))
                + (FloatsQuiet * Gauss.PlaneDensity(residual + predicted, QuietInput * QuietInput)) + (0.20 * broad),
        };
        return Math.Log(((1 - OutlierShare) * density) + (OutlierShare * broad));
    }

    /// <summary>Share of open inputs that read next to nothing: few beside others that are live, many where the only one is open.</summary>
    private static double Quiet(ChannelPrediction prediction) => prediction.Kind == PredictionKind.Lone ? 0.5 : 0.08;

    /// <summary>Share of inputs with an open lead that hang between the others' leads although the neutral lead is on: inputs whose own resistance goes to
    /// each other and not to the neutral.</summary>
    private static double Hangs(ChannelPrediction prediction) =>
        prediction.Kind == PredictionKind.Stray && prediction.Middle.SquaredMagnitude > StrayDeviation * StrayDeviation ? 0.08 : 0;

    private static double LogSize(double size, double predicted, double middle, ChannelPrediction prediction, double relative, double deviation)
    {
        const double Broad = 1 / BroadRadius;
        var residual = size - predicted;
        var folded = predicted < 1e-9 ? 2 : 1;
        var density = prediction.Kind switch
        {
            PredictionKind.Sure => folded * Gauss.Density(residual, Math.Sqrt(Variance(relative, prediction.Lines, deviation))),
            PredictionKind.Stray or PredictionKind.Lone => (Quiet(prediction) * 2 * Gauss.Density(residual, QuietInput))
                + ((0.85 - Quiet(prediction) - Hangs(prediction)) * 2 * Gauss.Density(residual, StrayDeviation))
                + (Hangs(prediction) * Gauss.Density(size - middle, EvenInputs)) + (0.15 * Broad),
            _ => (0.38 * folded * Gauss.Density(residual, EvenInputs))
                + (0.30 * folded * Gauss.Density(residual, FloatDeviation))
                + (FloatsQuiet * 2 * Gauss.Density(size, QuietInput)) + (0.20 * Broad),
        };
        return Math.Log(((1 - OutlierShare) * density) + (OutlierShare * Broad));
    }

    /// <summary>The voltage that the recorder pairs with each clamp: as read where its angle is known, else as predicted.</summary>
    private static double[] ClampVoltages(Observation observation, LeadPotentials potentials, Phasor frame)
    {
        var service = observation.Service;
        var angles = new double[observation.Currents.Length];
        for (var index = 0; index < angles.Length; index++)
        {
            var number = (int)observation.Currents[index].Clamp;
            if (number > 2)
            {
                angles[index] = double.NaN;
                continue;
            }

            if (observation.IsReplayed)
            {
                var first = Read(observation, Channel.V1) ?? (frame * potentials.Between(0, (int)Lead.VN).Value);
                angles[index] = first.Magnitude < 1e-3 ? double.NaN : first.AngleRadians - (number * 2 * Math.PI / 3);
                continue;
            }

            var (plus, minus, channel, sign) = service.Kind switch
            {
                ServiceKind.DeltaTwoClamp when number == 0 => (0, 1, Channel.V12, 1),
                ServiceKind.DeltaTwoClamp => (2, 1, Channel.V23, -1),
                ServiceKind.Delta => (number, -1, Channel.V1 + number, 1),
                ServiceKind.Split when number == 1 && observation.OnlyFirstLeg => (0, (int)Lead.VN, Channel.V1, 1),
                _ => (number, (int)Lead.VN, Channel.V1 + number, 1),
            };
            var value = Read(observation, channel) is { } read ? sign * read : frame * potentials.Between(plus, minus).Value;
            angles[index] = value.Magnitude < LeastReference ? double.NaN : value.AngleRadians;
        }

        return angles;
    }

    private static Phasor? Read(Observation observation, Channel channel)
    {
        foreach (var voltage in observation.Voltages)
        {
            if (voltage.Channel == channel && !double.IsNaN(voltage.AngleRadians))
                return Phasor.FromRadians(voltage.Volts / observation.ReferenceVolts, voltage.AngleRadians);
        }

        return null;
    }
}
