using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>Draws the hook-up of a simulated panel.</summary>
/// <remarks>The relative rates are assumed: common practice, no source.</remarks>
internal sealed class SlipDraw
{
    private static readonly (SlipKind Kind, double Weight)[] s_weights =
    [
        (SlipKind.ClampReversed, 0.28), (SlipKind.ClampsExchanged, 0.16), (SlipKind.ClampsRotated, 0.04),
        (SlipKind.AllClampsReversed, 0.06), (SlipKind.ClampOpen, 0.08), (SlipKind.LeadOpen, 0.08),
        (SlipKind.LeadsExchanged, 0.08), (SlipKind.LeadsRotated, 0.02), (SlipKind.NeutralOpen, 0.04),
        (SlipKind.NeutralExchanged, 0.02), (SlipKind.LeadsOnSameConductor, 0.02), (SlipKind.ClampsOnSameConductor, 0.03),
        (SlipKind.ClampOnNeutral, 0.02), (SlipKind.LeadOnNeutral, 0.02), (SlipKind.RatioWrong, 0.05),
    ];

    private readonly SeededRandom _random;
    private readonly Lead[] _lineLeads;
    private readonly Clamp[] _lineClamps;
    private readonly Lead[] _leads;
    private readonly Clamp[] _clamps;
    private readonly Conductor?[] _leadPlaces = new Conductor?[4];
    private readonly ClampPlace[] _clampPlaces = new ClampPlace[4];
    private readonly bool _hasNeutral;

    private SlipDraw(Service service, bool hasNeutralClamp, bool replaysVoltage, SeededRandom random)
    {
        _random = random;
        _hasNeutral = service.Leads.Contains(Lead.VN);
        _leads = [.. service.Leads.Where(lead =>
            !replaysVoltage || lead == Lead.VN || lead == Lead.V1 || (service.IsThreeWire && lead == Lead.V2))];
        _lineLeads = [.. _leads.Where(lead => lead != Lead.VN)];
        _lineClamps = [.. service.Clamps];
        _clamps = hasNeutralClamp && _hasNeutral ? [.. _lineClamps, Clamp.IN] : _lineClamps;
        foreach (var lead in _leads) _leadPlaces[(int)lead] = Service.HomeOf(lead);
        foreach (var clamp in _clamps) _clampPlaces[(int)clamp] = ClampPlace.Right(Service.HomeOf(clamp));
    }

    public static (Hookup Hookup, ImmutableArray<SlipKind> Slips) Draw(
        Service service, FaultStyle style, bool hasNeutralClamp, bool replaysVoltage, SeededRandom random)
    {
        var draw = new SlipDraw(service, hasNeutralClamp, replaysVoltage, random);
        var slips = ImmutableArray<SlipKind>.Empty;
        if (style == FaultStyle.Slips) slips = draw.DrawSlips();
        if (style == FaultStyle.Uniform48) draw.DrawArrangement();
        return (draw.ToHookup(), slips);
    }

    private ImmutableArray<SlipKind> DrawSlips()
    {
        var unit = _random.NextUnit();
        var count = unit < 0.5 ? 0 : unit < 0.8 ? 1 : unit < 0.94 ? 2 : 3;
        var slips = ImmutableArray.CreateBuilder<SlipKind>(count);
        while (slips.Count < count)
        {
            var kind = DrawKind();
            if (TryMake(kind)) slips.Add(kind);
        }

        return slips.ToImmutable();
    }

    private SlipKind DrawKind()
    {
        var left = _random.NextUnit();
        foreach (var (kind, weight) in s_weights)
        {
            left -= weight;
            if (left < 0) return kind;
        }

        return SlipKind.ClampReversed;
    }

    private void DrawArrangement()
    {
        for (var last = _lineClamps.Length - 1; last > 0; last--) ExchangeClamps(last, _random.Below(last + 1));
        foreach (var clamp in _lineClamps)
            if (_random.Chance(0.5)) Turn(clamp);
    }

