using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>How the conductors of a site are called in texts and drawn in drawings.</summary>
/// <param name="Scheme">The name of the colour scheme, for captions; empty when none is known.</param>
/// <param name="Colours">The colour of each conductor; a conductor without one is named by its letter alone and drawn grey.</param>
/// <remarks>A colour never proves a phase: the letter always stands beside it.</remarks>
public sealed record ConductorNaming(string Scheme, ImmutableSortedDictionary<Conductor, ConductorColour> Colours)
{
    private static readonly ConductorColour s_uncoloured = new("", "#8a8f94");

    /// <summary>The scheme that the colours are from; null for colours of one's own.</summary>
    public ColourScheme? Source { get; init; }

    /// <summary>The scheme's name in the words in force.</summary>
    public string Caption => Source is null ? Scheme
        : Say.Of("colours.scheme", "{region}, {system}", ("region", Say.Of(KeyOf("colours", Source.Region), Source.Region)), ("system", Say.Of(KeyOf("colours", Source.System), Source.System)));

    /// <summary>Letters alone, for a site whose colours are not known.</summary>
    public static ConductorNaming Letters { get; } = new("", ImmutableSortedDictionary<Conductor, ConductorColour>.Empty);

    /// <summary>Brown, black, grey; blue neutral; green-yellow protective conductor. Source: IEC 60445.</summary>
    public static ConductorNaming Iec60445 { get; } = Of(
        ConductorColours.WithId("iec-60445") ?? throw new InvalidOperationException("This is a bug in Leadwright: no scheme iec-60445."));

    /// <summary>The usual colours of a scheme. Where it has several for a conductor, the word names them all.</summary>
    /// <param name="scheme">The scheme.</param>
    public static ConductorNaming Of(ColourScheme scheme)
    {
        ArgumentNullException.ThrowIfNull(scheme);
        var colours = Enum.GetValues<Conductor>().Where(conductor => !scheme.Of(conductor).IsEmpty)
            .ToImmutableSortedDictionary(conductor => conductor, conductor => scheme.Of(conductor)[0] with
            {
                Word = Phrases.Join(scheme.Of(conductor).Select(colour => colour.Word), "or"),
            });
        return new ConductorNaming($"{scheme.Region}, {scheme.System}", colours) { Source = scheme };
    }

    /// <summary>The key of a word that stands in a table: its letters in lower case, hyphens between.</summary>
    private static string KeyOf(string kind, string word) =>
        $"{kind}.{string.Concat(word.Select(letter => char.IsAsciiLetterOrDigit(letter) ? char.ToLowerInvariant(letter) : '-'))}";

    /// <summary>The colour of a conductor; the word is empty when none is known.</summary>
    public ConductorColour ColourOf(Conductor conductor) => Colours.GetValueOrDefault(conductor, s_uncoloured);

    /// <summary>The word for a conductor's colour in the words in force; empty when none is known.</summary>
    public string WordOf(Conductor conductor) => Source is null ? ColourOf(conductor).Word
        : Phrases.Join(Source.Of(conductor).Select(colour => Say.Of(KeyOf("colour", colour.Word), colour.Word)), Say.Of("conductor.or", "or"));

    /// <summary>The conductor in a sentence: <c>conductor B (black)</c>, <c>the neutral (blue)</c>, <c>ground</c>.</summary>
    public string Phrase(Conductor conductor)
    {
        var name = conductor switch
        {
            Conductor.N => Say.Of("conductor.the-neutral", "the neutral"),
            Conductor.G => Say.Of("conductor.ground", "ground"),
            _ => Say.Of("conductor.conductor", "conductor {conductor}", ("conductor", conductor)),
        };
        var word = WordOf(conductor);
        return word.Length == 0 ? name : Say.Of("conductor.with-colour", "{conductor} ({colour})", ("conductor", name), ("colour", word));
    }

    /// <summary>The conductor in a few letters: <c>B</c>, <c>the neutral</c>, <c>ground</c>.</summary>
    public static string Brief(Conductor conductor) => conductor switch
    {
        Conductor.N => Say.Of("conductor.the-neutral", "the neutral"),
        Conductor.G => Say.Of("conductor.ground", "ground"),
        _ => conductor.ToString(),
    };

    /// <summary>The name that international practice uses beside the letter: <c>L1</c> for A; empty where there is none.</summary>
    public static string LineName(Conductor conductor) => conductor switch
    {
        Conductor.A => "L1",
        Conductor.B => "L2",
        Conductor.C => "L3",
        _ => "",
    };

    /// <summary>Both names: <c>A (L1)</c>, <c>N</c>.</summary>
    public static string FullName(Conductor conductor)
    {
        var line = LineName(conductor);
        return line.Length == 0 ? conductor.ToString() : $"{conductor} ({line})";
    }
}
