using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity;

/// <summary>The hook-up that a watch tells changes against: that of the longest piece, judged anew while there are few rows and then kept.</summary>
internal sealed class ProvedPiece(GuardOptions options)
{
    private const int RowsOfProof = 4 * GuardWatch.LeastRows;

    private readonly Hookup? _stated = options.ProvedHookup;
    private bool _isKept;
    private DateTime? _trusted;

    /// <summary>What is known of the site, with the hook-up once it is proved.</summary>
    public GuardOptions Options { get; private set; } = options;

    /// <summary>When the rows since a change outweigh those that the hook-up was proved by, the guard takes them for the proved ones: tells when the change was.</summary>
    /// <param name="report">What the guard says.</param>
    /// <returns>The time of the change; null when the proved rows are told as proved.</returns>
    public DateTime? IsTurnedOver(GuardReport report)
    {
        if (Options.ProvedHookup is not { } proved || _trusted is not { } trusted || report.Timeline.Pieces.Length < 2) return null;
        var piece = report.Timeline.At(trusted);
        return piece.Hookup.Equals(proved) || !report.Timeline.Pieces[^1].Hookup.Equals(proved) ? null : piece.To;
    }

    /// <summary>Takes what the guard says.</summary>
    /// <param name="report">It.</param>
    /// <param name="rows">How many rows it is of.</param>
    /// <param name="isQuiet">True when no alarm is up: what an alarm lies over is not trusted, whatever is said of it later.</param>
    public void Take(GuardReport report, int rows, bool isQuiet)
    {
        if (report.Timeline.Pieces.IsEmpty) return;
        if (!_isKept && !report.Notes.Contains(GuardNoteKind.HookupUndecided)) Prove(report, rows);
        var last = report.Timeline.Pieces[^1];
        if (isQuiet && Options.ProvedHookup is { } proved && last.Hookup.Equals(proved)) _trusted = MiddleOf(last);
    }

    /// <summary>What was wrong when the watch began and has been right since: from then on that is the hook-up.</summary>
    /// <param name="report">What the guard says.</param>
    /// <param name="interval">Length of an interval.</param>
    /// <returns>Since when it has been right; the rows before have nothing to say any more. Null when nothing was put right.</returns>
    public DateTime? PutRight(GuardReport report, TimeSpan interval)
    {
        if (!_isKept || Options.ProvedHookup is not { IsRight: false } || report.Timeline.Pieces.Length < 2) return null;
        var last = report.Timeline.Pieces[^1];
        if (!last.Hookup.IsRight || last.Confidence < GuardSpan.SureFrom || last.To - last.From < RowsOfProof * interval) return null;
        Options = Options with { ProvedHookup = last.Hookup };
        _trusted = MiddleOf(last);
        return last.From;
    }

    // Far from what may prove to be a change at its end.
    private static DateTime MiddleOf(HookupPiece piece) => piece.From + ((piece.To - piece.From) / 2);

    private void Prove(GuardReport report, int rows)
    {
        var longest = report.Timeline.Pieces.MaxBy(piece => piece.To - piece.From)!;
        var isTime = rows is GuardWatch.LeastRows or (2 * GuardWatch.LeastRows) or RowsOfProof;
        if (longest.Confidence > GuardSpan.SureFrom) Options = Options with { ProvedHookup = longest.Hookup };
        if (isTime && rows < RowsOfProof) Options = Options with { ProvedHookup = _stated };
        _isKept = rows >= RowsOfProof && Options.ProvedHookup is not null;
        if (_isKept) _trusted = MiddleOf(longest);
    }
}
