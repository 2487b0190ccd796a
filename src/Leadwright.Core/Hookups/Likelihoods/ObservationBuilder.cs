using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>Puts readings into one convention and finds what each of them can say.</summary>
internal static class ObservationBuilder
{
    private const double ClampAngleError = 1.5 * Math.PI / 180;
    private const double VoltageReadingError = 0.003;

    /// <summary>Volts below this are what open leads pick up, and no measure of the service's nominal voltage.</summary>
    private const double LeastLive = 1;

    public static Observation Build(PanelReadings readings, Convention convention, ImmutableArray<Note>.Builder? notes)
    {
        var service = Hookups.Service.Of(readings.Service);
        var leads = Leads(readings, service);
        var reference = ReferenceVolts(readings, service);
        var sign = convention.LagPositive ? -1 : 1;
        var voltages = Voltages(readings, service, leads, reference, sign);
        return new Observation(
            service,
            voltages,
            LineToLine(readings, leads),
            Currents(readings, service, convention, sign, notes),
            leads,
            readings.IsReplayed,
            reference,
            readings.Nominal is not null,
            readings.VoltageSumFraction,
            readings.Channels.Any(entry => entry.Key >= Channel.I1 && entry.Value.Spread is not null))
        {
            NeutralToGround = readings.NeutralToGround is { Rms: { } volts } ground
                ? new GroundReading(volts, ground.AngleDegrees is { } degrees ? sign * degrees * Math.PI / 180 : double.NaN)
                : null,
            HasSteps = readings.Steps is { Steps.Steps.IsEmpty: false } || readings.Logged is { IsTelling: true },
        };
    }

    /// <summary>The clamps of the service, read or not; the neutral clamp only where it was read.</summary>
    public static Clamp[] Clamps(PanelReadings readings, Service service)
    {
        var hasNeutral = !service.IsThreeWire && readings.Channels.ContainsKey(Channel.IN);
        return hasNeutral ? [.. service.Clamps, Clamp.IN] : [.. service.Clamps];
    }

    public static Channel ChannelOf(Clamp clamp) => Channel.I1 + (int)clamp;

    /// <summary>The leads of the service, read or not; of an instrument that replays one voltage, those that it has.</summary>
    private static Lead[] Leads(PanelReadings readings, Service service)
    {
        if (!readings.IsReplayed) return [.. service.Leads];
        return [.. service.Leads.Where(lead => lead is Lead.V1 or Lead.VN || (service.IsThreeWire && lead == Lead.V2))];
    }

    private static (int Plus, int Minus) LeadsOf(Channel channel, Service service) => channel switch
    {
        Channel.V12 => (0, 1),
        Channel.V23 => (1, 2),
        Channel.V31 => (2, 0),
        _ => ((int)channel, service.IsThreeWire ? -1 : (int)Lead.VN),
    };

    private static double ReferenceVolts(PanelReadings readings, Service service)
    {
        if (readings.Nominal is { } nominal) return nominal.LineToNeutralVolts;
        double largest = 0;
        foreach (var (channel, reading) in readings.Channels)
        {
            if (channel > Channel.V31 || reading.Rms is not { } volts) continue;
            var ratio = channel >= Channel.V12 ? Circuits.NominalVoltage.LineRatio(service.Kind) : 1;
            largest = Math.Max(largest, volts / ratio);
        }

        foreach (var volts in readings.LineToLineVolts.Values)
            largest = Math.Max(largest, volts / Circuits.NominalVoltage.LineRatio(service.Kind));
        return largest > LeastLive ? largest : Circuits.StandardVoltages.Of(service.Kind)[0].LineToNeutralVolts;
    }

    private static VoltageObservation[] Voltages(
        PanelReadings readings, Service service, Lead[] leads, double reference, int sign)
    {
        var list = new List<VoltageObservation>();
        foreach (var (channel, reading) in readings.Channels)
        {
            if (channel > Channel.V31 || reading.Rms is not { } volts) continue;
            if (readings.IsReplayed && channel != Channel.V1) continue;
            var (plus, minus) = LeadsOf(channel, service);
            if (!leads.Contains((Lead)plus) || (minus >= 0 && !leads.Contains((Lead)minus))) continue;
            var angle = reading.AngleDegrees is { } degrees ? sign * degrees * Math.PI / 180 : double.NaN;
            var relative = Math.Sqrt(Square(VoltageReadingError) + Square((reading.Spread ?? 0) / reference));
            list.Add(new VoltageObservation(channel, plus, minus, volts, angle, relative));
        }

        return [.. list];
    }

