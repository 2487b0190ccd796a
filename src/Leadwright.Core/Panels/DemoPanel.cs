using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Panels;

/// <summary>An invented panel to show and to practise on. No such site exists; its readings are computed.</summary>
public sealed class DemoPanel
{
    private readonly ulong _seed;

    internal DemoPanel(
        string key, string name, string story, VirtualPanel panel, Hookup truth, Instrument instrument, CheckOptions options, ulong seed)
    {
        (Key, Name, Story, Panel, Truth, Instrument, Options, _seed) = (key, name, story, panel, truth, instrument, options, seed);
        Readings = instrument.Read(panel.Solve(), truth, seed);
    }

    /// <summary>A short word for commands and addresses, such as <c>bakery</c>.</summary>
    public string Key { get; }

    /// <summary>Its name, such as <c>Bakery, main board (invented)</c>.</summary>
    public string Name { get; }

    /// <summary>One line: what it is, without giving away the hook-up.</summary>
    public string Story { get; }

    /// <summary>The panel.</summary>
    public VirtualPanel Panel { get; }

    /// <summary>The service.</summary>
    public ServiceKind Service => Panel.Service;

    /// <summary>How the leads and clamps really are.</summary>
    public Hookup Truth { get; }

    /// <summary>The rotation that the supply really has.</summary>
    public Rotation Rotation => Panel.Source.Rotation;

    /// <summary>The instrument.</summary>
    public Instrument Instrument { get; }

    /// <summary>What is known of the site.</summary>
    public CheckOptions Options { get; }

    /// <summary>What the instrument shows.</summary>
    public PanelReadings Readings { get; }

    /// <summary>Records the panel sample by sample, its switched loads included.</summary>
    public SampledRecording Samples(SamplingPlan plan) => Instrument.Sample(Panel, Truth, plan, _seed);
}
