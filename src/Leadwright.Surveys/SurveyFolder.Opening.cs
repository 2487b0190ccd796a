using Leadwright.Surveys.Documents;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>Opening: the journal is read, leftovers of a work that was cut short are cleared away.</summary>
public sealed partial class SurveyFolder
{
    // What a making that was cut short leaves behind; and what the system itself puts into folders.
    private static readonly string[] s_harmless =
        [JournalFile + DraftEnding, "writer.lock", "writer.json", ".DS_Store", "desktop.ini", "Thumbs.db"];

    private static SurveyFolder OpenToWrite(ISurveyStorage storage, SurveyAuthor author, IDisposable held)
    {
        var journal = ReadJournal(storage);
        if (!journal.Faults.IsEmpty)
        {
            throw new SurveyException(
                SurveyProblem.Damaged,
                $"The survey '{storage.Name}' can't be written to: {journal.Faults[0]} Open it to read, or put the journal of an older copy back.");
        }

        if (journal.TornLength > 0)
        {
            using var file = storage.Append(JournalFile);
            file.SetLength(journal.SoundLength);
            file.Flush();
        }

        // A line is the survey's once it was read: bytes that a cut power left only in memory are brought to the disk.
        else
        {
            using var file = storage.Append(JournalFile);
            file.Flush();
        }

        var folder = new SurveyFolder(storage, author, held, journal);
        folder.ClearLeftovers();
        folder.Upgrade();
        if (!folder.IsDocumentCurrent()) folder.WriteDocument();
        return folder;
    }

    private static JournalRead ReadJournal(ISurveyStorage storage)
    {
        if (storage.LengthOf(JournalFile) is null)
        {
            throw storage.LengthOf(DocumentFile) is null
                ? new SurveyException(SurveyProblem.NotASurvey, $"'{storage.Name}' is not a survey's folder: it has no {JournalFile}. Name the folder of a survey, or make one there with 'leadwright survey new'.")
                : new SurveyException(SurveyProblem.Damaged, $"The survey '{storage.Name}' has lost its {JournalFile}, which holds everything that was saved. Copy the whole folder again from where it came.");
        }

        // Before the journal and its length: somebody who writes meanwhile adds to the journal first.
        var heading = HeadingOf(storage);
        var length = storage.LengthOf(JournalFile) ?? 0;
        if (length > MostJournalBytes)
            throw new SurveyException(SurveyProblem.Damaged, $"The {JournalFile} of '{storage.Name}' is {length >> 20} MB long: no survey writes so much.");
        using var stream = storage.OpenRead(JournalFile);
        var bytes = new byte[length];
        var journal = JournalRead.Of(bytes.AsMemory(0, stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false)));
        RequireKnownSchema(storage, journal);
        return WithLossOf(heading, journal);
    }

    private static void RequireKnownSchema(ISurveyStorage storage, JournalRead journal)
    {
        if (journal.Entries is not [{ Payload: SurveyCreated made }, ..])
        {
            throw journal.Entries is [{ Payload: UnknownPayload { What: "created" } unknown }, ..] && SchemaOf(unknown) is { } stated && SurveySchema.VersionOf(stated) > SurveySchema.Version
                ? Newer(storage, stated)
                : new SurveyException(SurveyProblem.Damaged, $"The {JournalFile} of '{storage.Name}' does not begin with the making of a survey. Copy the whole folder again from where it came.");
        }

        var schema = journal.Entries.Select(entry => entry.Payload).OfType<SurveyUpgraded>().LastOrDefault()?.To ?? made.Schema;
        if (SurveySchema.VersionOf(schema) is not { } version)
            throw new SurveyException(SurveyProblem.NotASurvey, $"'{storage.Name}' is of the form '{schema}', which is no survey of this program.");
        if (version > SurveySchema.Version) throw Newer(storage, schema);
    }

    private static string? SchemaOf(UnknownPayload created)
    {
        try
        {
            return created.Data.ValueKind == System.Text.Json.JsonValueKind.Object && created.Data.TryGetProperty("schema", out var schema) ? schema.ToString() : null;
        }
        catch (InvalidOperationException)
        {
            // Half of a letter, as no text has it.
            return null;
        }
    }

    private static SurveyException Newer(ISurveyStorage storage, string schema) => new(
        SurveyProblem.NewerVersion,
        $"The survey '{storage.Name}' was made by a newer version of this program ({schema}; this one knows {SurveySchema.Name}). Get the newer version; nothing was changed.");

    // The document is written after the journal, never before: when it tells of more, lines are gone.
    private static JournalRead WithLossOf(SurveyHeading? heading, JournalRead journal)
    {
        if (heading?.Journal is not { } told || told.Entries <= (journal.Entries is [.., var last] ? last.Number : 0)) return journal;
        return journal with
        {
            Faults = journal.Faults.Add(FormattableString.Invariant(
                $"{DocumentFile} tells of {told.Entries} entries, the journal has {journal.Entries.Length}: its end was taken away.")),
        };
    }

    private static SurveyHeading? HeadingOf(ISurveyStorage storage)
    {
        if (storage.LengthOf(DocumentFile) is null) return null;
        using var stream = storage.OpenRead(DocumentFile);
        return SurveyText.ReadHeading(stream);
    }

    private static void RequireEmpty(ISurveyStorage storage)
    {
        var files = storage.Files("").Except(s_harmless, StringComparer.OrdinalIgnoreCase).ToList();
        if (files.Count == 0 && storage.Folders("").Count == 0) return;
        var what = files.Contains(JournalFile, StringComparer.Ordinal) ? "a survey already" : "something already";
        throw new SurveyException(SurveyProblem.AlreadyThere, $"In '{storage.Name}' there is {what}. Name a folder that is empty or not there yet.");
    }

    private bool IsDocumentCurrent()
    {
        var wanted = SurveyText.Write(SurveyDocument.Of(_state, _lastSum));
        if (_storage.LengthOf(DocumentFile) != wanted.Length) return false;
        using var stream = _storage.OpenRead(DocumentFile);
        var found = new byte[wanted.Length];
        return stream.ReadAtLeast(found, found.Length, throwOnEndOfStream: false) == found.Length && found.AsSpan().SequenceEqual(wanted);
    }

    // Layout 1 is the first. A later one adds its step here: change what must be changed, then say so in the journal.
    private void Upgrade()
    {
        if (SurveySchema.VersionOf(_state.Schema) is { } version && version < SurveySchema.Version)
            AppendAny(new SurveyUpgraded(_state.Schema, SurveySchema.Name), "", null);
    }

    private void ClearLeftovers()
    {
        foreach (var draft in (string[])[JournalFile + DraftEnding, DocumentFile + DraftEnding]) _storage.Delete(draft);
        IncomingFiles.Clear(_storage, _state);
        ClearDrafts("tables");
    }

    // Tables are computed: one that was being written is computed again.
    private void ClearDrafts(string folder)
    {
        foreach (var draft in _storage.Files(folder).Where(name => name.EndsWith(".unfinished", StringComparison.Ordinal))) _storage.Delete($"{folder}/{draft}");
        foreach (var inner in _storage.Folders(folder).Select(name => $"{folder}/{name}").Where(StoredPath.IsInside)) ClearDrafts(inner);
    }
}