    private bool TryMake(SlipKind kind)
    {
        switch (kind)
        {
            case SlipKind.ClampReversed:
                Turn(_clamps[_random.Below(_clamps.Length)]);
                return true;
            case SlipKind.AllClampsReversed when _lineClamps.Length > 1:
                foreach (var clamp in _clamps) Turn(clamp);
                return true;
            case SlipKind.ClampsExchanged when _lineClamps.Length > 1:
                var clampPair = Pair(_lineClamps.Length);
                ExchangeClamps(clampPair.First, clampPair.Second);
                return true;
            case SlipKind.ClampsRotated when _lineClamps.Length > 2:
                ExchangeClamps(0, 1);
                if (_random.Chance(0.5)) ExchangeClamps(1, 2);
                else ExchangeClamps(0, 2);
                return true;
            case SlipKind.ClampOpen:
                var open = _clamps[_random.Below(_clamps.Length)];
                _clampPlaces[(int)open] = _clampPlaces[(int)open] with { On = null, Reversed = false };
                return true;
            case SlipKind.ClampsOnSameConductor when _lineClamps.Length > 1:
                var (moved, kept) = Pair(_lineClamps.Length);
                Put(_lineClamps[moved], _clampPlaces[(int)_lineClamps[kept]].On);
                return true;
            case SlipKind.ClampOnNeutral when _hasNeutral:
                Put(_lineClamps[_random.Below(_lineClamps.Length)], Conductor.N);
                return true;
            case SlipKind.LeadOpen:
                _leadPlaces[(int)_lineLeads[_random.Below(_lineLeads.Length)]] = null;
                return true;
            case SlipKind.LeadsExchanged when _lineLeads.Length > 1:
                var leadPair = Pair(_lineLeads.Length);
                ExchangeLeads(_lineLeads[leadPair.First], _lineLeads[leadPair.Second]);
                return true;
            case SlipKind.LeadsRotated when _lineLeads.Length > 2:
                ExchangeLeads(Lead.V1, Lead.V2);
                if (_random.Chance(0.5)) ExchangeLeads(Lead.V2, Lead.V3);
                else ExchangeLeads(Lead.V1, Lead.V3);
                return true;
            case SlipKind.NeutralOpen when _hasNeutral:
                _leadPlaces[(int)Lead.VN] = null;
                return true;
            case SlipKind.NeutralExchanged when _hasNeutral:
                ExchangeLeads(_lineLeads[_random.Below(_lineLeads.Length)], Lead.VN);
                return true;
            case SlipKind.LeadsOnSameConductor when _lineLeads.Length > 1:
                var (from, to) = Pair(_lineLeads.Length);
                _leadPlaces[(int)_lineLeads[from]] = _leadPlaces[(int)_lineLeads[to]];
                return true;
            case SlipKind.LeadOnNeutral when _hasNeutral:
                _leadPlaces[(int)_lineLeads[_random.Below(_lineLeads.Length)]] = Conductor.N;
                return true;
            case SlipKind.RatioWrong:
                var factor = _random.Chance(0.5) ? 10 : 0.1;
                var all = _random.Chance(0.5);
                var only = _clamps[_random.Below(_clamps.Length)];
                foreach (var clamp in _clamps)
                    if (all || clamp == only) _clampPlaces[(int)clamp] = _clampPlaces[(int)clamp] with { Scale = factor };
                return true;
            default:
                return false;
        }
    }

    private (int First, int Second) Pair(int count)
    {
        var first = _random.Below(count);
        var second = _random.Below(count - 1);
        return (first, second >= first ? second + 1 : second);
    }

    private void Turn(Clamp clamp)
    {
        var place = _clampPlaces[(int)clamp];
        if (place.On is not null) _clampPlaces[(int)clamp] = place with { Reversed = !place.Reversed };
    }

    private void Put(Clamp clamp, Conductor? on) =>
        _clampPlaces[(int)clamp] = _clampPlaces[(int)clamp] with { On = on, Reversed = on is not null && _clampPlaces[(int)clamp].Reversed };

    private void ExchangeClamps(int first, int second)
    {
        var (one, other) = (_lineClamps[first], _lineClamps[second]);
        var (oneOn, otherOn) = (_clampPlaces[(int)one].On, _clampPlaces[(int)other].On);
        Put(one, otherOn);
        Put(other, oneOn);
    }

    private void ExchangeLeads(Lead one, Lead other) =>
        (_leadPlaces[(int)one], _leadPlaces[(int)other]) = (_leadPlaces[(int)other], _leadPlaces[(int)one]);

    // The range of a clamp on nothing shows nowhere: it counts as right.
    private Hookup ToHookup() => new(
        _leads.ToImmutableSortedDictionary(lead => lead, lead => _leadPlaces[(int)lead]),
        _clamps.ToImmutableSortedDictionary(
            clamp => clamp,
            clamp => _clampPlaces[(int)clamp].On is null ? new ClampPlace(null, false, 1) : _clampPlaces[(int)clamp]));
}
