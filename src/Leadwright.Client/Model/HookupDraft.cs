using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>All that a person has told the hook-up screen so far, as typed; kept on the device until it is cleared.</summary>
public sealed record HookupDraft
{
    /// <summary>The service; null when it is not chosen yet.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>True when the person is not sure of the service: the check then finds it, and <see cref="Service"/> only says what is
    /// asked for.</summary>
    public bool IsServiceOpen { get; init; }

    /// <summary>The nominal voltage as typed; empty when it is not stated.</summary>
    public string Nominal { get; init; } = "";

    /// <summary>Nominal frequency in hertz; null when it is not stated.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>The kind of load.</summary>
    public LoadKind Load { get; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }

    /// <summary>What a rotation indicator showed.</summary>
    public Rotation ToldRotation { get; init; }

    /// <summary>The colour scheme of the site; see <see cref="ConductorColours.All"/>.</summary>
    public string ColourSchemeId { get; init; } = "iec-60445";

    /// <summary>The sign of angles as the instrument shows them.</summary>
    public AngleSign AngleSign { get; init; }

    /// <summary>What the angles of currents are measured from.</summary>
    public CurrentAngleReference CurrentAngleReference { get; init; }

    /// <summary>The sign of power to the load.</summary>
    public PowerSign PowerSign { get; init; }

    /// <summary>True when the instrument measures one voltage and replays it for the other phases.</summary>
    public bool IsReplayed { get; init; }

    /// <summary>What the instrument shows besides volts and amperes. Default: angles.</summary>
    public MeterShows Shows { get; init; } = MeterShows.Angles;

    /// <summary>The typed texts by the key of their <see cref="ReadingField"/>.</summary>
    public ImmutableSortedDictionary<string, string> Texts { get; init; } =
        ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal);

    /// <summary>What was found at the panel when asked, each as <c>ACTION=ANSWER</c>.</summary>
    public ImmutableArray<string> Told { get; init; } = [];

    /// <summary>What the reader of a file put up with, in sentences; empty for typed readings.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>The name of the invented panel or file that the texts came from; empty when they were typed.</summary>
    public string Origin { get; init; } = "";

    /// <summary>True when the texts came from an invented panel, which must be said wherever they are shown.</summary>
    public bool IsInvented { get; init; }

    /// <summary>The text of a field; empty when nothing is typed.</summary>
    public string TextOf(string key) => Texts.GetValueOrDefault(key, "");

    /// <summary>The draft with another text in a field.</summary>
    public HookupDraft WithText(string key, string text) =>
        this with { Texts = string.IsNullOrWhiteSpace(text) ? Texts.Remove(key) : Texts.SetItem(key, text) };
}
