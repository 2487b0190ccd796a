namespace Leadwright.Reports.Hookups;

/// <summary>Finds places for the labels of vectors where they cover neither each other nor a vector.</summary>
/// <param name="centreX">Where all vectors begin.</param>
/// <param name="centreY">Where all vectors begin.</param>
/// <param name="vectors">The vectors, from their beginning to their tip.</param>
internal sealed class VectorLabels(double centreX, double centreY, (double X, double Y)[] vectors)
{
    private readonly List<(double X, double Y)> _taken = [];

    /// <summary>The middle of the label of a vector: beyond its tip where that is free, else beside it.</summary>
    public (double X, double Y) Place(double vectorX, double vectorY)
    {
        var length = Math.Sqrt((vectorX * vectorX) + (vectorY * vectorY));
        var (x, y) = (vectorX / length, vectorY / length);
        ReadOnlySpan<(double Beyond, double Aside)> offers =
        [
            (16, 0), (10, 18), (10, -18), (0, 20), (0, -20), (-14, 20), (-14, -20), (16, 26), (16, -26), (6, 36), (6, -36),
        ];
        var (best, fewest) = ((X: 0.0, Y: 0.0), double.MaxValue);
        foreach (var (beyond, aside) in offers)
        {
            var along = length + beyond;
            var place = (X: centreX + (along * x) - (aside * y), Y: centreY + (along * y) + (aside * x));
            var hits = Hits(place);
            if (hits >= fewest) continue;
            (best, fewest) = (place, hits);
            if (hits == 0) break;
        }

        _taken.Add(best);
        return best;
    }

    private double Hits((double X, double Y) place)
    {
        var hits = 3.0 * _taken.Count(other => Math.Abs(other.X - place.X) < 28 && Math.Abs(other.Y - place.Y) < 17);
        foreach (var (x, y) in vectors)
        {
            // Distance from the vector, which runs from the centre to its tip.
            var (fromX, fromY) = (place.X - centreX, place.Y - centreY);
            var along = Math.Clamp(((fromX * x) + (fromY * y)) / ((x * x) + (y * y)), 0, 1);
            var (apartX, apartY) = (fromX - (along * x), fromY - (along * y));
            if ((apartX * apartX / (14 * 14)) + (apartY * apartY / (10 * 10)) < 1) hits++;
        }

        return hits;
    }
}
