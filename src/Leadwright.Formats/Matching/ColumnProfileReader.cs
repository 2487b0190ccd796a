using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats.Matching;

/// <summary>Reads a profile of columns: <c>leadwright.columns/1</c>.</summary>
/// <remarks>A field that nobody knows is an error, since a misspelt one would otherwise go unnoticed. Format: <c>docs/formats/logged-values.md</c>.</remarks>
public static class ColumnProfileReader
{
    /// <summary>Reads a profile.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">The file can't be used; its field says where.</exception>
    public static ColumnProfile Read(InputFile file) =>
        ReadingsJson.Read(file, ReadRoot);

    private static ColumnProfile ReadRoot(ref Utf8JsonReader reader, ReadingsJson json)
    {
        var profile = new ColumnProfile([], []);
        var hasSchema = false;
        ReadingsJson.Next(ref reader);
        json.ExpectObject(ref reader, "$", "an object { … } that holds the profile");
        while (json.NextProperty(ref reader, "$", out var name, out var path))
        {
            switch (name)
            {
                case "schema":
                    var schema = json.Text(ref reader, path, "the name of the format");
                    if (schema != ColumnProfileWords.Schema)
                        throw json.Bad(ref reader, path, $"\"{ColumnProfileWords.Schema}\"", $"\"{schema}\"", "This is no profile of columns.");
                    hasSchema = true;
                    break;
                case "date_order": profile = profile with { DateOrder = json.Word(ref reader, path, ColumnProfileWords.Orders) }; break;
                case "stamps": profile = profile with { Stamps = json.Word(ref reader, path, ColumnProfileWords.Stamps) }; break;
                case "decimal_mark": profile = profile with { DecimalMark = json.Word(ref reader, path, ColumnProfileWords.Marks) }; break;
                case "headings": profile = profile with { Headings = ReadHeadings(ref reader, json, path) }; break;
                case "columns": profile = profile with { Columns = ReadColumns(ref reader, json, path) }; break;
                default: throw Unknown(ref reader, json, path, "schema, date_order, stamps, decimal_mark, headings and columns");
            }
        }

        ReadingsJson.ExpectEnd(ref reader);
        if (!hasSchema)
            throw json.Bad(json.Start, "$.schema", $"\"{ColumnProfileWords.Schema}\"", "nothing", $"Add a line \"schema\": \"{ColumnProfileWords.Schema}\".");
        if (profile.Headings.IsEmpty)
            throw json.Bad(json.Start, "$.headings", "the headings that the profile is recognised by", "nothing", "Add the headings of the table.");
        return profile;
    }

    private static ImmutableArray<string> ReadHeadings(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        ExpectList(ref reader, json, path, "a list [ … ] of headings");
        var headings = ImmutableArray.CreateBuilder<string>();
        for (ReadingsJson.Next(ref reader); reader.TokenType != JsonTokenType.EndArray; ReadingsJson.Next(ref reader))
            headings.Add(json.Text(ref reader, $"{path}[{headings.Count}]", "a heading") ?? "");
        return headings.ToImmutable();
    }

    private static ImmutableArray<ColumnStatement> ReadColumns(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        ExpectList(ref reader, json, path, "a list [ … ] of columns");
        var columns = ImmutableArray.CreateBuilder<ColumnStatement>();
        for (ReadingsJson.Next(ref reader); reader.TokenType != JsonTokenType.EndArray; ReadingsJson.Next(ref reader))
            columns.Add(ReadColumn(ref reader, json, $"{path}[{columns.Count}]"));
        return columns.ToImmutable();
    }

    private static ColumnStatement ReadColumn(ref Utf8JsonReader reader, ReadingsJson json, string parent)
    {
        var spot = json.Spot(ref reader);
        json.ExpectObject(ref reader, parent, "an object { … } of a column");
        var column = new ColumnStatement("", default);
        while (json.NextProperty(ref reader, parent, out var name, out var path))
        {
            column = name switch
            {
                "column" => column with { Column = json.Text(ref reader, path, "a heading or a number") ?? "" },
                "quantity" => column with { Quantity = json.Word(ref reader, path, ColumnProfileWords.Quantities) },
                "place" => column with { Place = json.Word(ref reader, path, ColumnProfileWords.Places) },
                "statistic" => column with { Statistic = json.Word(ref reader, path, ColumnProfileWords.Statistics) },
                "unit" => column with { Unit = json.Text(ref reader, path, "a unit") ?? "" },
                "export" => column with { IsExport = json.Flag(ref reader, path) },
                "left_out" => column with { IsLeftOut = json.Flag(ref reader, path) },
                "order" => column with { Order = (int)(json.Number(ref reader, path, value => value is >= 0 and <= 100 && value == Math.Floor(value), "a whole number from 0 to 100") ?? 0) },
                _ => throw Unknown(ref reader, json, path, "column, quantity, place, statistic, unit, export, order and left_out"),
            };
        }

        return column.Column.Length > 0 ? column : throw json.Bad(spot, parent + ".column", "the heading of the column", "nothing", "Say which column is meant.");
    }

    private static void ExpectList(ref Utf8JsonReader reader, ReadingsJson json, string path, string expected)
    {
        if (reader.TokenType != JsonTokenType.StartArray) throw json.Bad(ref reader, path, expected, "something else", "Put the values into [ ].");
    }

    private static FormatReadException Unknown(ref Utf8JsonReader reader, ReadingsJson json, string path, string known) =>
        json.Bad(ref reader, path, $"one of the fields {known}", "another", "Correct its name or take it out.");
}
