using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Planning;

/// <summary>What each channel shows with a right hook-up, in closed form: a supply at nominal that turns A-B-C, loads alike on the lines.</summary>
internal static class ExpectedReadings
{
    /// <summary>The channels of the service in their order.</summary>
    public static ImmutableArray<ExpectedReading> Of(SurveyPlan plan, DisplacementRange range, double? amperes)
    {
        var service = Service.Of(plan.Service);
        var readings = ImmutableArray.CreateBuilder<ExpectedReading>();
        var reference = service.IsThreeWire ? Between(plan, 0).AngleDegrees : Potential(plan, Conductor.A).AngleDegrees;
        if (!service.IsThreeWire)
        {
            foreach (var lead in service.Leads.Where(lead => lead != Lead.VN))
                readings.Add(Volts((Channel)(int)lead, Potential(plan, Service.HomeOf(lead)), reference));
        }

        if (service.LineCount > 1)
        {
            for (var pair = 0; pair < (service.LineCount == 2 ? 1 : 3); pair++) readings.Add(Volts(Channel.V12 + pair, Between(plan, pair), reference));
        }

        foreach (var clamp in service.Clamps)
        {
            var angle = CentreAngle(plan, Service.HomeOf(clamp)) - reference;
            var from = Angle.WrapDegrees(angle - range.ToDegrees);
            readings.Add(new ExpectedReading(
                Channel.I1 + (int)clamp, (1 - PlanMaker.PhaseSpread) * amperes, amperes, (1 + PlanMaker.PhaseSpread) * amperes,
                from, from + range.ToDegrees - range.FromDegrees));
        }

        return readings.ToImmutable();
    }

    /// <summary>The powers by phase; on two clamps by element.</summary>
    public static ImmutableArray<ExpectedPower> PowersOf(SurveyPlan plan, DisplacementRange range, double? amperes)
    {
        var service = Service.Of(plan.Service);
        var typical = Math.Cos(range.TypicalDegrees * Math.PI / 180);
        // The three phases make up the power that the current was had from: 400 V over the root of three is a little more than 230 V.
        var volts = plan.Service == ServiceKind.Wye ? plan.Nominal.LineToLineVolts / Math.Sqrt(3) : plan.Nominal.LineToNeutralVolts;
        if (plan.Service == ServiceKind.DeltaTwoClamp)
        {
            var line = plan.Nominal.LineToLineVolts;
            return
            [
                Element(1, 30), Element(3, -30),
            ];

            // V12 leads the voltage of A by 30 degrees, V32 lags that of C by as much.
            ExpectedPower Element(int number, double turn) => new(
                number, line * amperes * Math.Cos((range.TypicalDegrees + turn) * Math.PI / 180),
                Lowest(range.FromDegrees + turn, range.ToDegrees + turn), Highest(range.FromDegrees + turn, range.ToDegrees + turn));
        }

        return
        [
            .. service.Clamps.Select(clamp => new ExpectedPower(
                (int)clamp + 1,
                // The phases of a high-leg service have no share of their own: each line's current stands otherwise to its voltage.
                plan.Service == ServiceKind.HighLeg ? null : volts * amperes * typical,
                PowerFactor(plan, clamp, range, Lowest), PowerFactor(plan, clamp, range, Highest))),
        ];
    }

    private static double PowerFactor(SurveyPlan plan, Clamp clamp, DisplacementRange range, Func<double, double, double> end)
    {
        var turn = Potential(plan, Service.HomeOf(clamp)).AngleDegrees - CentreAngle(plan, Service.HomeOf(clamp));
        if (Service.Of(plan.Service).IsThreeWire) turn = 0;
        turn = Angle.WrapDegrees(turn);
        return end(range.FromDegrees + turn, range.ToDegrees + turn);
    }

    private static double Lowest(double from, double to) => Math.Min(Math.Cos(from * Math.PI / 180), Math.Cos(to * Math.PI / 180));

    private static double Highest(double from, double to) =>
        from <= 0 && to >= 0 ? 1 : Math.Max(Math.Cos(from * Math.PI / 180), Math.Cos(to * Math.PI / 180));

    private static ExpectedReading Volts(Channel channel, Phasor volts, double reference)
    {
        var angle = Angle.WrapDegrees(volts.AngleDegrees - reference);
        return new ExpectedReading(
            channel, (1 - PlanMaker.VoltageTolerance) * volts.Magnitude, volts.Magnitude, (1 + PlanMaker.VoltageTolerance) * volts.Magnitude, angle, angle);
    }

    private static Phasor Between(SurveyPlan plan, int pair) =>
        Potential(plan, (Conductor)pair) - Potential(plan, (Conductor)((pair + 1) % 3));

    /// <summary>From a line to the neutral, on three wires to the centre.</summary>
    private static Phasor Potential(SurveyPlan plan, Conductor line)
    {
        var volts = plan.Nominal.LineToNeutralVolts;
        switch (plan.Service)
        {
            case ServiceKind.Split:
                return Phasor.FromDegrees(volts, line == Conductor.A ? 0 : 180);
            case ServiceKind.HighLeg:
                // The neutral is the middle of the winding between A and C.
                var centre = plan.Nominal.LineToLineVolts / Math.Sqrt(3);
                var tap = 0.5 * (Phasor.FromDegrees(centre, 0) + Phasor.FromDegrees(centre, 120));
                return Phasor.FromDegrees(centre, CentreAngle(plan, line)) - tap;
            default:
                return Phasor.FromDegrees(volts, CentreAngle(plan, line));
        }
    }

    /// <summary>The angle of the voltage that a line's current lags behind: to the centre of the lines, on a split service to neutral.</summary>
    private static double CentreAngle(SurveyPlan plan, Conductor line) => (plan.Service, line) switch
    {
        (_, Conductor.A) => 0,
        (ServiceKind.Split, _) => 180,
        (_, Conductor.B) => -120,
        _ => 120,
    };
}
