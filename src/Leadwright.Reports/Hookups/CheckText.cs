using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Reports.Hookups;

/// <summary>Writes the answer of a check for a terminal: verdict first, then what to do, then why.</summary>
public static class CheckText
{
    /// <summary>Columns of the text.</summary>
    public const int Width = 80;

    private const string Bold = "\u001b[1m";
    private const string Plain = "\u001b[0m";

    /// <summary>The answer as text of at most <see cref="Width"/> columns, lines ended by a line feed.</summary>
    /// <param name="document">The answer.</param>
    /// <param name="isStyled">True to set the verdict and the headings in bold by ANSI sequences. Nothing is told by style alone.</param>
    public static string Write(CheckDocument document, bool isStyled = false)
    {
        ArgumentNullException.ThrowIfNull(document);
        var verdict = document.Verdict;
        var text = new TextBlock(Width);
        var word = CheckWords.Of(verdict.Verdict).ToUpperInvariant();
        text.Add($"{word}  ", document.Headline);
        text.Add("  ", $"{document.Confidence} {document.File}: {CheckWords.InSentence(verdict.Service)}{ServiceWording.Standing(verdict)}.");

        if (verdict.Verdict == Verdict.Faulty && VerdictWording.IsNamed(verdict))
        {
            Heading(text, "What to do, in this order");
            Numbered(text, document.Steps);
            if (!document.Steps.IsEmpty) text.Add("  ", "Then check again.");
            text.Add("  ", Cautions.Line);
        }

        if (document.Settle is { } settle)
        {
            text.Line();
            text.Add("  ", $"To settle it: {settle.Question} {SettleWording.Frame}");
            if (!settle.Choices.IsEmpty) text.Add("  ", $"Then check again with {SettleWording.Example(settle.Settlement)}.");
        }

        Listed(text, "What was told at the panel", document.Told.Select(ToldLine));

        if (!document.Places.IsEmpty)
        {
            Heading(text, verdict.Verdict == Verdict.Undecided ? "Where the likeliest hook-up has everything" : "Where everything is");
            foreach (var place in document.Places) text.Add(place.IsRight ? "    " : "  ! ", place.Says);
            text.Add("    ", document.PhaseOrder);
        }

        Listed(text, "Evidence, for and against", document.Evidence.Select(entry => $"{(entry.IsFor ? "For" : "Against")}. {entry.Title}. {entry.Says}"));
        if (document.EvidenceTotal.Length > 0) text.Add("  = ", document.EvidenceTotal);
        if (!document.Rivals.IsEmpty)
        {
            Heading(text, "What else it could be, and what settles it");
            foreach (var rival in document.Rivals)
            {
                text.Add("  - ", $"{Phrases.Sentence(ConfidenceWording.Percent(rival.Answer.Probability))[..^1]}: {rival.Says}");
                text.Add("    ", rival.Settle);
            }

            text.Add("  ", SettleWording.Frame);
        }

        Listed(text, "What would read the same", document.SameReading);
        Listed(text, "About the readings", document.Notes);
        if (!document.Channels.IsEmpty)
        {
            Heading(text, "Channels of the file");
            foreach (var channel in document.Channels)
                text.Add($"  {channel.Channel,-4}", channel.Why.Length == 0 ? channel.Name : $"{channel.Name}: {channel.Why}");
        }

        Heading(text, "Caution");
        foreach (var caution in Cautions.Full) text.Add("  ", caution);
        return isStyled ? Styled(text.ToString(), word) : text.ToString();
    }

    private static void Heading(TextBlock text, string heading)
    {
        text.Line();
        text.Line(heading.ToUpperInvariant());
    }

    private static void Listed(TextBlock text, string heading, IEnumerable<string> items)
    {
        var all = items.ToArray();
        if (all.Length == 0) return;
        Heading(text, heading);
        foreach (var item in all) text.Add("  - ", item);
    }

    private static string ToldLine(ToldEntry told) => told.Weighed.Standing switch
    {
        ToldStanding.Agrees => $"{told.Says}.",
        ToldStanding.Contradicts => $"{told.Says}: speaks against the reported hook-up.",
        _ => $"{told.Says}: not used.",
    };

    private static void Numbered(TextBlock text, ImmutableArray<string> items)
    {
        for (var number = 1; number <= items.Length; number++) text.Add($"{number,3}. ", items[number - 1]);
    }

    private static string Styled(string text, string word)
    {
        var lines = text.Split('\n');
        for (var index = 0; index < lines.Length; index++)
        {
            var isHeading = lines[index].Length > 0 && lines[index].All(letter => letter is ' ' or ',' or '-' || char.IsAsciiLetterUpper(letter));
            if (isHeading) lines[index] = $"{Bold}{lines[index]}{Plain}";
        }

        return string.Concat(Bold, word, Plain, string.Join('\n', lines)[word.Length..]);
    }
}
