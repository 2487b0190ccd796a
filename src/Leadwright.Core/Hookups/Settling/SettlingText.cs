using System.Globalization;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>The plain words of actions and answers: <c>switched:A=I2,up</c>.</summary>
internal static class SettlingText
{
    private static readonly (SettlingKind Kind, string Word)[] s_words =
    [
        (SettlingKind.Rotation, "rotation"), (SettlingKind.Arrow, "arrow"), (SettlingKind.Clamp, "clamp"), (SettlingKind.Lead, "lead"),
        (SettlingKind.Contact, "contact"), (SettlingKind.Meter, "meter"), (SettlingKind.HandClamp, "hand-clamp"),
        (SettlingKind.Switched, "switched"), (SettlingKind.Motor, "motor"), (SettlingKind.Export, "export"),
        (SettlingKind.Watts, "watts"), (SettlingKind.Angles, "angles"), (SettlingKind.ReadAgain, "read-again"),
    ];

    /// <summary>The actions that have an answer, for messages.</summary>
    public static string Actions { get; } =
        "rotation, arrow:CLAMP, clamp:CLAMP, lead:LEAD, contact:LEAD, meter:LEAD-CONDUCTOR, meter:LEAD-LEAD, hand-clamp:CONDUCTOR, "
        + "switched:CONDUCTOR, motor, export, watts, angles";

    public static string IdOf(SettlingAction action)
    {
        var word = s_words.First(entry => entry.Kind == action.Kind).Word;
        var first = action.AtLead?.ToString() ?? action.AtClamp?.ToString() ?? action.AtConductor?.ToString();
        if (first is null) return word;
        var second = action.Kind == SettlingKind.Meter
            ? action.ToLead?.ToString() ?? action.AtConductor?.ToString()
            : action.ToConductor?.ToString();
        return second is null ? $"{word}:{first}" : $"{word}:{first}-{second}";
    }

    /// <summary>Reads the name of an action; null with the problem when it is none.</summary>
    public static SettlingAction? ReadAction(string text, out string problem)
    {
        problem = "";
        var parts = text.Split(':', 2, StringSplitOptions.TrimEntries);
        var found = s_words.FirstOrDefault(entry => string.Equals(entry.Word, parts[0], StringComparison.OrdinalIgnoreCase));
        if (found.Word is null)
        {
            problem = $"there is no action '{parts[0]}'. Actions: {Actions}";
            return null;
        }

        var kind = found.Kind;
        string[] ends = parts.Length > 1 ? parts[1].Split('-', StringSplitOptions.TrimEntries) : [];
        var action = kind switch
        {
            SettlingKind.Arrow or SettlingKind.Clamp when ends.Length == 1 && Name<Clamp>(ends[0]) is { } clamp =>
                new SettlingAction(kind) { AtClamp = clamp },
            SettlingKind.Lead or SettlingKind.Contact when ends.Length == 1 && Name<Lead>(ends[0]) is { } lead =>
                new SettlingAction(kind) { AtLead = lead },
            SettlingKind.Meter when ends.Length == 2 && Name<Lead>(ends[0]) is { } lead && ConductorOf(ends[1]) is { } conductor =>
                new SettlingAction(kind) { AtLead = lead, AtConductor = conductor },
            SettlingKind.Meter when ends.Length == 2 && Name<Lead>(ends[0]) is { } lead && Name<Lead>(ends[1]) is { } other && lead != other =>
                new SettlingAction(kind) { AtLead = lead < other ? lead : other, ToLead = lead < other ? other : lead },
            SettlingKind.HandClamp when ends.Length == 1 && ConductorOf(ends[0]) is { } conductor =>
                new SettlingAction(kind) { AtConductor = conductor },
            SettlingKind.Switched when ends.Length == 1 && ConductorOf(ends[0]) is { } conductor and not Conductor.N =>
                new SettlingAction(kind) { AtConductor = conductor },
            SettlingKind.Switched when ends.Length == 2 && ConductorOf(ends[0]) is { } conductor and not Conductor.N
                && ConductorOf(ends[1]) is { } other and not Conductor.N && conductor != other =>
                new SettlingAction(kind) { AtConductor = conductor < other ? conductor : other, ToConductor = conductor < other ? other : conductor },
            SettlingKind.Rotation or SettlingKind.Motor or SettlingKind.Export or SettlingKind.Watts or SettlingKind.Angles
                or SettlingKind.ReadAgain when ends.Length == 0 => new SettlingAction(kind),
            _ => null,
        };
        if (action is null) problem = $"'{text}' does not say where. Write it as in {Example(kind)}";
        return action;
    }

