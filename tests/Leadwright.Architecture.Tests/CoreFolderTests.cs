using Leadwright.Architecture.Tests.Synthetic.Lower;
using Leadwright.Architecture.Tests.Synthetic.Upper;

namespace Leadwright.Architecture.Tests;

/// <summary>Folders inside Core lean one way. A new folder or a new arrow is a new line in this table.</summary>
public sealed class CoreFolderTests
{
    private const string Core = "Leadwright.Core.";

    private static readonly Dictionary<string, string[]> s_allowed = new(StringComparer.Ordinal)
    {
        ["Wording"] = [],
        ["Circuits"] = ["Wording"],
        ["Signals"] = ["Circuits"],
        ["Power"] = ["Circuits"],
        ["Measuring"] = ["Circuits", "Signals", "Power"],
        ["Logs"] = [],
        ["Hookups"] = ["Circuits", "Signals", "Logs"],
        ["Integrity"] = ["Circuits", "Signals", "Power", "Logs", "Hookups"],
        ["Studies"] = ["Wording", "Circuits", "Signals", "Power", "Measuring", "Logs", "Hookups"],
        // The simulation may speak of hook-ups, but must not know the estimator that it is there to test.
        ["Mending"] = ["Circuits", "Signals", "Logs", "Hookups", "Power", "Integrity"],
        ["Panels"] = ["Circuits", "Signals", "Logs", "Hookups"],
        ["Practice"] = ["Circuits", "Hookups", "Panels"],
        ["Planning"] = ["Circuits", "Hookups"],
    };

    // The words of a hook-up. Everything else in Hookups is the estimator or its answer.
    private static readonly string[] s_hookupWords =
    [
        "Hookup", "Lead", "Clamp", "ClampPlace", "Service", "PanelReadings", "Channel", "ChannelReading", "PhasePower",
        "AngleSign", "CurrentAngleReference", "PowerSign", "LoadKind", "CheckOptions", "PanelSnapshot",
    ];

    [Fact]
    public void Folders_use_only_those_below_them() => Assert.Empty(FolderViolations(TypeUse.In(Products.Core), Core, s_allowed));

    [Fact]
    public void Every_folder_of_core_is_in_the_table()
    {
        var folders = Products.Core.GetTypes().Select(type => type.Namespace).OfType<string>()
            .Where(name => name.StartsWith(Core, StringComparison.Ordinal)).Select(name => FolderOf(name, Core)).Distinct();
        Assert.Empty(folders.Except(s_allowed.Keys));
    }

    [Fact]
    public void Panels_speak_of_hookups_without_knowing_the_estimator() =>
        Assert.Empty(EstimatorUses(TypeUse.In(Products.Core)));

    [Fact]
    public void The_rule_sees_an_arrow_that_points_up()
    {
        var uses = TypeUse.In(typeof(UsesUpperInALambda).Assembly);
        const string Prefix = "Leadwright.Architecture.Tests.Synthetic.";
        var table = new Dictionary<string, string[]>(StringComparer.Ordinal) { ["Lower"] = [], ["Upper"] = ["Lower"] };
        Assert.Equal(
            [$"{nameof(UsesUpperInALambda)} -> {nameof(UpperThing)}", $"{nameof(UsesUpperInAnIterator)} -> {nameof(UpperThing)}"],
            FolderViolations(uses, Prefix, table).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void The_rule_sees_real_arrows_of_core()
    {
        // Without its arrow to Signals, Hookups breaks the rule: so the real arrows are seen.
        var tightened = new Dictionary<string, string[]>(s_allowed) { ["Hookups"] = ["Circuits", "Logs"] };
        Assert.Contains("PanelSnapshot -> Snapshot", FolderViolations(TypeUse.In(Products.Core), Core, tightened));
    }

    [Fact]
    public void The_rule_sees_a_panel_that_asks_the_estimator() => Assert.Equal(
        ["VirtualPanel -> HookupCheck"],
        EstimatorUses([
            new("Leadwright.Core.Panels", "VirtualPanel", "Leadwright.Core.Hookups", "HookupCheck"),
            new("Leadwright.Core.Panels", "VirtualPanel", "Leadwright.Core.Hookups", "Hookup"),
        ]));

    private static IEnumerable<string> EstimatorUses(IEnumerable<TypeUse> uses) => uses
        .Where(use => FolderOf(use.FromNamespace, Core) == "Panels" && FolderOf(use.ToNamespace, Core) == "Hookups")
        .Where(use => !s_hookupWords.Contains(use.To, StringComparer.Ordinal))
        .Select(use => $"{use.From} -> {use.To}");

    private static IEnumerable<string> FolderViolations(
        IEnumerable<TypeUse> uses, string prefix, Dictionary<string, string[]> allowed) => uses
        .Where(use => use.FromNamespace.StartsWith(prefix, StringComparison.Ordinal) && use.ToNamespace.StartsWith(prefix, StringComparison.Ordinal))
        .Select(use => (use.From, use.To, FromFolder: FolderOf(use.FromNamespace, prefix), ToFolder: FolderOf(use.ToNamespace, prefix)))
        .Where(use => use.FromFolder != use.ToFolder)
        .Where(use => !(allowed.TryGetValue(use.FromFolder, out var targets) && targets.Contains(use.ToFolder, StringComparer.Ordinal)))
        .Select(use => $"{use.From} -> {use.To}");

    private static string FolderOf(string name, string prefix) =>
        name.StartsWith(prefix, StringComparison.Ordinal) ? name[prefix.Length..].Split('.')[0] : "";
}
