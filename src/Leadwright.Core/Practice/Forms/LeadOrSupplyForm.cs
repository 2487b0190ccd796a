using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>Half-cycle values around a moment: voltage went and current did not notice, both went, or current went alone?</summary>
/// <remarks>What each event does to the voltages: docs/methods/wrong-connection-effects.md; a line of the primary of a delta-wye
/// transformer lost: C. L. Fortescue's components give 0.5, 1, 0.5 with nothing spinning. What lay ahead of a lost leg stands still:
/// nothing spins on this panel.</remarks>
internal sealed class LeadOrSupplyForm : IPracticeForm
{
    public const string LeadOff = "lead-off";
    public const string ClampOff = "clamp-off";
    public const string LegLost = "leg-lost";
    public const string PrimaryLost = "primary-lost";
    public const string NeutralLost = "neutral-lost";

    private const int Before = 12;
    private const int After = 14;
    private const double LostNeutralOhms = 500;

    private static readonly ImmutableArray<string> s_choices = [LeadOff, ClampOff, LegLost, PrimaryLost, NeutralLost];

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(105);
        var choice = s_choices[random.Below(key.Level == 1 ? 3 : s_choices.Length)];
        var line = random.Below(3);
        var nominal = random.Chance(0.5) ? new NominalVoltage(230, 400) : new NominalVoltage(120, 208);
        var hertz = nominal.LineToNeutralVolts > 200 ? 50 : 60;
        var source = new PanelSource { Nominal = nominal, FrequencyHertz = hertz };
        var rating = 200.0;
        var loads = ImmutableArray.CreateBuilder<PanelLoad>(3);
        for (var number = 0; number < 3; number++)
        {
            var watts = nominal.LineToNeutralVolts * rating * random.Uniform(0.15, 0.5);
            loads.Add(PanelLoad.SinglePhase(nominal, (Conductor)number, watts, random.Uniform(0.85, 0.99)));
        }

        var right = TwinSites.Right;
        var instrument = new Instrument
        {
            ClampRatingAmperes = rating, StrayHighFraction = key.Level == 1 ? 0.02 : 0.06, OpenClampFraction = 0.002,
            VoltageNoiseFraction = 3e-4, CurrentNoiseFraction = 3e-4,
        };
        var panel = new VirtualPanel(ServiceKind.Wye, source, loads.ToImmutable());
        var (laterSource, later) = Event(choice, line, source, right);
        var lost = new VirtualPanel(ServiceKind.Wye, laterSource, loads.ToImmutable());
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.Wye,
            Nominal = nominal,
            Strip = Strip(
                instrument, panel.Solve(), right, lost.Solve(), later, 0.5 / hertz, random.Uniform(0.1, 0.9), key.Seed),
            Choices = s_choices,
            RightChoices = [choice],
        };
    }

    private static (PanelSource Source, Hookup Hookup) Event(string choice, int line, PanelSource source, Hookup right) => choice switch
    {
        LeadOff => (source, right with { Leads = right.Leads.SetItem((Lead)line, null) }),
        ClampOff => (source, right with { Clamps = right.Clamps.SetItem((Clamp)line, new ClampPlace(null, false, 1)) }),
        LegLost => (With(source, line, new PhaseDeviation(-1, 0)), right),
        // The line that keeps its voltage is the one between the other two, which both stand opposite to it at half.
        PrimaryLost => (With(With(source, (line + 2) % 3, new PhaseDeviation(-0.5, 60)), (line + 1) % 3, new PhaseDeviation(-0.5, -60)), right),
        _ => (source with { Neutral = new Impedance(LostNeutralOhms, 0) }, right),
    };

    private static PanelSource With(PanelSource source, int line, PhaseDeviation deviation) => line switch
    {
        0 => source with { DeviationA = deviation },
        1 => source with { DeviationB = deviation },
        _ => source with { DeviationC = deviation },
    };

    private static Dictionary<Channel, double> Rms(PanelReadings readings) => readings.Channels
        .Select(entry => KeyValuePair.Create(entry.Key, entry.Value.Rms!.Value)).Concat(readings.LineToLineVolts).ToDictionary();

    // A value is over one cycle: the change shows in two of them, in parts, as squares.
    private static HalfCycleStrip Strip(
        Instrument instrument, PanelSolution before, Hookup hookup, PanelSolution after, Hookup later, double stepSeconds, double part, ulong seed)
    {
        var values = new SortedDictionary<Channel, List<double>>();
        for (var index = 0; index < Before + After; index++)
        {
            var first = instrument.Read(before, hookup, seed + (ulong)(2 * index));
            var second = instrument.Read(after, later, seed + (ulong)(2 * index) + 1);
            var share = Math.Clamp((index - Before + 1 - part) / 2, 0, 1);
            foreach (var (channel, one) in Rms(first))
            {
                var two = Rms(second)[channel];
                if (!values.TryGetValue(channel, out var list)) values[channel] = list = [];
                list.Add(Math.Round(Math.Sqrt(((1 - share) * one * one) + (share * two * two)), 2));
            }
        }

        return new HalfCycleStrip(
            stepSeconds, values.ToImmutableSortedDictionary(entry => entry.Key, entry => entry.Value.ToImmutableArray()));
    }
}
