using Leadwright.Core.Mending.Answers;

namespace Leadwright.Reports.Mending;

/// <summary>The words that stand for enumerated values of a mending in commands and files.</summary>
public static class MendWords
{
    /// <summary>The kind in lower case with hyphens, such as <c>clamps-exchanged</c>.</summary>
    public static string Of(CorrectionKind kind) => Hyphened(kind.ToString());

    /// <summary>The basis: <c>exact</c> or <c>modelled</c>.</summary>
    public static string Of(CorrectionBasis basis) => basis == CorrectionBasis.Exact ? "exact" : "modelled";

    /// <summary>The reason in lower case with hyphens.</summary>
    public static string Of(UnmendableReason reason) => Hyphened(reason.ToString());

    private static string Hyphened(string name)
    {
        var text = new System.Text.StringBuilder(28);
        foreach (var letter in name)
        {
            if (char.IsAsciiLetterUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }
}
