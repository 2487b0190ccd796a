using System.Collections.Immutable;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Logs;

/// <summary>How a log of intervals is read. What is null is found out from the file, and said where it had to be assumed.</summary>
public sealed record LogReadOptions
{
    /// <summary>The separator of a table of text: comma, semicolon, tab, bar or blank.</summary>
    public char? Separator { get; init; }

    /// <summary>The decimal mark of a table of text: point or comma.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>How the letters of a table of text are written, for one that does not say.</summary>
    public Encoding? Encoding { get; init; }

    /// <summary>In which order the parts of a date stand.</summary>
    public DateOrder? DateOrder { get; init; }

    /// <summary>Which end of its interval a row is stamped with.</summary>
    public StampPlace? Stamps { get; init; }

    /// <summary>Length of an interval, seconds.</summary>
    public double? IntervalSeconds { get; init; }

    /// <summary>The time of elapsed second 0, for a table whose times are counted from its own start.</summary>
    public DateTime? Start { get; init; }

    /// <summary>What the recorder's clock is ahead of UTC, for a table whose times count from 1970. Default nothing: they are given in UTC.</summary>
    public TimeSpan UtcOffset { get; init; }

    /// <summary>Name of the worksheet; null for the first that holds a log.</summary>
    public string? Sheet { get; init; }

    /// <summary>What a person says of columns; wins over everything else.</summary>
    public ImmutableArray<ColumnStatement> Columns { get; init; } = [];

    /// <summary>The profile that a person named for this table; refused when the table has other headings. Null for none.</summary>
    public ColumnProfile? Profile { get; init; }

    /// <summary>Profiles a person confirmed before; the first one with the headings of the file is used.</summary>
    public ImmutableArray<ColumnProfile> Profiles { get; init; } = [];

    /// <summary>Nominal voltage from line to neutral (two-wire: line to line), volts; helps to know voltages by their numbers. Null when not known.</summary>
    public double? NominalVolts { get; init; }

    /// <summary>The service as stated: says what voltages under the name of one line are where there is no neutral. Null when not stated.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>True when the last row was written last whatever its time says, as in a file that grows: a time before that of the row above it then tells of a
    /// clock that was set back. Default false: a lone row may stand out of order.</summary>
    public bool IsGrowing { get; init; }

    /// <summary>Most values that are held: rows times columns, each row counted as <see cref="ValuesARow"/> more for its time. A longer table is refused before it
    /// fills the memory. Default no bound.</summary>
    public long MostValues { get; init; } = long.MaxValue;

    /// <summary>What a row takes beside its values, counted in values.</summary>
    public const int ValuesARow = 8;
}
