using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>Turns what the inputs get into what a person reads.</summary>
internal static class ReadingScreen
{
    public static PanelReadings Show(Inputs inputs, SeededRandom random)
    {
        var (instrument, display) = (inputs.Instrument, inputs.Instrument.Display);
        var source = inputs.Solution.Panel.Source;
        AddNoise(inputs, random);

        var reference = ReferenceRadians(inputs);
        var channels = ImmutableSortedDictionary.CreateBuilder<Channel, ChannelReading>();
        var isThreeWire = inputs.ShowsBetweenLines;
        for (var channel = Channel.V1; channel <= Channel.IN; channel++)
        {
            if (!inputs.Has(channel)) continue;
            if (channel <= Channel.V31 && isThreeWire != (channel >= Channel.V12)) continue;
            channels.Add(channel, ReadChannel(inputs, channel, reference));
        }

        var lineToLine = ImmutableSortedDictionary<Channel, double>.Empty;
        if (display.ShowsLineToLine && !isThreeWire && !instrument.ReplaysVoltage)
        {
            var builder = lineToLine.ToBuilder();
            for (var channel = Channel.V12; channel <= Channel.V31; channel++)
            {
                if (inputs.Has(channel)) builder.Add(channel, Rounding.ToDigits(Rms(inputs, channel), display.SignificantDigits));
            }

            lineToLine = builder.ToImmutable();
        }

        return new PanelReadings
        {
            Service = inputs.Service.Kind,
            Nominal = source.Nominal,
            FrequencyHertz = source.NominalFrequencyHertz,
            AngleSign = display.StatesConventions ? display.AngleSign : AngleSign.NotStated,
            CurrentAngleReference = display.StatesConventions ? display.CurrentAngleReference : CurrentAngleReference.NotStated,
            PowerSign = display.StatesConventions ? display.PowerSign : PowerSign.NotStated,
            IsReplayed = instrument.ReplaysVoltage,
            Channels = channels.ToImmutable(),
            Phases = Powers(inputs),
            LineToLineVolts = lineToLine,
            VoltageSumFraction = display.ShowsVoltageSum ? VoltageSum(inputs) : null,
        };
    }

    private static void AddNoise(Inputs inputs, SeededRandom random)
    {
        var voltageNoise = inputs.Instrument.VoltageNoiseFraction * inputs.Solution.Panel.Source.Nominal.LineToNeutralVolts;
        var currentNoise = inputs.Instrument.CurrentNoiseFraction * inputs.Instrument.ClampRatingAmperes;
        for (var channel = Channel.V1; channel <= Channel.IN; channel++)
        {
            if (channel is >= Channel.V12 and <= Channel.V31) continue;
            var noise = new Phasor(random.Gaussian(), random.Gaussian());
            if (!inputs.Has(channel)) continue;
            var size = channel < Channel.V12 ? voltageNoise : currentNoise * ScaleOf(inputs, channel);
            inputs.Add(channel, size * noise);
        }

        inputs.FormLineToLine();
    }

    private static ChannelReading ReadChannel(Inputs inputs, Channel channel, double reference)
    {
        var display = inputs.Instrument.Display;
        var rms = Rounding.ToDigits(Rms(inputs, channel), display.SignificantDigits);
        double? angle = null;
        if (display.ShowsAngles)
        {
            var from = reference;
            if (channel >= Channel.I1 && display.CurrentAngleReference == CurrentAngleReference.OwnVoltage)
                from = OwnVoltage(inputs, 0, channel).AngleRadians;
            var degrees = Angle.WrapDegrees((inputs.At(0, channel).AngleRadians - from) * (180 / Math.PI));
            if (display.AngleSign == AngleSign.LagPositive) degrees = -degrees;

            // Adding zero turns -0 into 0.
            angle = Angle.WrapDegrees(Rounding.ToDecimals(degrees, display.AngleDecimals)) + 0.0;
        }

        double? spread = null;
        if (display.ShowsSpread)
        {
            spread = channel switch
            {
                >= Channel.I1 => inputs.Instrument.CurrentNoiseFraction * inputs.Instrument.ClampRatingAmperes * ScaleOf(inputs, channel),
                >= Channel.V12 => Math.Sqrt(2) * inputs.Instrument.VoltageNoiseFraction * inputs.Solution.Panel.Source.Nominal.LineToNeutralVolts,
                _ => inputs.Instrument.VoltageNoiseFraction * inputs.Solution.Panel.Source.Nominal.LineToNeutralVolts,
            };
        }

        return new ChannelReading(rms, angle, spread);
    }

