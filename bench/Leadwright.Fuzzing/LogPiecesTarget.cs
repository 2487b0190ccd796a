using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.Fuzzing;

/// <summary>Long logs of text, read piece by piece.</summary>
/// <remarks>The check of silent wrong readings: where the reader of whole logs takes the same bytes and neither met anything with the clock, both must hold the same rows, and the same
/// values of every column that both took for the same.</remarks>
internal sealed class LogPiecesTarget() : FuzzTarget
{
    private const int PieceBytes = 900;

    private static readonly byte[][] s_seeds = SeedFiles.LogTables([], 96);
    private readonly FormatTarget _format = new("csv-pieces", s_seeds, Grammar.Text, Compare);

    public override string Name => "csv-pieces";

    public override byte[] Make(Random chance) => _format.Make(chance);

    public override bool Read(byte[] input) => _format.Read(input);

    private static void Compare(byte[] input)
    {
        if (LogPieces.Open("f.csv", new MemoryStream(input), new(), PieceBytes) is not { } pieces) return;
        var read = pieces.Read().ToList();
        LogFile whole;
        try
        {
            whole = LogReader.Read(new InputFile("f.csv", input));
        }
        catch (FormatReadException)
        {
            // What is told of the whole alone, such as a column of which half is no number, none of the pieces may show.
            return;
        }

        // Which midnight ends a day and which begins one is judged by all rows.
        if (whole.Warnings.Any(warning => warning.Says.Contains("midnight", StringComparison.Ordinal))) return;
        if (!whole.Clock.IsEmpty || read.Exists(piece => !piece.Clock.IsEmpty)) return;
        var starts = read.SelectMany(piece => piece.Log.Starts.ToArray()).ToArray();
        if (!whole.Log.Starts.Span.SequenceEqual(starts)) throw new FuzzFailureException($"{whole.Log.Count} rows as a whole, {starts.Length} in pieces, or other times");
        foreach (var proposal in pieces.First.Columns)
        {
            if (!whole.Columns.Contains(proposal) || proposal.Role != Formats.Matching.ColumnRole.Value) continue;
            var (one, other) = (whole.Log.IndexOf(proposal.Quantity, proposal.Place), pieces.First.Log.IndexOf(proposal.Quantity, proposal.Place));
            if (one < 0 || other < 0 || whole.Log.Columns[one] != pieces.First.Log.Columns[other]) continue;
            var (values, wanted) = (read.SelectMany(piece => piece.Log.Values(other).ToArray()).ToArray(), whole.Log.Values(one).ToArray());
            for (var row = 0; row < values.Length; row++)
            {
                // Whether a row has as many cells as all others, and a cell the unit of most, is judged by the rows at hand: a value may be missing in one of the two.
                if (double.IsFinite(values[row]) && double.IsFinite(wanted[row]) && values[row] != wanted[row])
                    throw new FuzzFailureException($"'{proposal.Heading}' ({proposal.Quantity}) holds {values[row]} in row {row} of the pieces, {wanted[row]} in the whole");
            }
        }
    }
}