    /// <summary>Reads an answer into its one form; null with the problem when it is none of this action's.</summary>
    public static string? ReadAnswer(SettlingAction action, string text, out string problem)
    {
        var answer = text.Trim();
        var read = action.Kind switch
        {
            SettlingKind.Rotation => OneOf(answer, "abc", "acb"),
            SettlingKind.Arrow => OneOf(answer, "load", "source"),
            SettlingKind.Contact or SettlingKind.Export => OneOf(answer, "yes", "no"),
            SettlingKind.Clamp or SettlingKind.Lead => ConductorOf(answer)?.ToString() ?? OneOf(answer, "none"),
            SettlingKind.Meter => Size(answer, "V"),
            SettlingKind.HandClamp => Size(answer, "A") ?? OneOf(answer, "other"),
            SettlingKind.Switched => Moved(answer),
            SettlingKind.Motor => OneOf(answer, "up", "down", "mixed"),
            SettlingKind.Watts => OneOf(answer, "load-positive", "load-negative"),
            SettlingKind.Angles => OneOf(answer, "lead-positive", "lag-positive"),
            _ => null,
        };
        problem = read is not null ? ""
            : action.Kind == SettlingKind.ReadAgain ? "read-again is answered by a new reading: check that"
            : $"'{answer}' is no answer to {action.Id}. Write {Answers(action.Kind)}";
        return read;
    }

    /// <summary>The clamps of an answer to <see cref="SettlingKind.Switched"/>, each with 1 for up, −1 for down, 0 for not said.</summary>
    public static SortedDictionary<Clamp, int>? Movements(string answer)
    {
        var moved = new SortedDictionary<Clamp, int>();
        if (string.Equals(answer, "none", StringComparison.OrdinalIgnoreCase)) return moved;
        Clamp? last = null;
        foreach (var word in answer.Split([',', '+'], StringSplitOptions.TrimEntries))
        {
            if (Name<Clamp>(word) is { } clamp)
            {
                if (!moved.TryAdd(clamp, 0)) return null;
                last = clamp;
            }
            else if (last is { } named && moved[named] == 0 && OneOf(word, "up", "down") is { } direction)
            {
                moved[named] = direction == "up" ? 1 : -1;
            }
            else
            {
                return null;
            }
        }

        return moved.Count > 0 ? moved : null;
    }

    /// <summary>The one form of an answer to <see cref="SettlingKind.Switched"/>.</summary>
    public static string Moved(IEnumerable<KeyValuePair<Clamp, int>> moved)
    {
        var words = moved.Select(pair => pair.Value == 0 ? $"{pair.Key}" : $"{pair.Key},{(pair.Value > 0 ? "up" : "down")}").ToArray();
        return words.Length == 0 ? "none" : string.Join(',', words);
    }

    /// <summary>A number as it stands in an answer: three significant digits.</summary>
    public static string Size(double value)
    {
        if (value < 1e-3) return "0";
        var digits = Math.Max(0, 2 - (int)Math.Floor(Math.Log10(value)));
        return Math.Round(value, Math.Min(digits, 6)).ToString("0.######", CultureInfo.InvariantCulture);
    }

    private static string? Moved(string answer) => Movements(answer) is { } moved ? Moved(moved) : null;

    private static string? Size(string answer, string unit)
    {
        var digits = answer.EndsWith(unit, StringComparison.OrdinalIgnoreCase) ? answer[..^1].Trim() : answer;
        return double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)
            ? value.ToString("0.######", CultureInfo.InvariantCulture) : null;
    }

    private static string? OneOf(string answer, params ReadOnlySpan<string> words)
    {
        foreach (var word in words)
        {
            if (string.Equals(word, answer, StringComparison.OrdinalIgnoreCase)) return word;
        }

        return null;
    }

    private static T? Name<T>(string text)
        where T : struct, Enum =>
        text.Length == 2 && char.IsAsciiLetter(text[0]) && Enum.TryParse<T>(text, ignoreCase: true, out var value) ? value : null;

    private static Conductor? ConductorOf(string text) =>
        text.Length == 1 && char.IsAsciiLetter(text[0]) && Enum.TryParse<Conductor>(text, ignoreCase: true, out var value)
        && value != Conductor.G ? value : null;

    private static string Example(SettlingKind kind) => kind switch
    {
        SettlingKind.Arrow => "arrow:I1=source",
        SettlingKind.Clamp => "clamp:I3=C",
        SettlingKind.Lead => "lead:V2=B",
        SettlingKind.Contact => "contact:VN=yes",
        SettlingKind.Meter => "meter:V2-B=0",
        SettlingKind.HandClamp => "hand-clamp:B=41.3",
        SettlingKind.Switched => "switched:A=I2,up",
        SettlingKind.Rotation => "rotation=abc",
        SettlingKind.Watts => "watts=load-positive",
        SettlingKind.Angles => "angles=lead-positive",
        SettlingKind.Export => "export=no",
        _ => "motor=up",
    };

    private static string Answers(SettlingKind kind) => kind switch
    {
        SettlingKind.Rotation => "abc or acb",
        SettlingKind.Arrow => "load or source",
        SettlingKind.Contact or SettlingKind.Export => "yes or no",
        SettlingKind.Clamp or SettlingKind.Lead => "A, B, C, N or none",
        SettlingKind.Meter => "volts, such as 0 or 231",
        SettlingKind.HandClamp => "amperes, such as 41.3, or other",
        SettlingKind.Switched => "the clamps whose power moves, such as I2,up or I1,up,I3,down, or none",
        SettlingKind.Motor => "up, down or mixed",
        SettlingKind.Watts => "load-positive or load-negative",
        _ => "lead-positive or lag-positive",
    };
}
