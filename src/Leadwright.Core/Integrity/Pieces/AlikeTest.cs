using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Whether two channels read the same thing over some rows: their ratio then keeps still.</summary>
internal static class AlikeTest
{
    private const double Most = 40;

    /// <summary>Rows of a like load, outside the pieces, from which on they tell how much a ratio usually moves.</summary>
    private const int LeastRows = 30;

    /// <summary>Loads within so much of each other, either way, are alike.</summary>
    private const double LikeLoad = 0.25;

    /// <summary>Two voltage inputs of one recorder agree to two thousandths. Common practice, no source.</summary>
    private const double GainSpread = 0.002;

    /// <summary>Two clamps of one make agree to a percent. Common practice, no source.</summary>
    private const double ClampSpread = 0.01;
    private const double MostLevel = 5;
    private const double Active = 0.7;

    /// <summary>By so many of its own errors; rows follow each other, so that four are not many.</summary>
    private const double Errors = 4;

    /// <summary>So many rows stand for themselves by their mean.</summary>
    private const int MostInTurn = 12;

    /// <summary>Two clamps on one conductor agree to some percent, worn jaws and two makes included. Common practice, no source.</summary>
    private const double ClampsAgree = 0.1;

    /// <summary>Log-odds that they do, from the changes of their ratio against what these are in the rest of the recording at loads of that size: the scatter of a
    /// current is a smaller share of a large one.</summary>
    /// <param name="one">A channel.</param>
    /// <param name="other">Another of the kind.</param>
    /// <param name="pieces">The rows.</param>
    /// <param name="alikeSpread">How much the ratio moves when both read the same thing.</param>
    /// <param name="least">What other channels of the kind move by at least against each other; 0 when not known. Two that are alike in all of the
    /// recording show so.</param>
    /// <param name="activity">How much of what usually moves the ratio moved in these rows, 0 to 1.</param>
    public static double Odds(double[]? one, double[]? other, List<RowPiece> pieces, double alikeSpread, double least = 0, double activity = 1)
    {
        if (one is null || other is null) return 0;
        var usual = Math.Max(Math.Max(UsualSpread(one, other, pieces) * activity, least), 1e-6);
        if (usual < 1.5 * alikeSpread) return 0;
        double log = 0;
        var rows = 0;
        foreach (var piece in pieces)
        {
            var (first, last) = Inner(piece);
            for (var row = first + 1; row <= last; row++)
            {
                var change = Change(one, other, row);
                if (double.IsNaN(change)) continue;
                log += Student(change, alikeSpread) - Student(change, usual);
                rows++;
            }
        }

        return log <= 0 || rows == 0 ? Math.Clamp(log, -Most, 0) : Math.Min(log, MostFromOutside(one, other, pieces, log / rows, rows, change => Student(change, alikeSpread) - Student(change, usual)));
    }

    /// <summary>What rows may say at most, nats, by how rows that are not asked about fare: of a ratio that is written in coarse steps, or that others move, the spreads themselves are known badly. A few rows say no more
    /// than how seldom as many others in turn fare as well.</summary>
    private static double MostFromOutside(double[] one, double[] other, List<RowPiece> pieces, double mean, int rows, Func<double, double> say)
    {
        var outside = new List<double>();
        var (next, step) = (0, Math.Max(1, one.Length / 10000));
        for (var row = 1; row < one.Length; row += step)
        {
            while (next < pieces.Count && pieces[next].To < row) next++;
            if ((next >= pieces.Count || row < pieces[next].From) && Change(one, other, row) is var change && !double.IsNaN(change)) outside.Add(say(change));
        }

        if (outside.Count < LeastRows) return Most;
        double usual = outside.Average(), square = outside.Average(value => (value - usual) * (value - usual));
        if (mean - usual > Errors * Math.Sqrt(square * ((1.0 / rows) + (1.0 / outside.Count)))) return Most;
        if (mean <= usual || rows > MostInTurn) return 0;
        double sum = outside.Take(rows).Sum();
        int windows = 0, asWell = 0;
        for (var last = rows; last < outside.Count; last++, windows++)
        {
            sum += outside[last] - outside[last - rows];
            if (sum >= rows * mean) asWell++;
        }

        // Windows that overlap are one.
        return windows < rows ? 0 : Math.Log((windows + rows) / (double)(asWell + rows));
    }

    /// <summary>How much the difference of two lines' currents moves over some rows against the rest of the recording, at most 1: by a weekend's loads voltages keep still that are not alike.</summary>
    public static double Activity(double[]? one, double[]? other, List<RowPiece> pieces)
    {
        if (one is null || other is null) return 1;
        List<double> inside = [], outside = [];
        var next = 0;
        for (var row = 1; row < one.Length; row++)
        {
            var moved = Math.Abs(one[row] - one[row - 1] - other[row] + other[row - 1]);
            if (double.IsNaN(moved)) continue;
            while (next < pieces.Count && pieces[next].To < row) next++;
            (next < pieces.Count && row > pieces[next].From ? inside : outside).Add(moved);
        }

        if (inside.Count < LeastRows || outside.Count < LeastRows) return 1;
        double within = Robust.Quantile([.. inside], Active), usual = Robust.Quantile([.. outside], Active);
        return usual > 0 ? Math.Min(1, within / usual) : 1;
    }

    /// <summary>Log-odds that two voltages are one, from where their ratio stands: near one, as the inputs' gains leave it, or where it stands in the rest of the recording.
    /// Rows close in time say it once. 0 where the rest is too short to tell.</summary>
    public static double LevelOdds(double[]? one, double[]? other, List<RowPiece> pieces) => LevelOdds(one, other, pieces, 0.8, GainSpread);

