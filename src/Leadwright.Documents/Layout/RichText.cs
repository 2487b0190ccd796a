using System.Collections.Immutable;
using Leadwright.Documents.Fonts;

namespace Leadwright.Documents.Layout;

/// <summary>A stretch of text in one face.</summary>
internal readonly record struct Span(string Text, Face Face);

/// <summary>Text with words that stand out, broken into lines.</summary>
internal static class RichText
{
    /// <summary>Reads words between two pairs of asterisks as bold.</summary>
    public static ImmutableArray<Span> Parse(string text, Face plain, Face bold)
    {
        var parts = text.Split("**");
        return [.. parts.Select((part, index) => new Span(part, index % 2 == 1 && index < parts.Length - 1 ? bold : plain)).Where(span => span.Text.Length > 0)];
    }

    /// <summary>The text without its marks.</summary>
    public static string Plain(string text) => text.Replace("**", "", StringComparison.Ordinal);

    /// <summary>Breaks spans at spaces into lines that are no wider than a width; a longer word is broken within.</summary>
    public static List<ImmutableArray<Span>> Lines(IEnumerable<Span> spans, FontShelf fonts, double size, double width)
    {
        var lines = new List<ImmutableArray<Span>>();
        var line = new List<Span>();
        var used = 0.0;
        var endsInSpace = false;
        foreach (var span in spans)
        {
            var gap = fonts.Width(" ", span.Face, size);
            var isFirst = true;
            foreach (var (word, hasOwnSpace) in Words(span.Text))
            {
                var hasSpace = hasOwnSpace || (isFirst && endsInSpace);
                isFirst = false;
                var rest = word;
                var lead = hasSpace && line.Count > 0 ? gap : 0;
                var length = fonts.Width(rest, span.Face, size);
                if (line.Count > 0 && used + lead + length > width + 0.01)
                {
                    End();
                    lead = 0;
                }

                while (length > width + 0.01)
                {
                    var cut = rest.Length - 1;
                    while (cut > 1 && fonts.Width(rest[..cut], span.Face, size) > width) cut--;
                    line.Add(new Span(rest[..cut], span.Face));
                    End();
                    rest = rest[cut..];
                    length = fonts.Width(rest, span.Face, size);
                }

                line.Add(new Span((lead > 0 ? " " : "") + rest, span.Face));
                used += lead + length;
            }

            endsInSpace = span.Text.EndsWith(' ') || (isFirst && endsInSpace);
        }

        if (line.Count > 0) End();
        return lines;

        void End()
        {
            lines.Add(Joined(line));
            line.Clear();
            used = 0;
        }
    }

    private static ImmutableArray<Span> Joined(List<Span> line)
    {
        var joined = ImmutableArray.CreateBuilder<Span>();
        foreach (var span in line)
        {
            if (joined.Count > 0 && joined[^1].Face == span.Face) joined[^1] = new Span(joined[^1].Text + span.Text, span.Face);
            else joined.Add(span);
        }

        return joined.ToImmutable();
    }

    private static IEnumerable<(string Word, bool HasSpace)> Words(string text)
    {
        var at = 0;
        while (at < text.Length)
        {
            var hasSpace = false;
            while (at < text.Length && text[at] is ' ' or '\n')
            {
                hasSpace = true;
                at++;
            }

            var from = at;
            while (at < text.Length && text[at] is not (' ' or '\n')) at++;
            if (at > from) yield return (text[from..at], hasSpace);
        }
    }
}
