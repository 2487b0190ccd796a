using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>Works out what a channel is from its name, phase field and unit.</summary>
internal static class ChannelRoleReader
{
    public static ChannelRole Read(SampledChannel channel, int index)
    {
        var name = ChannelName.Find(channel.Name);
        var phase = PhaseOf(channel.Phase);
        var unit = UnitText.Parse(channel.Unit);
        var unitKind = unit is { IsKnown: true, Base: "V" } ? 'V' : unit is { IsKnown: true, Base: "A" } ? 'I' : '?';
        if (name is { From: '0' }) return None(index, $"'{name.Token}' is a residual, the sum of three channels");
        var nameKind = name?.Kind ?? '?';
        var kind = unitKind == '?' ? nameKind : unitKind;
        if (kind == '?') return None(index, "neither name nor unit says voltage or current");
        if (unitKind != '?' && nameKind != '?' && unitKind != nameKind)
            return None(index, $"the name '{name!.Token}' and the unit {channel.Unit.Trim()} contradict each other");
        if (unit is { IsKnown: true, Base: not ("V" or "A") }) return None(index, $"its unit is {channel.Unit.Trim()}");

        var (from, to) = name is null ? phase : (name.From, name.To);
        if (name is not null && phase.From != '?' && (phase.From != name.From || (phase.To != '\0' && phase.To != name.To)))
        {
            return None(index, $"the name '{name.Token}' and the phase {channel.Phase.Trim()} contradict each other");
        }

        if (ChannelOf(kind, from, to) is not { } found)
        {
            return None(index, from switch
            {
                'N' when kind == 'V' => "it is the neutral's own voltage",
                _ => "its name and phase do not say which conductor it is",
            });
        }

        var (basis, why) = Reason(channel, name, phase.From != '?', unitKind != '?');
        return new ChannelRole(index, found.Channel, found.IsTurned, name?.Group ?? "", basis, why);
    }

    private static (MatchBasis Basis, string Why) Reason(SampledChannel channel, ChannelName? name, bool hasPhase, bool hasUnit)
    {
        var fields = new List<string>();
        if (hasUnit) fields.Add(string.Create(CultureInfo.InvariantCulture, $"unit {channel.Unit.Trim()}"));
        if (hasPhase) fields.Add(string.Create(CultureInfo.InvariantCulture, $"phase {channel.Phase.Trim()}"));
        if (name is null) return (MatchBasis.PhaseAndUnit, string.Join(" and ", fields));
        fields.Insert(0, $"name '{name.Token}'");
        return (fields.Count > 1 ? MatchBasis.NameAndField : MatchBasis.Name, string.Join(" and ", fields));
    }

    private static (Channel Channel, bool IsTurned)? ChannelOf(char kind, char from, char to) => (kind, from, to) switch
    {
        ('V', '1', '\0') => (Channel.V1, false),
        ('V', '2', '\0') => (Channel.V2, false),
        ('V', '3', '\0') => (Channel.V3, false),
        ('V', '1', '2') => (Channel.V12, false),
        ('V', '2', '3') => (Channel.V23, false),
        ('V', '3', '1') => (Channel.V31, false),
        ('V', '2', '1') => (Channel.V12, true),
        ('V', '3', '2') => (Channel.V23, true),
        ('V', '1', '3') => (Channel.V31, true),
        ('I', '1', '\0') => (Channel.I1, false),
        ('I', '2', '\0') => (Channel.I2, false),
        ('I', '3', '\0') => (Channel.I3, false),
        ('I', 'N', '\0') => (Channel.IN, false),
        _ => null,
    };

    // The phase field: A, L1, R, 1, AN, AB, A-B, L12; ? when it says nothing.
    private static (char From, char To) PhaseOf(string field)
    {
        var text = field.Trim().ToUpperInvariant().Replace("-", "", StringComparison.Ordinal);
        if (text.Length > 1 && text[0] == 'L' && char.IsAsciiDigit(text[1])) text = text.Replace("L", "", StringComparison.Ordinal);
        if (text.Length == 2 && text[1] == 'N') text = text[..1];
        return text.Length switch
        {
            1 => (ChannelName.PlaceOf(text), '\0'),
            2 when ChannelName.PlaceOf(text[..1]) is >= '1' and <= '3' and var from
                && ChannelName.PlaceOf(text[1..]) is >= '1' and <= '3' and var to && from != to => (from, to),
            _ => ('?', '\0'),
        };
    }

    private static ChannelRole None(int index, string why) => new(index, null, false, "", MatchBasis.Name, why);
}