    private static LineToLineObservation[] LineToLine(PanelReadings readings, Lead[] leads)
    {
        var list = new List<LineToLineObservation>();
        if (readings.IsReplayed) return [];
        foreach (var (channel, volts) in readings.LineToLineVolts)
        {
            if (channel is not (Channel.V12 or Channel.V23 or Channel.V31)) continue;
            var first = channel - Channel.V12;
            var second = (first + 1) % 3;
            if (leads.Contains((Lead)first) && leads.Contains((Lead)second))
                list.Add(new LineToLineObservation(first, second, volts));
        }

        return [.. list];
    }

    private static PhasePower? PowerOf(PanelReadings readings, Service service, Clamp clamp)
    {
        if (clamp == Clamp.IN) return null;
        if (readings.Phases.TryGetValue((int)clamp + 1, out var power)) return power;
        var isSecondElement = service.Kind == Circuits.ServiceKind.DeltaTwoClamp && clamp == Clamp.I3;
        return isSecondElement && readings.Phases.TryGetValue(2, out power) ? power : null;
    }

    private static CurrentObservation[] Currents(
        PanelReadings readings, Service service, Convention convention, int sign, ImmutableArray<Note>.Builder? notes)
    {
        var clamps = Clamps(readings, service);
        var largest = clamps.Max(clamp => (double?)Rms(readings, service, clamp)) ?? 0;
        if (double.IsNaN(largest)) largest = 0;
        return [.. clamps.Select(clamp => Current(readings, service, clamp, convention, sign, largest, notes))];
    }

    private static double Rms(PanelReadings readings, Service service, Clamp clamp)
    {
        if (readings.Channels.TryGetValue(ChannelOf(clamp), out var reading) && reading.Rms is { } amperes) return amperes;
        var power = PowerOf(readings, service, clamp);
        var voltAmperes = power?.VoltAmperes
            ?? (power is { Watts: { } watts, Vars: { } vars } ? Math.Sqrt((watts * watts) + (vars * vars)) : (double?)null);
        return voltAmperes is { } apparent ? apparent / OwnVolts(readings, service, clamp) : double.NaN;
    }

    private static double OwnVolts(PanelReadings readings, Service service, Clamp clamp)
    {
        var ratio = service.Kind == Circuits.ServiceKind.DeltaTwoClamp ? Math.Sqrt(3) : 1;
        var own = service.Kind == Circuits.ServiceKind.DeltaTwoClamp
            ? clamp == Clamp.I1 ? Channel.V12 : Channel.V23
            : Channel.V1 + (int)clamp;
        if (readings.IsReplayed) own = Channel.V1;
        if (readings.Channels.TryGetValue(own, out var reading) && reading.Rms is > 0) return reading.Rms.Value;
        return ratio * ReferenceVolts(readings, service);
    }

    private static CurrentObservation Current(
        PanelReadings readings,
        Service service,
        Clamp clamp,
        Convention convention,
        int sign,
        double largest,
        ImmutableArray<Note>.Builder? notes)
    {
        readings.Channels.TryGetValue(ChannelOf(clamp), out var reading);
        var amperes = Rms(readings, service, clamp);
        var power = PowerOf(readings, service, clamp);
        var noise = (0.003 * largest) + 0.01 + (reading.Spread ?? 0);
        var deviation = ClampAngleError + (double.IsNaN(amperes) ? 0 : Math.Min(noise / Math.Max(amperes, 1e-9), 3));
        AngleCandidate[] candidates;
        var fromVoltage = false;
        if (reading.AngleDegrees is { } degrees && !(amperes == 0))
        {
            candidates = [new(sign * degrees * Math.PI / 180, 1)];
            fromVoltage = convention.OwnVoltage && clamp != Clamp.IN;
        }
        else
        {
            fromVoltage = true;
            candidates = power is { } known && !(amperes == 0)
                ? PowerAngles.Candidates(known, amperes * OwnVolts(readings, service, clamp), convention.LoadNegative, clamp, notes)
                : [];
            if (service.Kind == Circuits.ServiceKind.Split && clamp == Clamp.I2 && !IsSecondLegRead(readings))
                candidates = [.. candidates.SelectMany(EitherLeg)];
        }

        return new CurrentObservation(clamp, amperes, fromVoltage, candidates, deviation);
    }

    private static bool IsSecondLegRead(PanelReadings readings) =>
        readings.Channels.ContainsKey(Channel.V2) || readings.LineToLineVolts.ContainsKey(Channel.V12);

    /// <summary>Where only one leg's voltage is measured, the power of clamp 2 may be against that one or against its opposite.</summary>
    private static IEnumerable<AngleCandidate> EitherLeg(AngleCandidate candidate) =>
    [
        candidate with { Weight = candidate.Weight / 2 },
        new(candidate.AngleRadians + Math.PI, candidate.Weight / 2),
    ];

    private static double Square(double value) => value * value;
}
