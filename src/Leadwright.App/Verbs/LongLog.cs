using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Sampling;

namespace Leadwright.App.Verbs;

/// <summary>A log of intervals in a long file: read row by row, its values kept as numbers, up to what the memory has room for; or piece by piece, its rows joined.</summary>
internal static class LongLog
{
    // A guard of a log takes 40 bytes at its peak for each value, as measured (bench/results/amd-epyc-2-cores/long-recordings.md); the rest is the computer's.
    private const int BytesAValue = 56;

    // No row of a log is shorter: a time, and values of two voltages and currents.
    private const int LeastBytesARow = 32;

    // With more, a table may be too wide for the memory before it is too long.
    private const int MostColumns = 1000;

    private const int MostFindings = 1000;

    // Longer pieces would save nothing; shorter ones show less of the dates' order.
    private const int PieceBytes = 64 << 20;

    // Lengths of an interval that recorders are set to, seconds: joined rows have one of them.
    private static readonly int[] s_intervals = [2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];

    /// <summary>Most values that are held, of which each row counts some for its time.</summary>
    public static long MostValues { get; } = Math.Max(10_000_000, GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / BytesAValue);

    /// <summary>Reads one.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How to read it, and from which length on it counts as long.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it is not long, or no log of text or Parquet.</returns>
    /// <exception cref="FormatReadException">It can't be used.</exception>
    /// <exception cref="InputRefusedException">The system does not hand it over.</exception>
    public static LogFile? ReadOrNull(string path, RecordingRequest request, CancellationToken cancellation)
    {
        try
        {
            var info = new FileInfo(path);
            if (!info.Exists || info.Length < request.StreamedFromBytes) return null;
            var file = new SampleFile(path, () => new FileStream(path, new FileStreamOptions { BufferSize = 1 << 16, Options = FileOptions.SequentialScan }));
            if (SampleFiles.KindOf(file) is not (InputKind.LogTable or InputKind.Parquet)) return null;
            using var stream = file.Open();
            return LogReader.Read(path, stream, RecordingFile.LogOptionsOf(request) with { MostValues = MostValues }, new Told(request.Progress), cancellation);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    /// <summary>Reads one of more rows than are wanted, of text: piece by piece, so many rows joined into one that there are no more.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How to read it, and from which length on it counts as long.</param>
    /// <param name="mostRows">How many rows are wanted at most.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it is none, or not as long by the length of its first rows; the note says how long its rows are now.</returns>
    /// <exception cref="FormatReadException">It can't be used.</exception>
    /// <exception cref="InputRefusedException">The system does not hand it over.</exception>
    public static (LogFile File, string Note)? JoinedOrNull(string path, RecordingRequest request, int mostRows, CancellationToken cancellation) =>
        FromPieces(path, request, mostRows, pieces => Joined(pieces, FoldFor(pieces.First.Log.IntervalSeconds, (double)pieces.EstimatedRows / mostRows), request, cancellation), cancellation);

    /// <summary>Reads the beginning of one of more rows than are wanted, of text: whole pieces until there are as many.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How to read it, and from which length on it counts as long.</param>
    /// <param name="mostRows">How many rows are wanted.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it is none, or not as long by the length of its first rows; the note says how much of it was read.</returns>
    /// <exception cref="FormatReadException">It can't be used.</exception>
    /// <exception cref="InputRefusedException">The system does not hand it over.</exception>
    public static (LogFile File, string Note)? BeginningOrNull(string path, RecordingRequest request, int mostRows, CancellationToken cancellation) =>
        FromPieces(path, request, mostRows, pieces => Joined(pieces, 1, request, cancellation, mostRows), cancellation);

    private static (LogFile File, string Note)? FromPieces(
        string path, RecordingRequest request, int mostRows, Func<LogPieces, (LogFile File, string Note)> read, CancellationToken cancellation)
    {
        try
        {
            var info = new FileInfo(path);
            if (!info.Exists || info.Length < request.StreamedFromBytes || info.Length / LeastBytesARow < Math.Min(mostRows, MostValues / MostColumns)) return null;
            var file = new SampleFile(path, () => new FileStream(path, new FileStreamOptions { BufferSize = 1 << 16, Options = FileOptions.SequentialScan }));
            if (SampleFiles.KindOf(file) is not InputKind.LogTable) return null;
            using var stream = file.Open();
            if (LogPieces.Open(path, stream, RecordingFile.LogOptionsOf(request), (int)Math.Min(PieceBytes, 32L * mostRows), cancellation) is not { } pieces) return null;
            if (pieces.EstimatedRows <= mostRows && pieces.EstimatedRows * (pieces.ColumnCount + LogReadOptions.ValuesARow) <= MostValues) return null;
            return read(pieces);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    private static (LogFile File, string Note) Joined(LogPieces pieces, int fold, RecordingRequest request, CancellationToken cancellation, int enoughRows = int.MaxValue)
    {
        var joined = new JoinedLog(fold);
        var warnings = pieces.First.Warnings.ToList();
        var clock = new List<ClockFinding>();
        var (shift, more, rows) = (0L, 0, 0L);
        foreach (var piece in pieces.Read(new Told(request.Progress), cancellation))
        {
            joined.Add(Kept(piece.Log), shift, cancellation);
            rows += piece.Log.Count;
            // What follows goes on from where the clock was put right.
            foreach (var step in piece.Log.ClockSteps) shift += step.Ticks;
            clock.AddRange(piece.Clock.Take(MostFindings - clock.Count));
            foreach (var warning in ReferenceEquals(piece, pieces.First) ? [] : piece.Warnings)
            {
                if (warnings.Exists(known => known.Says == warning.Says)) continue;
                if (warnings.Count < MostFindings) warnings.Add(warning);
                else more++;
            }

            if (rows >= enoughRows) break;
        }

        if (joined.LeftOutCount > 0) warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture, $"{joined.LeftOutCount:N0} rows bear a time before that of a row above them, and are left out.")));
        if (more > 0) warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture, $"{more:N0} more things were met while it was read; they are not told one by one.")));
        var log = joined.ToLog();
        var note = string.Create(CultureInfo.InvariantCulture, $"Of the log's {pieces.ColumnCount} columns and some {pieces.EstimatedRows / 1e6:0.0} million rows ") + (rows >= enoughRows
            ? string.Create(CultureInfo.InvariantCulture, $"the first {rows:N0} were read, {LongCheck.Length((log.To - log.From).TotalSeconds)}: what changed after them only a guard of the log tells.")
            : fold == 1
            ? "only volts, amperes, watts, vars and energies were held: all of it would not fit into the memory."
            : string.Create(CultureInfo.InvariantCulture, $"{log.Count:N0} rows of {LongCheck.Length(log.IntervalSeconds)} were made, {fold} of its own in each: an edge is known to one of them, and what is over sooner is not told."));
        return (pieces.First with { Log = log, Clock = [.. clock], Warnings = [.. warnings], Standings = ImmutableDictionary<int, ReadOnlyMemory<Core.Logs.Standing>>.Empty }, note);
    }

    // What tells of a hook-up.
    private static IntervalLog Kept(IntervalLog log)
    {
        int[] kept = [.. Enumerable.Range(0, log.Columns.Length).Where(column => log.Columns[column].Quantity
            is LogQuantity.Voltage or LogQuantity.Current or LogQuantity.ActivePower or LogQuantity.ReactivePower or LogQuantity.ApparentPower or LogQuantity.PowerFactor or LogQuantity.ActiveEnergy)];
        return new IntervalLog([.. kept.Select(column => log.Columns[column])], log.Starts.ToArray(), [.. kept.Select(column => log.Values(column).ToArray())], log.IntervalSeconds) { ClockSteps = log.ClockSteps };
    }

    // The shortest usual interval that is a whole number of those of the log.
    private static int FoldFor(double intervalSeconds, double least)
    {
        if (least <= 1) return 1;
        foreach (var seconds in s_intervals)
        {
            var fold = seconds / intervalSeconds;
            if (fold >= Math.Max(2, least) && Math.Abs(fold - Math.Round(fold)) < 1e-6) return (int)Math.Round(fold);
        }

        return (int)Math.Ceiling(Math.Max(2, least));
    }

    // Told at once, not by way of another thread.
    private sealed class Told(WorkProgress progress) : IProgress<double>
    {
        public void Report(double value) => progress.Tell(value);
    }
}
