using System.Globalization;

namespace Leadwright.App.Verbs;

/// <summary>Files that a verb holds in memory as a whole: those below the length from which files are read part by part, and of the longer ones
/// workbooks, recordings of several rates, and logs in PQDIF.</summary>
internal static class HeldFile
{
    // The longest array of bytes that a program can have, less some room.
    private const long MostEver = 1_900_000_000;

    // Samples of two bytes become numbers of eight, beside the file itself and what is worked out of it.
    private const int Growth = 8;

    /// <summary>The longest file, bytes: an eighth of this computer's memory, 1,900 MB at most.</summary>
    public static long MostBytes { get; } = GC.GetGCMemoryInfo().TotalAvailableMemoryBytes is > 0 and var memory ? Math.Min(MostEver, memory / Growth) : MostEver;

    /// <summary>Refuses a file that is longer, and says what to do with it.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputRefusedException">It is longer.</exception>
    public static void Require(string path)
    {
        var file = new FileInfo(path);
        if (!file.Exists || file.Length <= MostBytes) return;
        throw new InputRefusedException(ExitCode.InputUnusable, string.Create(
            CultureInfo.InvariantCulture,
            $"Cannot use '{path}': it has {file.Length / 1_000_000:N0} MB, and a file is held in memory here as a whole: {MostBytes / 1_000_000:N0} MB at most on this computer. "
            + $"A recording of samples is measured at any length: leadwright measure {path} -o measured.parquet --interval 1min, then use the table. A log is exported in shorter pieces, as by weeks."));
    }
}
