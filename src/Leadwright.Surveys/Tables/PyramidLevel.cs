using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>A level of a pyramid that is open to read.</summary>
internal sealed class PyramidLevel(int number, TableFile file, long[][] starts, int[][] rows)
{
    public int Number { get; } = number;

    public TableFile File { get; } = file;

    /// <summary>Start of each block, by row group.</summary>
    public long[][] Starts { get; } = starts;

    /// <summary>Rows of each block, by row group.</summary>
    public int[][] Rows { get; } = rows;

    /// <summary>Where the summaries of a column are: least, greatest, mean, count, and standing where it has one.</summary>
    public DataField[] FieldsOf(StoredColumn column)
    {
        DataField[] fields =
        [
            Of(column.Name + PyramidFields.Least), Of(column.Name + PyramidFields.Greatest), Of(column.Name + PyramidFields.Mean), Of(column.Name + PyramidFields.Count),
        ];
        return column.HasStandings ? [.. fields, Of(column.Name + PyramidFields.Standing)] : fields;
    }

    private DataField Of(string name) => File.Find(name) ?? throw new SurveyException(SurveyProblem.Damaged, $"The pyramid has no column '{name}'.");
}
