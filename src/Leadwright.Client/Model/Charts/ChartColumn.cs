namespace Leadwright.Client.Model.Charts;

/// <summary>A column as a chart shows it.</summary>
/// <param name="Name">Its name on the host, such as <c>V1_rms_V</c>.</param>
/// <param name="Title">What it is called in words, such as <c>Voltage V1</c>.</param>
/// <param name="Label">The letters at the end of its line, such as <c>V1</c>.</param>
/// <param name="Look">Number of its colour, 0 to 4.</param>
/// <param name="Shape">The sign on its line; empty for none.</param>
public sealed record ChartColumn(string Name, string Title, string Label, int Look, string Shape)
{
    /// <summary>True for a line that stands behind the others to compare with: thin, and without a band.</summary>
    public bool IsFaint { get; init; }

    /// <summary>The unit's symbol; empty for a pure number.</summary>
    public string Unit { get; init; } = "";
}

/// <summary>A time that is marked in a chart.</summary>
/// <param name="At">The time.</param>
/// <param name="Label">What stands beside it.</param>
public sealed record ChartMark(DateTime At, string Label);

/// <summary>A band about the first line over a stretch of time.</summary>
/// <param name="From">Start, milliseconds as in a frame.</param>
/// <param name="To">End.</param>
/// <param name="Half">How far it reaches to either side, in the column's base unit.</param>
public sealed record ChartBand(double From, double To, double Half);
