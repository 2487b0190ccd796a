using System.Globalization;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>The wrong hook-ups of the field guide: one invented panel, read through each of them, judged by the check, and drawn by the program.</summary>
internal static class WrongHookups
{
    public const string Page = "docs/field-guide/wrong-hook-ups.md";
    private const ulong Seed = 20;

    // What is surer than this asks for nothing more on the page; the program still names the next best look.
    private const double Sure = 0.95;
    private static readonly NominalVoltage s_wye = new(230, 400);
    private static readonly NominalVoltage s_delta = new(400 / Math.Sqrt(3), 400);

    /// <summary>The names of the cases, as they stand in the page's marks.</summary>
    public static IReadOnlyDictionary<string, Func<Hookup, Hookup>> FourWires { get; } = new Dictionary<string, Func<Hookup, Hookup>>(StringComparer.Ordinal)
    {
        ["right"] = right => right,
        ["clamp-reversed"] = right => Clamped(right, Clamp.I2, new ClampPlace(Conductor.B, true, 1)),
        ["clamps-exchanged"] = right => Clamped(Clamped(right, Clamp.I1, ClampPlace.Right(Conductor.B)), Clamp.I2, ClampPlace.Right(Conductor.A)),
        ["clamps-round"] = right => Clamped(Clamped(Clamped(right, Clamp.I1, ClampPlace.Right(Conductor.B)), Clamp.I2, ClampPlace.Right(Conductor.C)), Clamp.I3, ClampPlace.Right(Conductor.A)),
        ["leads-exchanged"] = right => Led(Led(right, Lead.V2, Conductor.C), Lead.V3, Conductor.B),
        ["lead-off"] = right => Led(right, Lead.V3, null),
        ["neutral-off"] = right => Led(right, Lead.VN, null),
        ["lead-twice"] = right => Led(right, Lead.V2, Conductor.A),
        ["clamp-off"] = right => Clamped(right, Clamp.I3, new ClampPlace(null, false, 1)),
        ["clamp-neutral"] = right => Clamped(right, Clamp.I1, ClampPlace.Right(Conductor.N)),
        ["ratio"] = right => Clamped(right, Clamp.I2, new ClampPlace(Conductor.B, false, 10)),
    };

    public static IReadOnlyDictionary<string, Func<Hookup, Hookup>> ThreeWires { get; } = new Dictionary<string, Func<Hookup, Hookup>>(StringComparer.Ordinal)
    {
        ["two-clamp-right"] = right => right,
        ["two-clamp-reversed"] = right => Clamped(right, Clamp.I3, new ClampPlace(Conductor.C, true, 1)),
        ["two-clamp-exchanged"] = right => Clamped(Clamped(right, Clamp.I1, ClampPlace.Right(Conductor.C)), Clamp.I3, ClampPlace.Right(Conductor.A)),
    };

    /// <summary>All names.</summary>
    public static IEnumerable<string> Names => FourWires.Keys.Concat(ThreeWires.Keys);

    /// <summary>What the page says of a case, and its two drawings.</summary>
    public static (string Block, string Drawing, string Vectors) Of(string name)
    {
        var isFour = FourWires.TryGetValue(name, out var slip);
        var service = isFour ? ServiceKind.Wye : ServiceKind.DeltaTwoClamp;
        var nominal = isFour ? s_wye : s_delta;
        var panel = new VirtualPanel(service, Supply(nominal), [.. Loads(service, nominal)]);
        var right = Hookup.Expected(Service.Of(service).Leads, Service.Of(service).Clamps);
        var hookup = (slip ?? ThreeWires[name])(right);
        var instrument = new Instrument
        {
            ClampRatingAmperes = 200,
            VoltageNoiseFraction = 0.0005,
            CurrentNoiseFraction = 0.001,
            Display = InstrumentDisplay.Everything with { ShowsVoltageSum = false, SignificantDigits = 4, AngleDecimals = 1 },
        };
        var readings = instrument.Read(panel.Solve(), hookup, Seed) with { Nominal = nominal, FrequencyHertz = 50 };
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        var naming = ConductorNaming.Of(ConductorColours.All.First(scheme => scheme.Id == "iec-60445"));
        var document = CheckDocument.Of(name, verdict, ConductorNaming.Letters, [], []);
        return (Block(name, readings, verdict, document), HookupDrawing.Svg(verdict, naming), VectorDiagram.Svg(verdict));
    }

