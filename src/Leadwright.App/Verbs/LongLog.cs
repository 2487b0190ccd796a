using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Sampling;

namespace Leadwright.App.Verbs;

/// <summary>A log of intervals in a long file: read row by row, its values kept as numbers, up to what the memory has room for.</summary>
internal static class LongLog
{
    // A guard of a log takes 40 bytes at its peak for each value, as measured (bench/results/amd-epyc-2-cores/long-recordings.md); the rest is the computer's.
    private const int BytesAValue = 56;

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

    // Told at once, not by way of another thread.
    private sealed class Told(Action<double> progress) : IProgress<double>
    {
        public void Report(double value) => progress(value);
    }
}
