using System.Collections.Immutable;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Formats.Limits;

/// <summary>Reads voltage-tolerance curves, <c>leadwright.tolerance-curve/1</c>: those that come with the program, and the user's own.</summary>
/// <remarks>Format and sources: <c>docs/methods/limits.md</c>.</remarks>
public static class ToleranceCurveReader
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.tolerance-curve/1";

    /// <summary>The words by which the curves that come with the program are chosen.</summary>
    public static ImmutableArray<string> Shipped { get; } = ["iti", "semi-f47"];

    /// <summary>The curves that come with the program.</summary>
    public static ImmutableArray<ToleranceCurve> ReadShipped() => [.. Shipped.Select(name => Read(LimitTableReader.ShippedFile(name)!))];

    /// <summary>Reads a curve.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">It can't be used; its field says where.</exception>
    public static ToleranceCurve Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var document = JsonFields.Parse(file);
        var root = new JsonFields(file.Name, "$", document.RootElement, "schema", "name", "title", "edition", "notes", "lower", "upper");
        root.RequireSchema(Schema);
        var (lower, upper) = (Steps(file.Name, root, "lower"), Steps(file.Name, root, "upper"));
        if (lower.IsEmpty && upper.IsEmpty) throw JsonFields.Bad(file.Name, "$.lower", "at least one step, lower or upper", "none");
        var name = root.RequiredText("name");
        return new ToleranceCurve(root.Text("title") ?? name, lower, upper) { Word = name, Edition = root.Text("edition") ?? "" };
    }

    private static ImmutableArray<ToleranceStep> Steps(string source, JsonFields root, string side)
    {
        var steps = ImmutableArray.CreateBuilder<ToleranceStep>();
        foreach (var (path, element) in root.List(side))
        {
            var fields = new JsonFields(source, path, element, "from_s", "to_s", "percent");
            var (from, to) = (fields.Number("from_s"), fields.Number("to_s", double.PositiveInfinity));
            double[] percent = [.. fields.List("percent").Select(value => value.Element.TryGetDouble(out var number) ? number : throw JsonFields.Bad(source, value.Path, "a number", value.Element.ToString()))];
            if (percent.Length != 2) throw JsonFields.Bad(source, $"{path}.percent", "the limit at the start and at the end", $"{percent.Length} numbers");
            if (!(from >= 0) || !(to > from)) throw JsonFields.Bad(source, path, "from_s below to_s, not below zero", FormattableString.Invariant($"{from} and {to}"));
            if (steps.Count > 0 && from < steps[^1].ToSeconds) throw JsonFields.Bad(source, $"{path}.from_s", "steps that follow each other", FormattableString.Invariant($"{from} before {steps[^1].ToSeconds}"));
            if (percent[0] != percent[1] && (from <= 0 || double.IsInfinity(to))) throw JsonFields.Bad(source, path, "a slope between two times above zero", "one without");
            steps.Add(new ToleranceStep(from, to, percent[0], percent[1]));
        }

        return steps.ToImmutable();
    }
}