    private static string Block(string name, PanelReadings readings, HookupVerdict verdict, CheckDocument document)
    {
        var text = new StringBuilder();
        text.Append("| the screen shows | volts | angle | amperes | angle | kW | kvar |\n| --- | --- | --- | --- | --- | --- | --- |\n");
        foreach (var element in (int[])[1, 2, 3])
        {
            var volts = Channel($"V{element}", readings);
            var amperes = Channel($"I{element}", readings);
            var (watts, vars) = readings.Phases.TryGetValue(element, out var power) ? (power.Watts, power.Vars) : (null, null);
            text.Append(CultureInfo.InvariantCulture, $"| {element} | {volts} | {amperes} | {Number(watts / 1000)} | {Number(vars / 1000)} |\n");
        }

        var pairs = readings.Channels.Where(pair => pair.Key is Leadwright.Core.Hookups.Channel.V12 or Leadwright.Core.Hookups.Channel.V23 or Leadwright.Core.Hookups.Channel.V31).ToArray();
        if (pairs.Length > 0) text.Append(CultureInfo.InvariantCulture, $"\nBetween the leads: {string.Join(", ", pairs.Select(pair => $"{pair.Key} {Number(pair.Value.Rms)} V at {Number(pair.Value.AngleDegrees)}°"))}.\n");
        if (!readings.LineToLineVolts.IsEmpty) text.Append(CultureInfo.InvariantCulture, $"\nBetween the leads: {string.Join(", ", readings.LineToLineVolts.Select(pair => $"{pair.Key} {Number(pair.Value)} V"))}.\n");
        text.Append(CultureInfo.InvariantCulture, $"\n**The check says:** {document.Headline} {document.Confidence}\n");
        foreach (var (step, number) in document.Steps.Select((step, index) => (step, index + 1))) text.Append(CultureInfo.InvariantCulture, $"{(number == 1 ? "\n" : "")}{number}. {step}\n");
        if (verdict.Best.Probability < Sure && document.Settle is { } settle) text.Append(CultureInfo.InvariantCulture, $"\nTo settle it: {settle.Question}\n");
        text.Append(CultureInfo.InvariantCulture, $"\n<img src=\"../pictures/wrong/{name}.svg\" alt=\"Hook-up drawing: {document.Headline.Replace("\"", "", StringComparison.Ordinal)}\" width=\"390\"> <img src=\"../pictures/wrong/{name}-vectors.svg\" alt=\"Vector diagram of what is read. {document.PhaseOrder}\" width=\"390\">");
        return text.ToString();
    }

    // Some 1.5 % drop at 200 A, resistance and reactance alike.
    private static PanelSource Supply(NominalVoltage nominal)
    {
        var ohms = 0.015 * nominal.LineToNeutralVolts / 200 / Math.Sqrt(2);
        return new PanelSource
        {
            Nominal = nominal,
            FrequencyHertz = 50.012,
            NominalFrequencyHertz = 50,
            Line = new Impedance(ohms, ohms),
            Neutral = new Impedance(1.2 * ohms, 1.2 * ohms),
            DeviationA = new PhaseDeviation(0.004, 0.1),
            DeviationB = new PhaseDeviation(-0.003, -0.2),
            DeviationC = new PhaseDeviation(0.001, 0.15),
            Background = new Spectrum(new SpectrumLine(3, 0.005, 170), new SpectrumLine(5, 0.014, -160), new SpectrumLine(7, 0.008, 40)),
        };
    }

    // Motors, a little more on one line than on the others, and desks: lagging by some 30 degrees, as most boards do.
    private static PanelLoad[] Loads(ServiceKind service, NominalVoltage nominal) => service == ServiceKind.Wye
        ? [PanelLoad.Motor(nominal, 18_000, 0.84), PanelLoad.SinglePhase(nominal, Conductor.A, 3_000, 0.97), PanelLoad.SinglePhase(nominal, Conductor.C, 1_400, 0.92), PanelLoad.Rectifier(Conductor.B, Conductor.N, 900)]
        : [PanelLoad.Motor(nominal, 30_000, 0.82), PanelLoad.LineToLine(service, nominal, Conductor.A, Conductor.B, 2_000, 1)];

    private static string Channel(string name, PanelReadings readings)
    {
        if (!Enum.TryParse<Channel>(name, out var channel) || !readings.Channels.TryGetValue(channel, out var reading)) return " | ";
        return $"{Number(reading.Rms)} | {(reading.AngleDegrees is { } angle ? $"{Number(angle)}°" : "")}";
    }

    private static string Number(double? value) => value?.ToString("0.0", CultureInfo.InvariantCulture).Replace('-', '−') ?? "";

    private static Hookup Clamped(Hookup hookup, Clamp clamp, ClampPlace place) => hookup with { Clamps = hookup.Clamps.SetItem(clamp, place) };

    private static Hookup Led(Hookup hookup, Lead lead, Conductor? on) => hookup with { Leads = hookup.Leads.SetItem(lead, on) };
}
