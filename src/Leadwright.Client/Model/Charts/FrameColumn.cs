namespace Leadwright.Client.Model.Charts;

/// <summary>A column of a frame. A row that holds no value has NaN for mean, least and most.</summary>
/// <param name="Name">Its name, such as <c>V1_rms_V</c>.</param>
/// <param name="Unit">Its base unit; empty for a pure number.</param>
public sealed record FrameColumn(string Name, string Unit)
{
    /// <summary>Mean of each row.</summary>
    public required float[] Mean { get; init; }

    /// <summary>Least value of each row.</summary>
    public required float[] Low { get; init; }

    /// <summary>Largest value of each row.</summary>
    public required float[] High { get; init; }

    /// <summary>Weakest standing within each row, as <see cref="Core.Logs.Standing"/> counts them.</summary>
    public required byte[] Standing { get; init; }

    /// <summary>The column in numbers over the rows of a frame.</summary>
    public ColumnSummary Summary()
    {
        var (least, most, sum, count) = (double.PositiveInfinity, double.NegativeInfinity, 0.0, 0);
        var standings = new int[4];
        for (var row = 0; row < Mean.Length; row++)
        {
            if (!float.IsFinite(Mean[row]))
            {
                standings[(int)Core.Logs.Standing.Lost]++;
                continue;
            }

            standings[Math.Min((int)Standing[row], 3)]++;
            least = Math.Min(least, Low[row]);
            most = Math.Max(most, High[row]);
            sum += Mean[row];
            count++;
        }

        return count == 0
            ? new ColumnSummary(double.NaN, double.NaN, double.NaN, 0, 0, 0, Mean.Length == 0 ? 0 : 1)
            : new ColumnSummary(
                least, sum / count, most, (double)standings[0] / Mean.Length, (double)standings[1] / Mean.Length, (double)standings[2] / Mean.Length,
                (double)standings[3] / Mean.Length);
    }
}

/// <summary>A column over a span, in numbers.</summary>
/// <param name="Least">Its least value; NaN when there is none.</param>
/// <param name="Mean">Mean of its rows.</param>
/// <param name="Most">Its largest value.</param>
/// <param name="Measured">Share of the rows that are as the recorder wrote them.</param>
/// <param name="Mended">Share that was recomputed exactly.</param>
/// <param name="Modelled">Share that was estimated.</param>
/// <param name="Lost">Share that is not to be had.</param>
public readonly record struct ColumnSummary(double Least, double Mean, double Most, double Measured, double Mended, double Modelled, double Lost);
