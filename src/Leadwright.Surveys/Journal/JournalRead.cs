using System.Collections.Immutable;

namespace Leadwright.Surveys.Journal;

/// <summary>A journal as it was found.</summary>
/// <param name="Entries">The entries, in the order of the file.</param>
/// <param name="SoundLength">Bytes up to the end of the last whole line.</param>
/// <param name="TornLength">Bytes behind that: a line whose writing was cut short. Nobody was told that it was saved.</param>
/// <param name="LastSum">SHA-256 of the last whole line; empty when there is none.</param>
/// <param name="Faults">Lines that were changed, taken out or put in: whole sentences.</param>
internal sealed record JournalRead(ImmutableArray<JournalEntry> Entries, long SoundLength, long TornLength, string LastSum, ImmutableArray<string> Faults)
{
    /// <summary>Reads a journal.</summary>
    /// <param name="bytes">Its bytes.</param>
    public static JournalRead Of(ReadOnlyMemory<byte> bytes)
    {
        var entries = ImmutableArray.CreateBuilder<JournalEntry>();
        var faults = ImmutableArray.CreateBuilder<string>();
        var (before, start, lineNumber, number) = ("", 0, 0, 0L);
        while (start < bytes.Length)
        {
            var end = bytes.Span[start..].IndexOf((byte)'\n');
            if (end < 0) break;
            var raw = bytes.Slice(start, end);
            var isLast = start + end + 1 == bytes.Length;
            var line = JournalLine.Read(raw);
            // A power cut may leave the length of a line and not its bytes: at the end that is a torn line like any other.
            if (line is null && isLast) break;
            lineNumber++;
            if (line is null) faults.Add($"Line {lineNumber} of the journal can't be read: it was changed since it was written.");
            else
            {
                if (!line.IsWhole) faults.Add($"Line {lineNumber} of the journal (entry {line.Entry.Number}) was changed since it was written.");
                if (line.Before != before) faults.Add($"The line before line {lineNumber} of the journal was changed, taken out or put in since it was written.");
                if (line.Entry.Number != number + 1) faults.Add($"Line {lineNumber} of the journal has the number {line.Entry.Number} where {number + 1} is due.");
                number = line.Entry.Number;
                entries.Add(line.Entry);
            }

            before = JournalLine.Hex(raw.Span);
            start += end + 1;
        }

        return new JournalRead(entries.ToImmutable(), start, bytes.Length - start, before, faults.ToImmutable());
    }
}
