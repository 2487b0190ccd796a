using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Benchmarks;

/// <summary>Simulated visits to measure with: ordinary loads, half of them hung right, the others with one to three slips.</summary>
internal static class Visits
{
    /// <summary>The readings of a visit and what is known of the site.</summary>
    public static (PanelReadings Readings, CheckOptions Options) Of(VisitKind kind, int index)
    {
        var visit = new PanelPopulation
        {
            Service = ServiceOf(kind),
            HasNeutralClamp = kind == VisitKind.WyeNeutralClamp,
            Seed = 1,
        }.Case(index);
        // A display with four digits and tenths of a degree, as screens have.
        var display = DisplayOf(kind) with { SignificantDigits = 4, AngleDecimals = 1 };
        var readings = (visit.Instrument with { Display = display }).Read(visit.Panel.Solve(), visit.Truth, (ulong)index);
        return (readings, visit.Options);
    }

    private static ServiceKind ServiceOf(VisitKind kind) => kind switch
    {
        VisitKind.Delta => ServiceKind.Delta,
        VisitKind.DeltaTwoClamp => ServiceKind.DeltaTwoClamp,
        VisitKind.Split => ServiceKind.Split,
        VisitKind.Single => ServiceKind.Single,
        _ => ServiceKind.Wye,
    };

    private static InstrumentDisplay DisplayOf(VisitKind kind) => kind switch
    {
        VisitKind.WyeEverything => InstrumentDisplay.Everything with { ShowsVoltageSum = false },
        VisitKind.WyeWattsOnly => InstrumentDisplay.NoAngles,
        VisitKind.WyeWattsWithoutVars => InstrumentDisplay.MagnitudesOnly with { ShowsWatts = true },
        VisitKind.WyeConventionsUnstated => InstrumentDisplay.Everything with { ShowsVoltageSum = false, StatesConventions = false },
        _ => InstrumentDisplay.NoPowers,
    };
}
