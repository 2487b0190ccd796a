using System.Collections.Immutable;
using FsCheck.Xunit;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups;

public class HookupCheckPropertiesTests
{
    private static readonly ServiceKind[] s_kinds = [ServiceKind.DeltaTwoClamp, ServiceKind.Split, ServiceKind.Single, ServiceKind.Wye];

    [Property(MaxTest = 24)]
    public bool A_common_turn_of_all_angles_leaves_the_answer(byte index, short degrees)
    {
        var drawn = Draw(index);
        var turned = drawn.Readings with
        {
            Channels = drawn.Readings.Channels.ToImmutableSortedDictionary(channel => channel.Key, channel =>
                channel.Value with { AngleDegrees = channel.Value.AngleDegrees + (degrees % 360) }),
        };
        var (one, other) = (Judge(drawn, drawn.Readings), Judge(drawn, turned));
        return one.Verdict == other.Verdict && Same(drawn, one, other) && Math.Abs(one.Best.Probability - other.Best.Probability) < 0.01;
    }

    [Property(MaxTest = 24)]
    public bool A_common_factor_on_all_currents_leaves_the_answer(byte index, byte factor)
    {
        var drawn = Draw(index);
        var times = 0.5 + (factor / 170.0);
        var scaled = drawn.Readings with
        {
            Channels = drawn.Readings.Channels.ToImmutableSortedDictionary(channel => channel.Key, channel =>
                channel.Key < Channel.I1 ? channel.Value : channel.Value with { Rms = channel.Value.Rms * times }),
            Phases = drawn.Readings.Phases.ToImmutableSortedDictionary(phase => phase.Key, phase => new PhasePower(
                phase.Value.Watts * times, phase.Value.Vars * times, phase.Value.VoltAmperes * times, phase.Value.PowerFactor)),
        };
        var (one, other) = (Judge(drawn, drawn.Readings), Judge(drawn, scaled));
        // What a clamp on nothing reads is not in proportion to the load: a little may change, and much where no clamp reads more than such a one may (an
        // ampere or two of a lone clamp: up to 0.21 on the panels drawn here).
        var isLight = drawn.Readings.Channels.Where(channel => channel.Key >= Channel.I1).All(channel => !(channel.Value.Rms > 5));
        return Math.Abs(one.Best.Probability - other.Best.Probability) < (isLight ? 0.25 : 0.08)
            && (Same(drawn, one, other) || one.Best.Probability < 0.6);
    }

    [Property(MaxTest = 16)]
    public bool Channels_renamed_in_a_ring_rename_the_answer(byte index, bool isDelta)
    {
        var drawn = new PanelPopulation { Service = isDelta ? ServiceKind.Delta : ServiceKind.Wye, Seed = 5 }.Case(index);
        var readings = drawn.Readings;
        var renamed = readings with
        {
            Channels = readings.Channels.ToImmutableSortedDictionary(channel => Next(channel.Key), channel => channel.Value),
            Phases = readings.Phases.ToImmutableSortedDictionary(phase => (phase.Key % 3) + 1, phase => phase.Value),
            LineToLineVolts = readings.LineToLineVolts.ToImmutableSortedDictionary(pair => Next(pair.Key), pair => pair.Value),
        };
        var (one, other) = (Judge(drawn, readings), Judge(drawn, renamed));
        var expected = new Hookup(
            one.Best.Hookup.Leads.ToImmutableSortedDictionary(lead => lead.Key == Lead.VN ? Lead.VN : NextLead(lead.Key), lead => NextConductor(lead.Value)),
            one.Best.Hookup.Clamps.ToImmutableSortedDictionary(clamp => NextClamp(clamp.Key), clamp => clamp.Value with { On = NextConductor(clamp.Value.On) }));
        return ReadsAlike.Check(renamed, expected, one.Best.Rotation, other.Best.Hookup, other.Best.Rotation)
            && Math.Abs(one.Best.Probability - other.Best.Probability) < 0.01;

        static Channel Next(Channel channel) => (Channel)(((int)channel / 3 * 3) + (((int)channel + 1) % 3));
        static Lead NextLead(Lead lead) => (Lead)(((int)lead + 1) % 3);
        static Clamp NextClamp(Clamp clamp) => (Clamp)(((int)clamp + 1) % 3);
        static Conductor? NextConductor(Conductor? on) => on is Conductor.A or Conductor.B or Conductor.C ? (Conductor)(((int)on + 1) % 3) : on;
    }

    [Property(MaxTest = 24)]
    public bool Probabilities_are_shares_of_one_and_the_same_input_gives_the_same_bits(byte index)
    {
        var drawn = Draw(index);
        var (one, other) = (Judge(drawn, drawn.Readings), Judge(drawn, drawn.Readings));
        return one.Named().All(answer => answer.Probability is >= 0 and <= 1 + 1e-12)
            && one.Named().Sum(answer => answer.Probability) <= 1 + 1e-9
            && one.Named().Zip(one.Named().Skip(1)).All(pair => pair.First.Probability >= pair.Second.Probability)
            && one.Best.SameReading.Sum(member => member.Share) < 1
            && one.Named().Select(Bits).SequenceEqual(other.Named().Select(Bits))
            && one.ProbabilityCorrect.Equals(other.ProbabilityCorrect);

        static (long, Hookup, Rotation) Bits(Answer answer) =>
            (BitConverter.DoubleToInt64Bits(answer.Probability), answer.Hookup, answer.Rotation);
    }

    [Property(MaxTest = 24)]
    public bool Saying_that_power_may_flow_back_never_makes_a_right_importing_panel_faulty(byte index)
    {
        var kind = s_kinds[index % s_kinds.Length];
        var drawn = new PanelPopulation { Service = kind, Faults = FaultStyle.None, Seed = 3 }.Case(index);
        return HookupCheck.Judge(drawn.Readings, drawn.Options with { MayExport = true }).Verdict != Verdict.Faulty;
    }

    [Property(MaxTest = 60)]
    public bool Reading_alike_is_an_equivalence(int first, int second, int third, byte service)
    {
        var kind = Service.All[service % Service.All.Length].Kind;
        var readings = new PanelPopulation { Service = kind }.Case(0).Readings;
        // Few of the possible places, so that some do read alike.
        Hookup[] hookups = [.. new[] { first, second, third }.Select(seed => TestPanels.AnyHookup(kind, Math.Abs(seed % 40)))];
        Rotation[] rotations = [.. new[] { first, second, third }.Select(seed => seed % 2 == 0 ? Rotation.Abc : Rotation.Acb)];
        return Alike(0, 0) && Alike(1, 1)
            && Alike(0, 1) == Alike(1, 0)
            && (!(Alike(0, 1) && Alike(1, 2)) || Alike(0, 2));

        bool Alike(int one, int other) =>
            ReadsAlike.Check(readings, hookups[one], rotations[one], hookups[other], rotations[other]);
    }

    private static PanelCase Draw(byte index) =>
        new PanelPopulation { Service = s_kinds[index % s_kinds.Length], Seed = 5 }.Case(index);

    private static HookupVerdict Judge(PanelCase drawn, PanelReadings readings) => HookupCheck.Judge(readings, drawn.Options);

    private static bool Same(PanelCase drawn, HookupVerdict one, HookupVerdict other) =>
        ReadsAlike.Check(drawn.Readings, one.Best.Hookup, one.Best.Rotation, other.Best.Hookup, other.Best.Rotation);
}
