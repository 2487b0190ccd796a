using Leadwright.Core.Panels.Disturbances;
using Leadwright.Core.Studies.Events;
using static System.FormattableString;

namespace Leadwright.Populations;

/// <summary>Measures virtual disturbances as a recording is measured, and tells how often type, origin and likeness are right.</summary>
internal sealed class EventStudy(ulong seed, int count, int show, Action<string> line)
{
    private static readonly DisturbanceKind[] s_dips =
    [
        DisturbanceKind.SupplyDip, DisturbanceKind.NeighbourFault, DisturbanceKind.NeighbourMotorStart, DisturbanceKind.NeighbourTransformer,
        DisturbanceKind.FeederFault, DisturbanceKind.MotorStart, DisturbanceKind.TransformerEnergising,
    ];

    public void Run()
    {
        var population = new DisturbancePopulation(seed);
        var dips = s_dips.ToDictionary(kind => kind, kind => Seen(population, kind));
        line(Invariant($"{count} sites of each kind, seed {seed}. Events that the thresholds do not see (a dip of less than a tenth) are left out: *seen* says how many were. Shares are of those.\n"));
        Origins(dips);
        Types(dips[DisturbanceKind.SupplyDip]);
        Likenesses(dips);
        Capacitors(population);
    }

    private (DisturbanceSite Site, EventShape? Shape)[] Seen(DisturbancePopulation population, DisturbanceKind kind)
    {
        var found = new (DisturbanceSite Site, EventShape? Shape)[count];
        Parallel.For(0, count, index =>
        {
            var site = population.Site(kind, index);
            found[index] = (site, SeenShape.Of(site));
        });
        return found;
    }