    private static ImmutableSortedDictionary<int, PhasePower> Powers(Inputs inputs)
    {
        var display = inputs.Instrument.Display;
        if (!display.ShowsWatts && !display.ShowsVars && !display.ShowsVoltAmperes && !display.ShowsPowerFactor)
            return ImmutableSortedDictionary<int, PhasePower>.Empty;
        var phases = ImmutableSortedDictionary.CreateBuilder<int, PhasePower>();
        var sign = display.PowerSign == PowerSign.LoadNegative ? -1 : 1;
        for (var channel = Channel.I1; channel <= Channel.I3; channel++)
        {
            var number = channel - Channel.I1 + 1;
            if (!inputs.Has(channel) || !inputs.Has(VoltageOf(channel))) continue;
            double watts = 0, vars = 0, squareVolts = 0;
            for (var index = 0; index < inputs.Solution.Orders.Length; index++)
            {
                var volts = OwnVoltage(inputs, index, channel);
                var power = volts * inputs.At(index, channel).Conjugate;
                watts += power.Real;
                if (index == 0) vars = power.Imaginary;
                squareVolts += volts.SquaredMagnitude;
            }

            var voltAmperes = Math.Sqrt(squareVolts) * Rms(inputs, channel);
            phases.Add(number, new PhasePower(
                display.ShowsWatts ? Rounding.ToDigits(sign * watts, display.SignificantDigits) : null,
                display.ShowsVars ? Rounding.ToDigits(sign * vars, display.SignificantDigits) : null,
                display.ShowsVoltAmperes ? Rounding.ToDigits(voltAmperes, display.SignificantDigits) : null,
                display.ShowsPowerFactor && voltAmperes > 0
                    ? Rounding.ToDecimals(Math.Clamp(sign * watts / voltAmperes, -1, 1), Math.Min(15, display.SignificantDigits - 1))
                    : null));
        }

        return phases.ToImmutable();
    }

    /// <summary>The voltage that the instrument multiplies a current with.</summary>
    private static Phasor OwnVoltage(Inputs inputs, int orderIndex, Channel current)
    {
        if (inputs.Service.Kind == ServiceKind.DeltaTwoClamp)
        {
            return current == Channel.I3
                ? -inputs.At(orderIndex, Channel.V23)
                : inputs.At(orderIndex, Channel.V12);
        }

        return inputs.At(orderIndex, VoltageOf(current));
    }

    private static Channel VoltageOf(Channel current) =>
        current == Channel.IN ? Channel.V1 : (Channel)(current - Channel.I1);

    private static double Rms(Inputs inputs, Channel channel)
    {
        var square = 0.0;
        for (var index = 0; index < inputs.Solution.Orders.Length; index++) square += inputs.At(index, channel).SquaredMagnitude;
        return Math.Sqrt(square);
    }

    private static double ReferenceRadians(Inputs inputs)
    {
        var first = inputs.ShowsBetweenLines ? Channel.V12 : Channel.V1;
        var enough = 0.1 * inputs.Solution.Panel.Source.Nominal.LineToNeutralVolts;
        for (var channel = first; channel < first + 3; channel++)
        {
            if (inputs.Has(channel) && inputs.At(0, channel).Magnitude >= enough) return inputs.At(0, channel).AngleRadians;
        }

        return inputs.At(0, first).AngleRadians;
    }

    private static double? VoltageSum(Inputs inputs)
    {
        if (inputs.Service.Kind != ServiceKind.Wye || inputs.Instrument.ReplaysVoltage
            || !inputs.Has(Channel.V1) || !inputs.Has(Channel.V2) || !inputs.Has(Channel.V3))
            return null;
        var square = 0.0;
        for (var index = 0; index < inputs.Solution.Orders.Length; index++)
            square += (inputs.At(index, Channel.V1) + inputs.At(index, Channel.V2) + inputs.At(index, Channel.V3)).SquaredMagnitude;
        var mean = (Rms(inputs, Channel.V1) + Rms(inputs, Channel.V2) + Rms(inputs, Channel.V3)) / 3;
        return mean > 0 ? Math.Sqrt(square) / mean : null;
    }

    private static double ScaleOf(Inputs inputs, Channel current) => inputs.Hookup.Clamps[(Clamp)(current - Channel.I1)].Scale;
}
