using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>A population of simulated visits, for measuring the check of hook-ups.</summary>
/// <remarks>Each case depends on the population's properties and its own index alone, so cases may be drawn in any order and on
/// any thread. The supply, loads, hook-up, instrument and noise of a case come from separate sequences: the same index with
/// another style of fault or display is the same site.</remarks>
public sealed record PanelPopulation
{
    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>The kind of site. Default <see cref="LoadFamily.Ordinary"/>.</summary>
    public LoadFamily Family { get; init; }

    /// <summary>How hook-ups are drawn. Default <see cref="FaultStyle.Slips"/>.</summary>
    public FaultStyle Faults { get; init; }

    /// <summary>Seed of the whole population. Default 0.</summary>
    public ulong Seed { get; init; }

    /// <summary>True when the recorder also has a neutral clamp, where the service has a neutral. Default false.</summary>
    public bool HasNeutralClamp { get; init; }

    /// <summary>True when the instrument measures one voltage and replays it. Default false.</summary>
    public bool ReplaysVoltage { get; init; }

    /// <summary>True when some instruments leave out angles or powers. Default false: all are shown.</summary>
    public bool VariesDisplay { get; init; }

    /// <summary>True when some instruments have other signs and references. Default false.</summary>
    public bool VariesConventions { get; init; }

    /// <summary>False when the conventions are passed on unstated. Default true.</summary>
    public bool StatesConventions { get; init; } = true;

    /// <summary>Share of supplies that turn A-C-B. Default 0.1; on services without rotation none do.</summary>
    public double ReversedRotationShare { get; init; } = 0.1;

    /// <summary>Share of network services whose second leg leads the first. Default 0.35.</summary>
    public double ReversedLegsShare { get; init; } = 0.35;

    /// <summary>True when a rotation indicator was used and its answer told. Default false.</summary>
    public bool TellsRotation { get; init; }

    /// <summary>Draws one case.</summary>
    /// <param name="index">Its number; zero or more.</param>
    public PanelCase Case(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        var state = Seed;
        var seed = SeededRandom.SplitMix64(ref state) ^ (0x9E3779B97F4A7C15UL * ((ulong)index + 1));
        var root = new SeededRandom(seed);
        var service = Hookups.Service.Of(Service);
        var (source, rating) = SiteDraw.Draw(
            Service, Family, service.IsThreePhase ? ReversedRotationShare : service.HasRotation ? ReversedLegsShare : 0, root.Fork(11));
        var panel = new VirtualPanel(Service, source, LoadDraw.Draw(Service, Family, source, rating, root.Fork(12)));
        var (truth, slips) = SlipDraw.Draw(service, Faults, HasNeutralClamp, ReplaysVoltage, root.Fork(13));
        var display = InstrumentDraw.Display(VariesDisplay, VariesConventions, StatesConventions, root.Fork(14));
        var instrument = InstrumentDraw.Draw(truth, rating, ReplaysVoltage, display, root.Fork(15));
        var options = new CheckOptions
        {
            Load = DeclaredLoad(Family),
            MayExport = Family == LoadFamily.Export,
            ToldRotation = TellsRotation && service.IsThreePhase ? source.Rotation : Rotation.Unknown,
        };
        return new PanelCase(panel, Family, truth, slips, instrument, options, seed);
    }

    /// <summary>Draws the first cases, one after the other.</summary>
    /// <param name="count">How many.</param>
    public IEnumerable<PanelCase> Cases(int count)
    {
        for (var index = 0; index < count; index++) yield return Case(index);
    }

    private static LoadKind DeclaredLoad(LoadFamily family) => family switch
    {
        LoadFamily.Motors => LoadKind.Motors,
        LoadFamily.Leading => LoadKind.Unknown,
        LoadFamily.Distorted => LoadKind.Drives,
        _ => LoadKind.Mixed,
    };
}
