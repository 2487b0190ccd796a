using System.Text.RegularExpressions;

namespace Leadwright.Formats.Matching;

/// <summary>The part of a channel's name that says what it is.</summary>
/// <param name="Kind">V, I, or ? when only the conductors are named.</param>
/// <param name="From">Place of the first conductor, 1 to 3, N for neutral, 0 for a residual (3U0, 3I0).</param>
/// <param name="To">Place of the second conductor of a line-to-line voltage; the null character when there is none.</param>
/// <param name="Token">The part itself.</param>
/// <param name="Group">The rest of the name.</param>
internal sealed partial record ChannelName(char Kind, char From, char To, string Token, string Group)
{
    /// <summary>Finds it; null when the name says nothing.</summary>
    /// <remarks>
    /// Conductors are A B C, R S T, L1 L2 L3 or 1 2 3; voltages V or U, currents I. The last such part counts: before it
    /// stands the place, as in <c>Bus 1 Ua</c>. Anything that is no ASCII letter or digit ends a part, so that names in any
    /// code page can stand around it.
    /// </remarks>
    public static ChannelName? Find(string name)
    {
        if (Residual().Match(name) is { Success: true } residual)
            return Of(name, residual, residual.Groups["kind"].Value, "0", "");
        foreach (var pattern in (Regex[])[LineToLine(), Single(), Word(), ConductorsOnly(), ConductorOnly()])
        {
            var matches = pattern.Matches(name);
            if (matches.Count == 0) continue;
            var match = matches[^1];
            return Of(name, match, match.Groups["kind"].Value, match.Groups["from"].Value, match.Groups["to"].Value);
        }

        return null;
    }

    private static ChannelName Of(string name, Match match, string kind, string from, string to) => new(
        kind.ToUpperInvariant() switch { "" => '?', "I" or "CURRENT" => 'I', _ => 'V' },
        PlaceOf(from),
        to.Length == 0 ? '\0' : PlaceOf(to),
        match.Value,
        name.Remove(match.Index, match.Length).Insert(match.Index, match.Groups["set"].Value).Trim(' ', '-', '_', '.', ':'));

    /// <summary>The place of a conductor's letter or number; ? when it is none.</summary>
    internal static char PlaceOf(string conductor) => conductor.ToUpperInvariant() switch
    {
        "A" or "R" or "1" or "L1" => '1',
        "B" or "S" or "2" or "L2" => '2',
        "C" or "T" or "3" or "L3" => '3',
        "N" => 'N',
        "0" or "O" => '0',
        _ => '?',
    };

    private const RegexOptions Options = RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture;

    // 3U0, 3I0, U0, 3V0, also with the letter O; never a lead or a clamp.
    [GeneratedRegex(@"(?<![A-Za-z0-9])3?\s?(?<kind>[VUI])_?[0O](?![A-Za-z0-9])", Options)]
    private static partial Regex Residual();

    // Vab, U12, UL12, UL1L2, V_AB, Vab1 (set 1).
    [GeneratedRegex(
        @"(?<![A-Za-z0-9])(?<kind>[VU])[\s_\-]?((?<from>[ABCRST])[\-_]?(?<to>[ABCRST])(?<set>[0-9]*)|L?(?<from>[123])[\-_]?L?(?<to>[123]))(?![A-Za-z0-9])",
        Options)]
    private static partial Regex LineToLine();

    // Va, UA, V1, UL1, Van, V1N, UL1-N, Ia, IL1, IN, Ia1 (set 1).
    [GeneratedRegex(
        @"(?<![A-Za-z0-9])(?<kind>[VUI])[\s_\-]?((?<from>[ABCRSTN])([\-_]?N)?(?<set>[0-9]*)|L?(?<from>[123])([\-_]?N)?)(?![A-Za-z0-9])",
        Options)]
    private static partial Regex Single();

    // L1-L2, A-B.
    [GeneratedRegex(@"(?<![A-Za-z0-9])((?<from>L[123])[\-_]?(?<to>L[123])|(?<from>[ABCRST])[\-](?<to>[ABCRST]))(?![A-Za-z0-9])", Options)]
    private static partial Regex ConductorsOnly();

    // Voltage A, current L2, current phase N.
    [GeneratedRegex(@"(?<![A-Za-z])(?<kind>voltage|current)[\s_\-]*(phase|line)?[\s_\-]*(?<from>L?[123]|[ABCRSTN])(?![A-Za-z0-9])", Options)]
    private static partial Regex Word();

    // L1, phase B; a lone letter or number would be too little.
    [GeneratedRegex(@"(?<![A-Za-z0-9])((?<from>L[123])([\-_]?N)?|phase[\s_\-]?(?<from>[ABCRSTN123]))(?![A-Za-z0-9])", Options)]
    private static partial Regex ConductorOnly();
}
