using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>Draws what goes wrong in a virtual week.</summary>
internal sealed class MishapDraw(WeekRecipe recipe, SeededRandom random)
{
    private readonly int _lines = SiteLoads.LinesOf(recipe.Service);
    private readonly double _end = recipe.Days * 86400;
    private readonly bool _isThreeWire = recipe.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;

    public ImmutableArray<Mishap> Draw(MishapKind? only, bool isClean)
    {
        var mishaps = new List<Mishap>();
        var draw = random.NextUnit();
        var count = isClean ? 0 : only is not null ? 1 : draw < 0.3 ? 0 : draw < 0.8 ? 1 : random.Chance(0.7) ? 2 : 3;
        var kinds = Kinds();
        for (var index = 0; index < count; index++)
        {
            var kind = only ?? kinds[random.Below(kinds.Length)];
            if (!kinds.Contains(kind)) continue;
            var mishap = Draw(kind);
            // Two slips of the same clamp or lead at once would be another slip.
            if (!mishaps.Exists(other => Collide(other, mishap))) mishaps.Add(mishap);
        }

        // What happens to any supply.
        if (only is null && random.Chance(0.12)) AddEvent(mishaps, Draw(MishapKind.Outage));
        if (random.Chance(0.3))
        {
            var at = random.Uniform(0, _end);
            AddEvent(mishaps, new Mishap(MishapKind.Dip, at, at + random.LogUniform(0.05, 1.5), random.Below(_lines)) { Size = random.Uniform(0.2, 0.85) });
        }

        return [.. mishaps.OrderBy(mishap => mishap.FromSeconds)];
    }

    private static void AddEvent(List<Mishap> mishaps, Mishap mishap)
    {
        if (!mishaps.Exists(other => Collide(other, mishap))) mishaps.Add(mishap);
    }

    private static bool Collide(Mishap one, Mishap other)
    {
        const double Margin = 4 * 3600;
        if (one.FromSeconds > other.ToSeconds + Margin || other.FromSeconds > one.ToSeconds + Margin) return false;
        if (!one.IsHookup || !other.IsHookup) return true;
        var isLead = (Mishap mishap) => mishap.Kind <= MishapKind.NeutralExchanged;
        return isLead(one) || isLead(other) || one.First == other.First || one.Second == other.Second || one.Second == other.First || one.First == other.Second
            || one.Kind == MishapKind.ClampsRotated || other.Kind == MishapKind.ClampsRotated;
    }

    private MishapKind[] Kinds()
    {
        var kinds = new List<MishapKind>
        {
            MishapKind.LeadOff, MishapKind.LeadOff, MishapKind.LeadOff, MishapKind.ClampReversed, MishapKind.ClampReversed, MishapKind.ClampOff,
            MishapKind.ClampOff, MishapKind.RatioWrong, MishapKind.Stuck, MishapKind.RecorderOff, MishapKind.RecorderOff, MishapKind.ClockForward,
            MishapKind.Outage, MishapKind.OutageWithRecorder,
        };
        if (_lines > 1) kinds.AddRange([MishapKind.ClampsExchanged, MishapKind.LeadMoved, MishapKind.ClampMoved, MishapKind.ClampOpening, MishapKind.OverRange, MishapKind.LeadsExchanged]);
        if (_lines == 3 && recipe.Service != ServiceKind.DeltaTwoClamp) kinds.Add(MishapKind.ClampsRotated);
        if (_lines == 3) kinds.AddRange([MishapKind.LineLost, MishapKind.UpstreamPhaseLost]);
        if (!_isThreeWire && _lines > 1) kinds.AddRange([MishapKind.LeadOnNeutral, MishapKind.NeutralLeadOff, MishapKind.NeutralExchanged, MishapKind.SupplyNeutralLost]);
        return [.. kinds];
    }

