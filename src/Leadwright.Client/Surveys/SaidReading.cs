namespace Leadwright.Client.Surveys;

/// <summary>What a person says of how a file is to be read, before anything else is asked of it.</summary>
public sealed record SaidReading
{
    /// <summary>How its letters are written, by a name of <see cref="Formats.Text.TextEncodings.Names"/>; empty to find it out.</summary>
    public string Encoding { get => field ?? ""; init; }

    /// <summary>The date and time at which a log without dates begins, as <c>2026-03-02T08:00</c>; empty when nothing is said.</summary>
    public string Start { get => field ?? ""; init; }

    /// <summary>It as a part of an address, after <c>?</c> or <c>&amp;</c>; empty when nothing is said.</summary>
    /// <param name="mark">What stands before it.</param>
    public string Query(char mark)
    {
        var said = string.Join('&', ((IEnumerable<(string Name, string Value)>)[("encoding", Encoding), ("start", Start)])
            .Where(pair => pair.Value.Length > 0).Select(pair => $"{pair.Name}={Uri.EscapeDataString(pair.Value)}"));
        return said.Length == 0 ? "" : mark + said;
    }
}
