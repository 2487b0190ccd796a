using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>How a person confirmed that tables with a certain set of headings are to be read.</summary>
/// <param name="Headings">The headings that the profile is recognised by, in the order of the table.</param>
/// <param name="Columns">What each column is; a column that is not named here is worked out anew.</param>
public sealed record ColumnProfile(ImmutableArray<string> Headings, ImmutableArray<ColumnStatement> Columns)
{
    /// <summary>In which order dates stand; null to find it out.</summary>
    public DateOrder? DateOrder { get; init; }

    /// <summary>Which end of its interval a row is stamped with; null to find it out.</summary>
    public StampPlace? Stamps { get; init; }

    /// <summary>The decimal mark; null to find it out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>A profile of how a table was read, once a person confirmed it.</summary>
    /// <param name="file">The log as it was read.</param>
    public static ColumnProfile Of(LogFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        // Of two headings alike only the place tells which is which.
        string NameOf(ColumnProposal column) => file.Columns.Count(other => string.Equals(other.Heading, column.Heading, StringComparison.OrdinalIgnoreCase)) == 1
            ? column.Heading : (column.Index + 1).ToString(CultureInfo.InvariantCulture);
        return new ColumnProfile(
            [.. file.Columns.Select(column => column.Heading)],
            [.. file.Columns.Where(column => column.Role is ColumnRole.Value).Select(column => new ColumnStatement(NameOf(column), column.Quantity, column.Place, column.Statistic)
            {
                Unit = column.Unit, IsExport = column.IsExport, Order = column.Order,
            })])
        {
            DateOrder = file.DateOrder,
            Stamps = file.Stamps,
            DecimalMark = file.DecimalMark,
        };
    }

    /// <summary>True for a table with the same set of headings, in any order.</summary>
    /// <param name="headings">The table's headings.</param>
    public bool Fits(IEnumerable<string> headings) => Headings.ToHashSet(StringComparer.OrdinalIgnoreCase).SetEquals(headings);
}