    /// <summary>The same of two currents.</summary>
    public static double CurrentLevelOdds(double[]? one, double[]? other, List<RowPiece> pieces) => LevelOdds(one, other, pieces, 0, ClampSpread);

    private static double LevelOdds(double[]? one, double[]? other, List<RowPiece> pieces, double least, double gainSpread)
    {
        if (one is null || other is null) return 0;
        List<double> inside = [], outside = [];
        var next = 0;
        var step = Math.Max(1, one.Length / 10000);
        for (var row = 0; row < one.Length; row += step)
        {
            while (next < pieces.Count && pieces[next].To < row) next++;
            if (next < pieces.Count && row >= pieces[next].From) continue;
            if (one[row] > least && other[row] > least) outside.Add(Math.Log(one[row] / other[row]));
        }

        foreach (var (first, last) in pieces.Select(Inner))
        {
            for (var row = first; row <= last; row += Math.Max(1, (last - first) / 300))
            {
                if (one[row] > 0 && other[row] > 0) inside.Add(Math.Log(one[row] / other[row]));
            }
        }

        if (inside.Count < 2 || outside.Count < LeastRows) return 0;
        double stands = Robust.Median([.. inside]), usual = Robust.Median([.. outside]), spread = Math.Max(gainSpread, 1.2 * Robust.Deviation([.. outside]));
        return Math.Clamp(Student(stands, gainSpread) - Student(stands - usual, spread), -MostLevel, MostLevel);
    }

    /// <summary>True where two currents stand further apart than the gains of two clamps on one conductor, and the step in which they are written, let them.</summary>
    public static bool StandApart(double[]? one, double[]? other, List<RowPiece> pieces)
    {
        if (one is null || other is null) return false;
        List<double> ratios = [], sizes = [];
        foreach (var (first, last) in pieces.Select(Inner))
        {
            for (var row = first; row <= last; row += Math.Max(1, (last - first) / 300))
            {
                if (!(one[row] > 0) || !(other[row] > 0)) continue;
                ratios.Add(Math.Log(one[row] / other[row]));
                sizes.Add(Math.Min(one[row], other[row]));
            }
        }

        return ratios.Count > 1 && Math.Abs(Robust.Median([.. ratios])) > ClampsAgree + (Math.Max(Robust.Step(one), Robust.Step(other)) / Robust.Median([.. sizes]));
    }

    /// <summary>The rows of a piece without those at its ends, in which the change itself may fall.</summary>
    private static (int First, int Last) Inner(RowPiece piece) => piece.Length < 4 ? (piece.From, piece.To) : (piece.From + 1, piece.To - 1);

    /// <summary>How much the ratio of two channels usually moves.</summary>
    /// <param name="one">A channel.</param>
    /// <param name="other">Another.</param>
    /// <param name="rows">From a row to the one so many rows later.</param>
    public static double Spread(double[] one, double[] other, int rows = 1)
    {
        var changes = new List<double>();
        for (var row = rows; row < one.Length; row += Math.Max(1, one.Length / 10000)) changes.Add(Change(one, other, row, rows));
        return Robust.Deviation([.. changes]);
    }

    /// <summary>How much the ratio of two channels moves from row to row within some rows, those at their ends left out.</summary>
    public static double Spread(double[] one, double[] other, List<RowPiece> pieces)
    {
        var changes = new List<double>();
        var step = Math.Max(1, one.Length / 10000);
        foreach (var (first, last) in pieces.Select(Inner))
        {
            for (var row = first + 1; row <= last; row += step) changes.Add(Change(one, other, row));
        }

        return Robust.Deviation([.. changes]);
    }

    private static double UsualSpread(double[] one, double[] other, List<RowPiece> pieces)
    {
        var all = Spread(one, other);
        var level = Robust.Median([.. pieces.SelectMany(piece => Sizes(one, other, piece.From, piece.To))]);
        var outside = new List<double>();
        var (next, step) = (0, Math.Max(1, one.Length / 10000));
        for (var row = 1; row < one.Length; row += step)
        {
            while (next < pieces.Count && pieces[next].To < row) next++;
            if (next < pieces.Count && row >= pieces[next].From) continue;
            if (Math.Abs(Size(one, other, row) - level) < LikeLoad && Change(one, other, row) is var change && !double.IsNaN(change)) outside.Add(change);
        }

        if (outside.Count < LeastRows) return all;
        // Where the pieces are most of the recording all of it tells what they do, and only the rest what is usual.
        var rest = Robust.Deviation([.. outside]);
        return 2 * pieces.Sum(piece => piece.Length) > one.Length ? rest : Math.Min(all, rest);
    }

    private static IEnumerable<double> Sizes(double[] one, double[] other, int from, int to)
    {
        for (var row = from; row <= to; row += Math.Max(1, (to - from) / 300))
        {
            if (Size(one, other, row) is var size && double.IsFinite(size)) yield return size;
        }
    }

    private static double Size(double[] one, double[] other, int row) => one[row] > 0 && other[row] > 0 ? 0.5 * Math.Log(one[row] * other[row]) : double.NaN;

    /// <summary>How much a channel itself moves from row to row.</summary>
    public static double Moves(double[] one)
    {
        var changes = new List<double>();
        for (var row = 1; row < one.Length; row += Math.Max(1, one.Length / 10000))
        {
            if (one[row] > 0 && one[row - 1] > 0) changes.Add(Math.Log(one[row] / one[row - 1]));
        }

        return Robust.Deviation([.. changes]);
    }

    private static double Change(double[] one, double[] other, int row, int rows = 1) =>
        one[row] > 0 && other[row] > 0 && one[row - rows] > 0 && other[row - rows] > 0
            ? Math.Log(one[row] / other[row] * other[row - rows] / one[row - rows])
            : double.NaN;

    private static double Student(double value, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (value * value / (4 * spread * spread))));
}
