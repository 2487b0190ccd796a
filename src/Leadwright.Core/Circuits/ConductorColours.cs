using System.Collections.Immutable;

namespace Leadwright.Core.Circuits;

/// <summary>The regional conductor colours.</summary>
/// <remarks>
/// Sources: IEC 60445; NEC 110.15, 200.6, 250.119; CSA C22.1; AS/NZS 3000:2007 figure 3.2; GB 50303-2002 clause 15.2.2; practice
/// where <see cref="ColourScheme.Basis"/> says so. See <c>tests/vectors/conductor-colours</c> for how far each is confirmed.
/// </remarks>
public static class ConductorColours
{
    private const string GreenHex = "#1e8449";
    private const string YellowHex = "#f4d03f";

    // Before All: static initialisers run in the order in which they are written.
    private static readonly ImmutableDictionary<string, ConductorColour> s_byWord = new ConductorColour[]
    {
        new("black", "#1c1c1c"),
        new("brown", "#7b4a21"),
        new("grey", "#8c8c8c"),
        new("gray", "#8c8c8c"),
        new("red", "#c0281f"),
        new("yellow", YellowHex),
        new("blue", "#1f5fbf"),
        new("dark blue", "#123a7a"),
        new("light blue", "#5dade2"),
        new("white", "#f7f7f7"),
        new("orange", "#e67e22"),
        new("green", GreenHex),
        new("green-yellow", GreenHex, YellowHex),
        new("bare", "#b87333"),
    }.ToImmutableDictionary(colour => colour.Word, StringComparer.Ordinal);

    /// <summary>All schemes, in the order in which a person would look for them.</summary>
    public static ImmutableArray<ColourScheme> All { get; } =
    [
        Scheme("iec-60445", "IEC 60445", "general", "brown", "black", "grey", "blue", "green-yellow", "standard"),
        Scheme("us-120-208", "USA", "120/208Y", "black", "red", "blue", "white", "green|green-yellow|bare", "practice (N and PE code)"),
        Scheme("us-277-480", "USA", "277/480Y", "brown", "orange", "yellow", "gray", "green|green-yellow|bare", "practice (N and PE code)"),
        Scheme("us-120-240", "USA", "120/240 split", "black", "red", "", "white", "green|green-yellow|bare", "practice (N and PE code)"),
        Scheme("us-high-leg", "USA", "120/240 high-leg delta", "black", "orange", "blue", "white", "green|green-yellow|bare", "high leg: NEC 110.15"),
        Scheme("canada", "Canada", "general", "red", "black", "blue", "white", "green|bare", "code"),
        Scheme("canada-isolated", "Canada", "isolated", "orange", "brown", "yellow", "white", "green", "code"),
        Scheme("uk-before-2006", "UK before 2006", "general", "red", "yellow", "blue", "black", "green-yellow", "code then"),
        Scheme("europe-older", "Europe older", "general", "black|brown", "black|brown", "black|brown", "blue", "green-yellow", "practice"),
        Scheme("norway", "Norway", "general", "black", "white|grey", "brown", "blue", "green-yellow", "practice"),
        Scheme("australia", "Australia and New Zealand", "general", "red|brown", "white|black", "dark blue|grey", "black|blue", "green-yellow", "standard"),
        Scheme("india", "India and Pakistan", "general", "red", "yellow", "blue", "black", "green", "practice"),
        Scheme("china", "China and former USSR", "general", "yellow", "green", "red", "light blue", "green-yellow", "standard"),
    ];

    /// <summary>The scheme with an id, in any case; null when there is none.</summary>
    public static ColourScheme? WithId(string? id) =>
        All.FirstOrDefault(scheme => string.Equals(scheme.Id, id?.Trim(), StringComparison.OrdinalIgnoreCase));

    private static ColourScheme Scheme(
        string id, string region, string system, string a, string b, string c, string neutral, string protective, string basis) =>
        new(id, region, system, Colours(a), Colours(b), Colours(c), Colours(neutral), Colours(protective), basis);

    private static ImmutableArray<ConductorColour> Colours(string words) =>
        [.. words.Split('|', StringSplitOptions.RemoveEmptyEntries).Select(word => s_byWord[word])];
}
