using System.Text;

namespace Leadwright.Reports.Hookups;

/// <summary>Lines of text for a terminal, wrapped at words.</summary>
/// <param name="width">Columns.</param>
internal sealed class TextBlock(int width)
{
    private readonly StringBuilder _text = new();

    /// <summary>Adds a paragraph: the first line begins with <paramref name="first"/>, the others are indented as far.</summary>
    public void Add(string first, string text)
    {
        var indent = new string(' ', first.Length);
        var line = new StringBuilder(first);
        var isEmpty = true;
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!isEmpty && line.Length + 1 + word.Length > width)
            {
                Line(line.ToString());
                line.Clear().Append(indent);
                isEmpty = true;
            }

            if (!isEmpty) line.Append(' ');
            line.Append(word);
            isEmpty = false;
        }

        Line(line.ToString());
    }

    /// <summary>Adds one line as it is.</summary>
    public void Line(string text = "") => _text.Append(text.TrimEnd()).Append('\n');

    /// <inheritdoc/>
    public override string ToString() => _text.ToString();
}
