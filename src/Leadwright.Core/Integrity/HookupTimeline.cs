using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity;

/// <summary>A stretch of time with one hook-up.</summary>
/// <param name="From">Start, by the recorder's clock.</param>
/// <param name="To">End.</param>
/// <param name="Hookup">Where every lead and clamp was.</param>
/// <param name="Rotation">The rotation of the supply that goes with it.</param>
/// <param name="Confidence">Probability of this hook-up, those that no reading can tell from it included.</param>
public sealed record HookupPiece(DateTime From, DateTime To, Hookup Hookup, Rotation Rotation, double Confidence)
{
    /// <summary>Other hook-ups that may have been, likeliest first, with their probabilities; empty when the hook-up is sure.</summary>
    public ImmutableArray<HookupChance> Alternatives { get; init; } = [];

    /// <summary>What the load of each line usually draws, where the total power alone told the hook-up; null elsewhere.</summary>
    public LineFactors? Factors { get; init; }
}

/// <summary>A hook-up that may have been.</summary>
/// <param name="Hookup">Where every lead and clamp would have been.</param>
/// <param name="Probability">Its probability.</param>
public sealed record HookupChance(Hookup Hookup, double Probability)
{
    /// <summary>What the load of each line would usually draw, were it so; null where the total power did not tell.</summary>
    public LineFactors? Factors { get; init; }
}

/// <summary>The history of a hook-up: pieces without overlap, in order, that cover the recording from the first to the last interval.</summary>
/// <remarks>Time without rows and time without supply belongs to the piece before it, unless the hook-up changed meanwhile.</remarks>
/// <param name="Pieces">The pieces; at least one unless the recording is empty.</param>
public sealed record HookupTimeline(ImmutableArray<HookupPiece> Pieces)
{
    /// <summary>A timeline of nothing.</summary>
    public static HookupTimeline Empty { get; } = new([]);

    /// <summary>The piece at a time; the first before its start, the last after its end.</summary>
    /// <exception cref="InvalidOperationException">There are no pieces.</exception>
    public HookupPiece At(DateTime time)
    {
        if (Pieces.IsEmpty) throw new InvalidOperationException("The timeline has no pieces.");
        for (var index = 0; index < Pieces.Length; index++)
        {
            if (time < Pieces[index].To) return Pieces[index];
        }

        return Pieces[^1];
    }

    /// <summary>Equal when the pieces are.</summary>
    public bool Equals(HookupTimeline? other) => other is not null && Pieces.SequenceEqual(other.Pieces);

    /// <inheritdoc/>
    public override int GetHashCode() => Pieces.Length == 0 ? 0 : HashCode.Combine(Pieces.Length, Pieces[0].Hookup);
}