    private Mishap Draw(MishapKind kind)
    {
        var (from, to) = Times();
        var clampNumbers = recipe.Service == ServiceKind.DeltaTwoClamp ? new[] { 0, 2 } : [.. Enumerable.Range(0, _lines)];
        var clamp = clampNumbers[random.Below(clampNumbers.Length)];
        var clampOther = clampNumbers.Where(number => number != clamp).DefaultIfEmpty(0).ElementAt(random.Below(Math.Max(1, clampNumbers.Length - 1)));
        var lead = random.Below(_lines);
        var leadOther = Enumerable.Range(0, _lines).Where(number => number != lead).DefaultIfEmpty(0).ElementAt(random.Below(Math.Max(1, _lines - 1)));
        var clock = Clock();
        return kind switch
        {
            MishapKind.LeadOff => new Mishap(kind, from, to, lead) { Size = Ghost(), Detail = random.Uniform(-180, 180) },
            MishapKind.NeutralLeadOff => new Mishap(kind, from, to, 3) { Size = Ghost(), Detail = random.Uniform(-180, 180) },
            MishapKind.LeadMoved or MishapKind.LeadsExchanged => new Mishap(kind, from, to, lead, leadOther),
            MishapKind.LeadOnNeutral or MishapKind.NeutralExchanged => new Mishap(kind, from, to, lead, 3),
            MishapKind.ClampMoved or MishapKind.ClampsExchanged => new Mishap(kind, from, to, clamp, clampOther),
            MishapKind.ClampsRotated => new Mishap(kind, from, to, 0, random.Below(2)),
            MishapKind.ClampOpening => new Mishap(kind, from, Math.Max(to, Math.Min(_end, from + 86400)), clamp) { Size = random.Uniform(0.3, 0.8) },
            MishapKind.RatioWrong => new Mishap(kind, from, to, clamp) { Size = Ratio() },
            MishapKind.OverRange => new Mishap(kind, 0, _end) { Size = random.Uniform(0.55, 0.85) },
            MishapKind.Stuck => Stuck(from, clamp),
            MishapKind.RecorderOff => Short(kind, random.LogUniform(3 * recipe.IntervalSeconds, 86400), random.Chance(0.5) ? 1 : 0),
            MishapKind.OutageWithRecorder => Short(kind, random.LogUniform(3 * recipe.IntervalSeconds, 14400), random.Chance(0.5) ? 1 : 0),
            MishapKind.Outage => Short(kind, random.LogUniform(2 * recipe.IntervalSeconds, 14400), 0),
            MishapKind.LineLost => Short(kind, random.LogUniform(3 * recipe.IntervalSeconds, 28800), random.Chance(0.5) ? random.Uniform(0.6, 0.95) : 0) with { First = lead },
            MishapKind.UpstreamPhaseLost => Short(kind, random.LogUniform(3 * recipe.IntervalSeconds, 28800), random.Chance(0.4) ? random.Uniform(0, 0.5) : 0) with { First = lead },
            MishapKind.SupplyNeutralLost => Short(kind, random.LogUniform(3 * recipe.IntervalSeconds, 28800), 0),
            MishapKind.ClockForward => clock,
            _ => new Mishap(kind, from, to, clamp),
        };
    }

    private Mishap Clock()
    {
        // Half of them: summer time begins at two in the night of a Sunday.
        if (random.Chance(0.5) && recipe.Days >= 7) return new Mishap(MishapKind.ClockForward, (6 * 86400) + 7200, (6 * 86400) + 7200) { Size = 3600 };
        var at = Math.Round(random.Uniform(0.1, 0.9) * _end / recipe.IntervalSeconds) * recipe.IntervalSeconds;
        return new Mishap(MishapKind.ClockForward, at, at) { Size = Math.Round(random.LogUniform(2 * recipe.IntervalSeconds, 10800)) };
    }

    private Mishap Stuck(double from, int clamp)
    {
        var channel = random.Chance(0.5) ? random.Below(_lines) : 3 + clamp;
        return Short(MishapKind.Stuck, random.LogUniform(8 * recipe.IntervalSeconds, 2 * 86400), 0) with { First = channel };
    }

    private Mishap Short(MishapKind kind, double seconds, double detail)
    {
        var from = random.Uniform(0.04, 0.93) * _end;
        return new Mishap(kind, from, Math.Min(_end - (3 * recipe.IntervalSeconds), from + seconds)) { Detail = detail };
    }

    private double Ghost() => random.NextUnit() switch { < 0.6 => random.Uniform(0.005, 0.09), < 0.85 => random.Uniform(0.09, 0.5), _ => random.Uniform(0.5, 0.9) };

    private double Ratio() => random.NextUnit() switch { < 0.4 => 10, < 0.75 => 0.1, < 0.85 => 2, < 0.95 => 0.5, _ => 5 };

    private (double From, double To) Times()
    {
        if (random.Chance(0.12)) return (0, _end);
        var from = random.Uniform(0.03, 0.95) * _end;
        if (random.Chance(0.25)) return (from, _end);
        var shortest = Math.Max(3 * recipe.IntervalSeconds, 1800);
        return (from, Math.Min(_end, from + random.LogUniform(shortest, 3 * 86400)));
    }
}
