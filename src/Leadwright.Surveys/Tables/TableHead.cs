using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>What is kept with a table of a log besides its values, so that it is read back the same.</summary>
internal sealed record TableHead
{
    public const string Schema = "leadwright.survey-table/1";
    public const string MetadataName = "leadwright_table";

    public double IntervalSeconds { get; init; }

    public ImmutableArray<HeadColumn> Columns { get; init; } = [];

    public ImmutableArray<HeadStep> ClockSteps { get; init; } = [];

    /// <summary>For each row group its first and last start, ticks.</summary>
    public ImmutableArray<long> Groups { get; init; } = [];

    public string ToJson() => JsonSerializer.Serialize(this, TableHeadJson.Default.TableHead);

    /// <summary>Reads a head; null where there is none or it can't be read, as in a table that was written by another program.</summary>
    public static TableHead? Of(IReadOnlyDictionary<string, string> metadata)
    {
        if (!metadata.TryGetValue(MetadataName, out var text)) return null;
        try
        {
            return JsonSerializer.Deserialize(text, TableHeadJson.Default.TableHead);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

/// <summary>A column of a log, and its name in the table.</summary>
internal sealed record HeadColumn
{
    public string Field { get; init; } = "";

    public string Name { get; init; } = "";

    public LogQuantity Quantity { get; init; }

    public LogPlace Place { get; init; }

    public LogStatistic Statistic { get; init; }

    public int Order { get; init; }

    public bool IsExport { get; init; }

    public string OtherUnit { get; init; } = "";

    public string? StandingField { get; init; }

    public LogColumn ToColumn() => new(Name, Quantity, Place, Statistic) { Order = Order, IsExport = IsExport, OtherUnit = OtherUnit };

    public static HeadColumn Of(LogColumn column, string field, string? standingField) => new()
    {
        Field = field, Name = column.Name, Quantity = column.Quantity, Place = column.Place, Statistic = column.Statistic, Order = column.Order,
        IsExport = column.IsExport, OtherUnit = column.OtherUnit, StandingField = standingField,
    };
}

/// <summary>A place where the clock was set back.</summary>
internal sealed record HeadStep(int Row, long Ticks);

/// <summary>How heads are written.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, UseStringEnumConverter = true)]
[JsonSerializable(typeof(TableHead))]
internal sealed partial class TableHeadJson : JsonSerializerContext;