    private void Origins(Dictionary<DisturbanceKind, (DisturbanceSite Site, EventShape? Shape)[]> dips)
    {
        line("## Upstream or downstream\n\nThe vote, then each method alone: right / wrong, percent; the rest is undecided.\n");
        var methods = dips.Values.SelectMany(seen => seen).Select(pair => pair.Shape?.Origin).OfType<DipOrigin>().First().Votes.Select(vote => vote.Method).ToList();
        line($"| what happened | truth | seen | vote right | undecided | wrong | {string.Join(" | ", methods)} |");
        line($"| --- | --- | --- | --- | --- | --- |{string.Concat(methods.Select(_ => " --- |"))}");
        var all = (Right: 0, Wrong: 0, Seen: 0);
        foreach (var (kind, sites) in dips)
        {
            var seen = sites.Where(pair => pair.Shape?.Origin is not null).Select(pair => (pair.Site, Origin: pair.Shape!.Origin!)).ToList();
            var truth = sites[0].Site.IsAhead ? EventSide.Upstream : EventSide.Downstream;
            bool IsWrong(EventSide side) => side != EventSide.Undecided && side != truth;
            var (right, wrong) = (seen.Count(pair => pair.Origin.Side == truth), seen.Count(pair => IsWrong(pair.Origin.Side)));
            all = (all.Right + right, all.Wrong + wrong, all.Seen + seen.Count);
            var alone = methods.Select((_, at) => Invariant($"{Share(seen.Count(pair => pair.Origin.Votes[at].Side == truth), seen.Count)} / {Share(seen.Count(pair => IsWrong(pair.Origin.Votes[at].Side)), seen.Count)}"));
            line(Invariant($"| {Words(kind)} | {(truth == EventSide.Upstream ? "upstream" : "downstream")} | {seen.Count} | {Share(right, seen.Count)} % | {Share(seen.Count - right - wrong, seen.Count)} % | {Share(wrong, seen.Count)} % | {string.Join(" | ", alone)} |"));
            foreach (var pair in seen.Where(pair => IsWrong(pair.Origin.Side)).Take(show))
                line(Invariant($"    {kind} {pair.Site.FaultPhases}ph {pair.Site.Letter} V={pair.Site.Characteristic} motor {pair.Site.MotorReactance:0.###} Rf {pair.Site.FaultOhms:0.####} Zs {pair.Site.Source} {string.Join(", ", pair.Origin.Votes.Select(vote => Invariant($"{vote.Side} {vote.Value:0.###}")))}"));
        }

        line(Invariant($"| all | | {all.Seen} | {Share(all.Right, all.Seen)} % | {Share(all.Seen - all.Right - all.Wrong, all.Seen)} % | {Share(all.Wrong, all.Seen)} % |{string.Concat(methods.Select(_ => " |"))}\n"));
    }

    private void Types((DisturbanceSite Site, EventShape? Shape)[] sites)
    {
        line("## Types of dips\n\nDips of the supply by the table of types; right is letter and phase.\n");
        line("| type | seen | right | none | wrong | taken for |\n| --- | --- | --- | --- | --- | --- |");
        foreach (var letter in DipShape.Letters)
        {
            var seen = sites.Where(pair => pair.Shape is not null && pair.Site.Letter == letter).ToList();
            bool IsRight((DisturbanceSite Site, EventShape? Shape) pair) => pair.Shape!.Type is { } type && type.Letter == letter && (letter == 'A' || type.Phase == pair.Site.Phase + 1);
            var right = seen.Count(IsRight);
            var none = seen.Count(pair => pair.Shape!.Type is null);
            var taken = seen.Where(pair => !IsRight(pair) && pair.Shape!.Type is not null).GroupBy(pair => Invariant($"{pair.Shape!.Type!.Value.Letter}{(pair.Shape.Type.Value.Letter == letter ? " of another phase" : "")}"))
                .OrderByDescending(group => group.Count()).Take(3).Select(group => Invariant($"{group.Key} {group.Count()}"));
            line(Invariant($"| {letter} | {seen.Count} | {Share(right, seen.Count)} % | {Share(none, seen.Count)} % | {Share(seen.Count - right - none, seen.Count)} % | {string.Join(", ", taken)} |"));
        }

        line("");
    }

    private void Likenesses(Dictionary<DisturbanceKind, (DisturbanceSite Site, EventShape? Shape)[]> dips)
    {
        line("## What a dip looks like\n\n| what happened | seen | right | nothing known | wrong | taken for |\n| --- | --- | --- | --- | --- | --- |");
        foreach (var (kind, sites) in dips)
        {
            var seen = sites.Where(pair => pair.Shape?.Cause is not null).ToList();
            var truth = kind switch
            {
                DisturbanceKind.MotorStart or DisturbanceKind.NeighbourMotorStart => EventCauseKind.MotorStart,
                DisturbanceKind.TransformerEnergising or DisturbanceKind.NeighbourTransformer => EventCauseKind.TransformerEnergising,
                _ => EventCauseKind.Fault,
            };
            var (right, none) = (seen.Count(pair => pair.Shape!.Cause!.Kind == truth), seen.Count(pair => pair.Shape!.Cause!.Kind == EventCauseKind.Unknown));
            var taken = seen.Where(pair => pair.Shape!.Cause!.Kind != truth && pair.Shape.Cause.Kind != EventCauseKind.Unknown).GroupBy(pair => pair.Shape!.Cause!.Kind).Select(group => Invariant($"{group.Key} {group.Count()}"));
            line(Invariant($"| {Words(kind)} | {seen.Count} | {Share(right, seen.Count)} % | {Share(none, seen.Count)} % | {Share(seen.Count - right - none, seen.Count)} % | {string.Join(", ", taken)} |"));
            foreach (var pair in seen.Where(pair => pair.Shape!.Cause!.Kind != truth).Take(show)) line(Invariant($"    {kind} {pair.Shape!.Cause!.Kind}: {pair.Shape.Cause.Says} start {pair.Site.Starting.Seconds:0.0} s"));
        }

        line("");
    }

    private void Capacitors(DisturbancePopulation population)
    {
        line("## Capacitor switching\n\n| where | seen | right | undecided | wrong |\n| --- | --- | --- | --- | --- |");
        foreach (var kind in (DisturbanceKind[])[DisturbanceKind.CapacitorAhead, DisturbanceKind.CapacitorBehind])
        {
            var seen = Seen(population, kind).Where(pair => pair.Shape?.Capacitor is not null).ToList();
            var truth = kind == DisturbanceKind.CapacitorAhead ? EventSide.Upstream : EventSide.Downstream;
            var right = seen.Count(pair => pair.Shape!.Capacitor!.Value.Side == truth);
            var wrong = seen.Count(pair => pair.Shape!.Capacitor!.Value.Side != truth && pair.Shape.Capacitor.Value.Side != EventSide.Undecided);
            line(Invariant($"| {Words(kind)} | {seen.Count} | {Share(right, seen.Count)} % | {Share(seen.Count - right - wrong, seen.Count)} % | {Share(wrong, seen.Count)} % |"));
        }

        line("");
    }

    private static string Share(int part, int all) => all == 0 ? "-" : Invariant($"{100.0 * part / all:0.#}");

    private static string Words(DisturbanceKind kind) => kind switch
    {
        DisturbanceKind.SupplyDip => "dip of the supply, types A to G",
        DisturbanceKind.NeighbourFault => "fault at a neighbour",
        DisturbanceKind.NeighbourMotorStart => "motor start at a neighbour",
        DisturbanceKind.NeighbourTransformer => "transformer switched on at a neighbour",
        DisturbanceKind.FeederFault => "fault behind the recorder",
        DisturbanceKind.MotorStart => "motor start behind the recorder",
        DisturbanceKind.TransformerEnergising => "transformer switched on behind the recorder",
        DisturbanceKind.CapacitorAhead => "capacitor ahead of the recorder",
        _ => "capacitor behind the recorder",
    };
}
